"""Which files of a family's `units` folder are read, and as what."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from pathlib import Path

from kitbuilder.diagnostics import Location, ProblemLog

FOLDER = "units"
SEQUENCE, LEARNERS, PRESS, BOX = "sequence", "learners", "press", "box"
NAMED = (SEQUENCE, LEARNERS, PRESS, BOX)
SUFFIXES = (".yaml", ".yml")
_HIDDEN_SUFFIX = re.compile(r"\.ya?ml(\.(txt|rtf|docx?|html?|pdf))+$", re.IGNORECASE)


@dataclass(slots=True)
class UnitFiles:
    """Paths by what they hold; `units` in the order of their names."""

    named: dict[str, Path] = field(default_factory=dict)
    units: list[Path] = field(default_factory=list)


def shown_name(path: Path) -> str:
    """Return a file's name for messages: beside the folder, one spelling of accents on every machine."""
    return f"{FOLDER}/{unicodedata.normalize('NFC', path.name)}"


def has_sequence(root: Path) -> bool:
    """Say whether a folder is a family folder."""
    return any((root / FOLDER / f"{SEQUENCE}{suffix}").is_file() for suffix in SUFFIXES)


def unit_files(root: Path, log: ProblemLog) -> UnitFiles:
    """Return the files to read; what looks like one but will not be read is a problem."""
    files = UnitFiles()
    for path in _listed(root, log):
        stem, suffix = path.stem.casefold(), path.suffix.casefold()
        if path.name.startswith((".", "~")):
            continue  # what editors and file systems leave behind
        if _HIDDEN_SUFFIX.search(path.name):
            log.add(
                f"this file is not read: its name ends in {path.suffix}",
                "wrong-file-name",
                f"rename it to {_HIDDEN_SUFFIX.sub('.yaml', path.name)}; your computer may hide the last ending",
                Location(shown_name(path), 1, 1),
            )
        elif suffix not in SUFFIXES:
            continue
        elif stem not in NAMED:
            files.units.append(path)
        elif stem in files.named:
            other = files.named[stem].name
            place = Location(shown_name(path), 1, 1)
            log.add(f"there is a {other} too; one of them is expected", "two-files", "delete or rename one", place)
        else:
            files.named[stem] = path
    return files


def _listed(root: Path, log: ProblemLog) -> list[Path]:
    folder = root / FOLDER
    if not folder.is_dir():
        what = "there is no folder" if not root.is_dir() else f"there is no folder '{FOLDER}' in"
        log.add(f"{what} {root}", "missing-folder", "make one with: kitbuilder new FOLDER")
        return []
    try:
        return sorted(folder.iterdir(), key=lambda path: (path.name.casefold(), path.name))
    except OSError as error:
        reason = (error.strerror or "it is locked").lower()
        log.add(f"the folder {folder} cannot be read: {reason}", "unreadable-folder", "look at who may open it")
        return []
