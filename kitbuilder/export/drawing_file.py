"""A pack's drawings and the fonts they use, written where a reprint will look for them.

`fonts/NAME.ttf` carries the name that frames use, so that `font_file(NAME, pack / "fonts")` finds it again. The
texts of a font's licence go with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from kitbuilder.artwork.drawings import FlatDrawing, encode_drawings, fonts_of

DRAWINGS = "drawings.json.gz"
FONTS = "fonts"


def write_drawings(
    folder: Path, flats: Mapping[str, FlatDrawing], bitmaps: Mapping[str, bytes], fonts: Mapping[str, Path]
) -> None:
    """Write `drawings.json.gz` and `fonts/` into the pack; `fonts` maps names in frames to files and may hold more.

    Raises:
        KeyError: when a frame uses a font that is not there.
        OSError: when the folder cannot be written.
    """
    (folder / DRAWINGS).write_bytes(encode_drawings(flats, bitmaps))
    used = sorted({name for pair in flats.values() for frame in pair if frame is not None for name in fonts_of(frame)})
    (folder / FONTS).mkdir(exist_ok=True)
    for name in used:
        source = fonts[name]
        (folder / FONTS / f"{name}.ttf").write_bytes(source.read_bytes())
        for licence in _licences(source):
            (folder / FONTS / licence.name).write_bytes(licence.read_bytes())


def _licences(font: Path) -> list[Path]:
    """Return the licence texts beside a font: those that start with its family name, or with no family's."""
    family = font.stem.split("-")[0].lower()
    texts = (p for p in sorted(font.parent.iterdir()) if p.suffix.lower() in (".txt", ".md", ".html"))
    found = []
    for text in texts:
        name = text.stem.lower()
        if name.startswith(("ofl", "licen", "copying")) or (
            name.startswith(family) and ("ofl" in name or "licen" in name)
        ):
            found.append(text)
    return found
