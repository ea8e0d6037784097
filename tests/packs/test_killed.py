"""A run that is killed at any moment leaves the old pack or the new one, never half of one."""

from __future__ import annotations

import hashlib
import json
import random
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

MOMENTS = 4  # the measurement with many more is `pytest -m bench`
ROOT = Path(__file__).resolve().parents[2]


def command(home: Path, out: Path) -> list[str]:
    return [sys.executable, "-m", "kitbuilder", "term", "1-3", "--home", str(home), "--out", str(out), "--replace"]


def is_whole(pack: Path) -> bool:
    """The manifest is there and every print file is the one it names."""
    manifest = json.loads((pack / "manifest.json").read_bytes())
    for file in manifest["files"]:
        if hashlib.sha256((pack / file["path"]).read_bytes()).hexdigest() != file["sha256"]:
            return False
    return all((pack / name).is_file() for name in ("prep-guide.pdf", "preview.html", "drawings.json.gz"))


def killed_at_moments(tmp_path: Path, moments: int, seed: int) -> None:
    home, out = tmp_path / "home", tmp_path / "out"
    shutil.copytree(ROOT / "units", home / "units")
    started = time.perf_counter()
    subprocess.run(command(home, out), check=True, cwd=ROOT, capture_output=True)
    whole_run = time.perf_counter() - started
    pack = out / "term-01-03"
    assert is_whole(pack)
    unit = home / "units" / "01-the-din.yaml"
    dice = random.Random(seed)
    for number in range(moments):
        unit.write_text(
            unit.read_text(encoding="utf-8") + f"# {number}\n", encoding="utf-8"
        )  # another digest each time
        run = subprocess.Popen(command(home, out), cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(dice.uniform(0.05, 1.1) * whole_run)
        run.kill()
        run.wait()
        assert [p.name for p in out.iterdir() if not p.name.startswith(".")] in ([], ["term-01-03"])
        assert not pack.exists() or is_whole(pack)
        moved_out = list(out.glob(".unfinished-old-*"))
        assert pack.exists() or is_whole(moved_out[0]), "the old pack is only away while its successor moves in"
    subprocess.run(command(home, out), check=True, cwd=ROOT, capture_output=True)
    assert [p.name for p in out.iterdir()] == ["term-01-03"], "what killed runs left is cleared by the next"
    assert is_whole(pack)


def test_a_killed_term_leaves_a_whole_pack(tmp_path: Path) -> None:
    killed_at_moments(tmp_path, MOMENTS, seed=3)


@pytest.mark.bench
def test_a_term_killed_at_fifty_moments(tmp_path: Path) -> None:
    killed_at_moments(tmp_path, 50, seed=11)
