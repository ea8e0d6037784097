"""How fast pages are written, beside a typesetter and beside bare reportlab, on the same pages in the same minute.

Run `pip install -e .[bench]` and `pytest -m bench -s tests/bench/test_export_speed.py`. Every job is a process of its
own; the three take turns, and the best of their times counts, so that a busy minute disturbs them alike.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from pathlib import Path

import pytest

JOB = Path(__file__).parent / "export_job.py"
PAGES = 300
ROUNDS = 3


def measured(job: str, pages: int) -> dict[str, float]:
    start = time.perf_counter()
    command = [sys.executable, str(JOB), job, str(pages)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-500:]
    return json.loads(done.stdout) | {"process": time.perf_counter() - start}


@pytest.mark.bench
def test_pages_are_written_faster_than_a_typesetter_and_within_twice_bare_reportlab():
    runs: dict[str, list[dict[str, float]]] = {"ours": [], "bare": [], "typst": []}
    for _ in range(ROUNDS):
        for job, found in runs.items():
            found.append(measured(job, PAGES))
    best = {job: min(found, key=lambda f: f["seconds"]) for job, found in runs.items()}
    print()
    for job, one in best.items():
        ratio = one["seconds"] / best["ours"]["seconds"]
        print(
            f"{job:6} {PAGES / one['seconds']:6.0f} pages/s  {ratio:5.2f} x ours  {one['bytes'] / 1e6:5.1f} MB file"
            f"  peak {one['peak_mb']:4.0f} MB (before: {one['before_mb']:.0f})"
        )
    assert best["ours"]["seconds"] < best["typst"]["seconds"]
    assert best["ours"]["seconds"] < 2 * best["bare"]["seconds"]


@pytest.mark.bench
def test_a_year_of_pages_stays_small_in_memory():
    year = measured("stream", 2_800)
    print(f"\n2,800 pages, composed as they are asked for: {year['seconds']:.1f} s, peak {year['peak_mb']:.0f} MB")
    assert year["peak_mb"] < 150
