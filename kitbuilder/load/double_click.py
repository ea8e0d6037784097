"""Files that start check, preview and this week's pack by a double click, on Windows, macOS and Linux.

Each opens a window, runs one command in the family folder and keeps the window open, so that what was said can be read.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

# file name, what it runs, what a parent reads first
ACTIONS = (
    ("1 Check the units", ("check",), "Looking for mistakes in the units ..."),
    ("2 Preview this week", ("preview", "--open"), "Drawing this week's sheets ..."),
    ("3 Make this week", ("week",), "Making this week's pack ..."),
)
_GONE = (
    "kitbuilder is not where it was when this folder was made. Make another folder with 'kitbuilder new' and copy its "
    "files 1, 2 and 3 over these, or use the commands."
)


@dataclass(frozen=True, slots=True)
class Starter:
    """A file to write: its name, its text, and whether it must be allowed to run."""

    name: str
    text: str
    runs: bool


def starters(system: str = os.name if os.name == "nt" else sys.platform) -> tuple[Starter, ...]:
    """Return the files for this system: `nt` (Windows), `darwin` (macOS), else a desktop that knows .desktop files."""
    make = {"nt": _windows, "darwin": _mac}.get(system, _linux)
    return tuple(make())


def write_starters(folder: Path, system: str | None = None) -> tuple[Path, ...]:
    """Write the files into a family folder and return their paths."""
    written = []
    for starter in starters(system) if system else starters():
        path = folder / starter.name
        ends = "\r\n" if starter.name.endswith(".bat") else "\n"
        path.write_bytes(starter.text.replace("\n", ends).encode("utf-8"))
        if starter.runs and os.name != "nt":
            path.chmod(0o755)
        written.append(path)
    return tuple(written)


def _windows() -> Iterator[Starter]:
    for name, words, says in ACTIONS:
        command = " ".join(words)
        text = f"""@echo off
chcp 65001 >nul
cd /d "%~dp0"
if not exist "{sys.executable}" (
  echo {_GONE}
  pause
  exit /b 1
)
echo {says}
"{sys.executable}" -m kitbuilder {command} --home .
if errorlevel 1 (echo. & echo Something has to be mended first: read the lines above.) else (echo. & echo Done.)
pause
"""
        yield Starter(f"{name}.bat", text, False)


def _script(words: tuple[str, ...], says: str) -> str:
    python = _quoted(sys.executable)
    return f"""#!/bin/sh
cd "$(dirname "$0")" || exit 1
if [ ! -x {python} ]; then
  echo {_quoted(_GONE)}
else
  echo {_quoted(says)}
  if {python} -m kitbuilder {" ".join(words)} --home .; then
    echo; echo "Done."
  else
    echo; echo "Something has to be mended first: read the lines above."
  fi
fi
echo "Press Enter to close this window."
read -r answer
"""


def _mac() -> Iterator[Starter]:
    for name, words, says in ACTIONS:
        yield Starter(f"{name}.command", _script(words, says), True)


def _linux() -> Iterator[Starter]:
    for name, words, says in ACTIONS:
        yield Starter(f"{name}.sh", _script(words, says), True)
        # %k is the path of the .desktop file itself; inside double quotes, \\" stands for " and \\$ for $
        # (Desktop Entry Specification 1.5, "The Exec key")
        script = rf'exec \\"\\$(dirname \\"\\$1\\")/{name}.sh\\"'
        entry = f"""[Desktop Entry]
Type=Application
Name={name}
Comment={says}
Terminal=true
Exec=sh -c "{script}" sh %k
"""
        yield Starter(f"{name}.desktop", entry, True)


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"
