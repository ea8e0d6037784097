"""Build-time only: the picture outlines, taken from a font file. Never imported at run time.

    python -m kitbuilder.artwork.build_pictures NotoEmoji-Regular.ttf fonts/pictures

reads `names.txt` in the folder and writes `outlines.txt.gz` beside it: one line a code point sequence, in the order of
`names.txt`, as `CODES TAB WIDTH TAB HEIGHT TAB OUTLINE`. The outline is TrueType's own, without loss: m (move),
l (line), q (quadratic curve) and z (close) in whole font units, y down, each point relative to the one before it, the
first to the upper left corner of the picture's own box. A q has one or more control points and an end; between two
controls lies, as in TrueType, a point of the curve in their middle. Filled by the nonzero rule.
The same font and names give the same bytes.
"""

from __future__ import annotations

import gzip
import io
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from fontTools.misc.bezierTools import calcQuadraticBounds
from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

# Absolute commands with y up: ("m", end), ("l", end), ("q", control, ..., control, end), ("z",)
Step = tuple[Any, ...]
_LETTERS = {"moveTo": "m", "lineTo": "l", "qCurveTo": "q", "closePath": "z"}


def build(font_path: Path, names: Iterable[str]) -> bytes:
    """Return the bytes of the outlines file for the lines of a names file.

    Raises:
        KeyError: when the font lacks a picture.
    """
    font = TTFont(font_path)
    glyph_set, cmap, ligatures = font.getGlyphSet(), font.getBestCmap(), _ligatures(font)
    lines = []
    for codes in (line.split("\t")[1].strip() for line in names if line.strip() and not line.startswith("#")):
        glyphs = tuple(cmap[int(code, 16)] for code in codes.split())
        glyph = glyphs[0] if len(glyphs) == 1 else ligatures[glyphs]
        pen = DecomposingRecordingPen(glyph_set)
        glyph_set[glyph].draw(pen)
        lines.append("\t".join((codes, *_written(tuple(_steps(pen.value))))))
    packed = io.BytesIO()
    with gzip.GzipFile(filename="", mode="wb", compresslevel=9, fileobj=packed, mtime=0) as file:
        file.write(("\n".join(lines) + "\n").encode("ascii"))
    return packed.getvalue()


def _ligatures(font: Any) -> dict[tuple[str, ...], str]:
    """Return glyph sequence to the one glyph that stands for it."""
    found: dict[tuple[str, ...], str] = {}
    for lookup in font["GSUB"].table.LookupList.Lookup:
        for table in lookup.SubTable:
            table = getattr(table, "ExtSubTable", table)
            for first, ligatures in getattr(table, "ligatures", {}).items():
                for ligature in ligatures:
                    found.setdefault((first, *ligature.Component), ligature.LigGlyph)
    return found


def _steps(recorded: Iterable[tuple[str, tuple[Any, ...]]]) -> Iterator[Step]:
    for command, points in recorded:
        if command == "qCurveTo" and points[-1] is None:
            raise ValueError("a contour without any point on it has no beginning")
        if command == "endPath" or command not in _LETTERS:
            raise ValueError(f"{command} is not a TrueType outline command")
        yield (_LETTERS[command], *((round(x), round(y)) for x, y in points))


def _written(steps: tuple[Step, ...]) -> tuple[str, str, str]:
    """Return width, height and relative path data, moved to the outline's own box and turned y down."""
    left, bottom, right, top = _box(steps)
    words, here, start = [], (0, 0), (0, 0)
    for letter, *points in steps:
        moves = []
        for x, y in ((x - left, top - y) for x, y in points):
            moves.append(f"{x - here[0]} {y - here[1]}")
            here = (x, y)
        words.append(letter + " ".join(moves))
        if letter == "m":
            start = here
        elif letter == "z":
            here = start
    return str(right - left), str(top - bottom), "".join(words).replace(" -", "-")


def _box(steps: tuple[Step, ...]) -> tuple[int, int, int, int]:
    """Return left, bottom, right, top of the ink, rounded outwards."""
    xs: list[float] = []
    ys: list[float] = []
    here = (0, 0)
    for letter, *points in steps:
        for control, end in decomposeQuadraticSegment(points) if letter == "q" else ():
            left, bottom, right, top = calcQuadraticBounds(here, control, end)
            xs += (left, right)
            ys += (bottom, top)
            here = end
        if letter in "ml":
            here = points[0]
            xs.append(here[0])
            ys.append(here[1])
    return (int(min(xs) // 1), int(min(ys) // 1), -int(-max(xs) // 1), -int(-max(ys) // 1))


if __name__ == "__main__":
    font_file, folder = Path(sys.argv[1]), Path(sys.argv[2])
    names = (folder / "names.txt").read_text(encoding="utf-8").splitlines()
    (folder / "outlines.txt.gz").write_bytes(build(font_file, names))
