"""Fixtures for every room's tests."""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable
from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def judge_pack() -> Callable[[Path], list[str]]:
    """Return the judge for whole packs: a folder to findings, one sentence each; no finding means nothing wrong."""
    folder = str(Path(__file__).parent / "judge")
    if folder not in sys.path:
        sys.path.insert(0, folder)  # its modules are plain ones beside one another, not test modules
    judge: Callable[[Path], list[str]] = importlib.import_module("judge").judge_pack
    return judge


UNIT_1 = """unit: 1
title: Tide pools
teach:
  - n as in nose
  - o as in otter
  - d as in door
  - i as in fish
shapes: [VC, CVC]
irregular: [the]
names: [Odd]
words: [nod, din, in, on, did]
sentences:
  - Odd did nod.
  - The din is on.
booklets:
  - title: Nod
    pages:
      - text: Odd did nod.
        picture: otter
      - On!
      - text: In!
        picture: door
      - Nod, Odd.
      - Did Odd nod?
      - Odd did.
copywork: [Odd did nod.]
"""
PRESS = """paper: {paper}
printer:
  two-sided: {sides}
"""


@pytest.fixture
def family(tmp_path: Path) -> Callable[..., Path]:
    """Return a function that makes a folder with one unit, or with the files given by name."""

    def make(paper: str = "a4", sides: str = "long", **files: str) -> Path:
        root = tmp_path / "family"
        units = root / "units"
        units.mkdir(parents=True, exist_ok=True)
        (units / "sequence.yaml").write_text("title: Test\nseed: 7\n", encoding="utf-8")
        (units / "01.yaml").write_text(UNIT_1.replace("is on", "did nod"), encoding="utf-8")
        (units / "press.yaml").write_text(PRESS.format(paper=paper, sides=sides), encoding="utf-8")
        for name, text in files.items():
            (units / f"{name}.yaml").write_text(text, encoding="utf-8")
        return root

    return make
