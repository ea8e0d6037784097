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
