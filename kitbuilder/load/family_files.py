"""The family's pictures, and the digest of everything a pack was made from."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from kitbuilder.artwork.bitmaps import bitmap_info
from kitbuilder.artwork.pictures import PictureOutline, PictureProblem
from kitbuilder.artwork.svg_pictures import outline_from_svg
from kitbuilder.diagnostics import Location, ProblemLog

LARGEST_PICTURE = 20_000_000  # bytes; a phone's photo has 3 to 8 million
_DEFINING = ("units", "templates", "pictures", "fonts")


@dataclass(frozen=True, slots=True)
class FamilyPicture:
    """A PNG or JPEG as it lies in pictures/: its bytes, and their SHA-256."""

    data: bytes
    digest: str
    format: str
    width_px: int
    height_px: int


def load_pictures(home: Path, log: ProblemLog) -> Mapping[str, PictureOutline | FamilyPicture]:
    """Return the pictures of the family's pictures/ folder by name, without ending and in small letters."""
    folder = home / "pictures"
    found: dict[str, PictureOutline | FamilyPicture] = {}
    if not folder.is_dir():
        return found
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() not in (".png", ".jpg", ".jpeg", ".svg") or path.name.startswith("."):
            continue
        place = Location(f"pictures/{path.name}", 1, 1)
        try:
            if path.stat().st_size > LARGEST_PICTURE:
                raise PictureProblem("this picture is larger than 20 MB", "save it smaller, about 1500 pixels wide")
            found[path.stem.lower()] = _picture(path)
        except PictureProblem as problem:
            log.add(problem.message, "bad-picture", problem.hint, place)
        except OSError as error:
            log.add(f"this picture cannot be read: {error.strerror}", "bad-picture", "is it open elsewhere?", place)
    return found


def _picture(path: Path) -> PictureOutline | FamilyPicture:
    data = path.read_bytes()
    if path.suffix.lower() == ".svg":
        try:
            return outline_from_svg(data.decode("utf-8-sig"), path.stem)
        except UnicodeDecodeError:
            raise PictureProblem("this SVG file is not UTF-8 text", "save it again as plain SVG") from None
    kind, width, height = bitmap_info(data)
    return FamilyPicture(data, hashlib.sha256(data).hexdigest(), kind, width, height)


def definitions_digest(home: Path) -> str:
    """Return the SHA-256 of all files a pack is made from: names and contents, in the order of their names."""
    digest = hashlib.sha256()
    for folder in _DEFINING:
        root = home / folder
        if not root.is_dir():
            continue
        for path in sorted(p for p in root.rglob("*") if p.is_file() and not p.name.startswith(".")):
            digest.update(path.relative_to(home).as_posix().encode() + b"\0")
            digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()
