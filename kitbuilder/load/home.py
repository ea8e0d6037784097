"""Which folder a command works in."""

from __future__ import annotations

from pathlib import Path

from kitbuilder.artwork.shipped import shipped
from kitbuilder.diagnostics import stop
from kitbuilder.load.unit_files import FOLDER, SEQUENCE, SUFFIXES, has_sequence


def find_home(start: Path, home: Path | None) -> Path:
    """Return `home`, else the nearest folder from `start` upwards with units/sequence.yaml, else the starter.

    Raises:
        ProblemsFound: when `home` is no family folder, or when `start` holds units but no sequence: then the starter
            would be a surprise.
    """
    if home is not None:
        return _checked(home)
    for folder in (start, *start.resolve().parents):
        if has_sequence(folder):
            return folder
    if _holds_units(start):
        return _checked(start)
    return shipped(FOLDER).parent


def _checked(folder: Path) -> Path:
    if not folder.is_dir():
        raise stop(f"there is no folder {folder}", "missing-folder", "make one with: kitbuilder new FOLDER")
    if not has_sequence(folder):
        hint = "write that file with one line, such as title: Our year, or start with: kitbuilder new FOLDER"
        raise stop(f"{folder} holds no {FOLDER}/{SEQUENCE}.yaml", "missing-sequence", hint)
    return folder


def _holds_units(folder: Path) -> bool:
    units = folder / FOLDER
    return units.is_dir() and any(path.suffix.lower() in SUFFIXES for path in units.iterdir())
