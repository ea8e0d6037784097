"""Font names to font files: the family's own first, then the shipped ones."""

from __future__ import annotations

import re
from collections.abc import Callable
from difflib import get_close_matches
from pathlib import Path

from kitbuilder.artwork.shipped import shipped

DEFAULT_FONT = "Andika"
BOLD_FONT = "Andika-Bold"
SUFFIX = ".ttf"  # the PDF writer embeds TrueType outlines only
_NAME = re.compile(r"[^\W_][\w .+-]{0,79}")  # no separators: a name never leaves the fonts folders


class FontProblem(Exception):
    """A font the user asked for cannot be used. `message` says what was found, `hint` what to do."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


def font_file(name: str, home_fonts: Path | None = None) -> Path:
    """Return the file of the font `name`: `NAME.ttf` or `NAME-Regular.ttf`, capitals and spaces not counting.

    `home_fonts` is the family's fonts folder; it need not exist, and it comes before the shipped fonts.

    Raises:
        FontProblem: when there is no such font, or only in a format that cannot be embedded.
    """
    wanted = _key(name)
    folders = [f for f in (home_fonts, shipped("fonts")) if f is not None and f.is_dir()]
    if _NAME.fullmatch(name.strip()):
        for folder in folders:
            files = _files(folder)
            for key in (wanted, wanted + "-regular"):
                if key in files:
                    return files[key]
    raise _missing(name, wanted, folders)


def font_names(home_fonts: Path | None = None) -> tuple[str, ...]:
    """Return the names that `font_file` finds, in alphabetical order."""
    folders = [f for f in (home_fonts, shipped("fonts")) if f is not None and f.is_dir()]
    return tuple(sorted({p.stem.removesuffix("-Regular") for folder in folders for p in _files(folder).values()}))


def fonts_in(folder: Path) -> Callable[[str], Path]:
    """Return the finder of font files that looks into the folder first."""
    return lambda name: font_file(name, folder)


def _files(folder: Path) -> dict[str, Path]:
    found = (p for p in sorted(folder.iterdir()) if p.suffix.lower() == SUFFIX)
    return {_key(p.stem): p for p in found}


def _key(name: str) -> str:
    return name.strip().lower().replace(" ", "-").removesuffix(SUFFIX)


def _missing(name: str, wanted: str, folders: list[Path]) -> FontProblem:
    for folder in folders:
        for other in sorted(folder.iterdir()):
            if other.suffix.lower() in (".otf", ".woff", ".woff2", ".ttc") and _key(other.stem) == wanted:
                return FontProblem(
                    f"the font {name!r} is a {other.suffix} file, which cannot go into the print files",
                    "get the same font as a .ttf file (TrueType) and put that into the fonts folder",
                )
    names = sorted({p.stem.removesuffix("-Regular") for folder in folders for p in _files(folder).values()})
    near = get_close_matches(wanted, [_key(n) for n in names], n=1, cutoff=0.6)
    near_name = next((n for n in names if near and _key(n) == near[0]), None)
    meant = f"did you mean {near_name!r}? " if near_name else ""
    return FontProblem(
        f"there is no font called {name!r}",
        f"{meant}there are: {', '.join(names)}; for another one put NAME.ttf into the fonts folder of your plan",
    )
