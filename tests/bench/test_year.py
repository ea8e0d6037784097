"""A year for three children in one process: `pytest -m bench -s tests/bench/test_year.py` (needs the `bench` extra).

36 units, the starter's kinds with handwriting, sound boxes and dictation, three forms of each practice page. Printed:
processor seconds and peak memory by stage; the same pages written by kitbuilder, by bare reportlab from the same
drawing operators, and by a typesetter, in the same minute; the reprint of one card out of the year's pack.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

JOB = Path(__file__).parent / "year_job.py"


def job(*words: str) -> dict[str, Any]:
    done = subprocess.run([sys.executable, str(JOB), *words], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-800:]
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def year(bench_tools: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("year") / "home"
    return bench_tools.year_home.write_year(home, forms=3, more=bench_tools.year_home.MORE)


@pytest.fixture(scope="module")
def pack(year: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return job("run", str(year), str(tmp_path_factory.mktemp("packs")))


@pytest.mark.bench
def test_a_year_by_stages(pack: dict[str, Any]) -> None:
    print(f"\n{pack['pages']:,} pages, {pack['sheets']:,} sheets, {pack['pieces']:,} pieces")
    for stage, seconds in pack["seconds"].items():
        print(f"{stage:18} {seconds:6.2f} s   peak {pack['peak_mb'][stage]:4.0f} MB")
    print(f"{'in all':18} {sum(pack['seconds'].values()):6.2f} s")
    assert pack["pages"] > 2_500
    assert max(pack["peak_mb"].values()) < 150  # the goal


@pytest.mark.bench
def test_a_years_pages_are_written_faster_than_a_typesetter_and_within_twice_bare_reportlab(year: Path) -> None:
    found = job("beside", str(year))
    print()
    for name in ("ours", "bare", "typst"):
        one = found[name]
        print(
            f"{name:6} {one['clock']:6.2f} s  {one['processor']:6.2f} s of the processor"
            f"  {one['clock'] / found['ours']['clock']:5.2f} x ours  {one['bytes'] / 1e6:5.1f} MB"
        )
    assert found["ours"]["processor"] < found["typst"]["processor"]
    assert found["ours"]["processor"] < 2 * found["bare"]["processor"]


@pytest.mark.bench
def test_a_card_of_the_year_is_printed_again_quickly(pack: dict[str, Any], bench_tools: Any, tmp_path: Path) -> None:
    rows = json.loads((Path(pack["folder"]) / "manifest.json").read_bytes())["pieces"]
    card = next(row["id"] for row in reversed(rows) if row["kind"] == "letter-card" and row["role"] == "piece")
    command = ["-m", "kitbuilder", "reprint", pack["folder"], card, "--out", str(tmp_path), "--replace"]
    seconds = bench_tools.processor.seconds(command, tmp_path, 3)
    counting = bench_tools.processor.seconds(["-c", bench_tools.processor.COUNTING], tmp_path, 3)
    print(f"\none card again: {seconds:.2f} s, {seconds / counting:.1f} x counting ({counting:.2f} s)")
    assert seconds < 10 * counting
