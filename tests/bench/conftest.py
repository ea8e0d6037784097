"""What the measurements share, found whatever the import mode."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest


@pytest.fixture(scope="session")
def bench_tools() -> SimpleNamespace:
    """Return the plain modules beside the tests: how to time a process, how to make a year."""
    folder = str(Path(__file__).parent)
    if folder not in sys.path:
        sys.path.insert(0, folder)
    return SimpleNamespace(**{name: importlib.import_module(name) for name in ("processor", "year_home")})
