"""Family folders made of one file to be tested and the little that has to be beside it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.load.definitions import load_home
from kitbuilder.model.home import Home

NAMED = ("press", "learners", "sequence", "box")
MakeHome = Callable[[dict[str, str | bytes]], Path]


@pytest.fixture
def make_home(tmp_path: Path) -> MakeHome:
    """Return a maker of folders: file names under `units` to their text; a sequence is added when there is none."""

    def make(files: dict[str, str | bytes]) -> Path:
        units = tmp_path / "home" / "units"
        units.mkdir(parents=True)
        for name, text in {"sequence.yaml": "title: Ours\n", **files}.items():
            (units / name).write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        return units.parent

    return make


@pytest.fixture
def load(make_home: MakeHome) -> Callable[[dict[str, str | bytes]], Home]:
    """Return a loader of folders made of the files given."""
    return lambda files: load_home(make_home(files))


@pytest.fixture
def problems(make_home: MakeHome) -> Callable[[dict[str, str | bytes]], str]:
    """Return a loader that gives what a parent would read, one problem after the other, or nothing."""

    def read(files: dict[str, str | bytes]) -> str:
        try:
            load_home(make_home(files))
        except ProblemsFound as found:
            return str(found) + "\n"
        return ""

    return read


@pytest.fixture
def as_home() -> Callable[[Path], dict[str, str | bytes]]:
    """Return a maker of the files of a folder in which one definition file stands: `press-x.yaml` as press.yaml."""

    def make(path: Path) -> dict[str, str | bytes]:
        stem = path.stem.split("-")[0]
        if stem in NAMED:
            return {f"{stem}.yaml": path.read_bytes(), "01-first.yaml": "unit: 1\n"}
        return {path.name: path.read_bytes()}

    return make
