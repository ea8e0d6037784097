"""How wide and how tall text is, read from the font file itself, in whole micrometres.

Only what layout needs is read, so that a run starts fast: 3 ms a font, where a general font library takes ten times
that. Text is set as the PDF writer sets it: one glyph a character, no kerning, no ligatures.
"""

from __future__ import annotations

import struct
import unicodedata
from array import array
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from kitbuilder.artwork.font_tables import FontTables, GlyphBoxes, character_map
from kitbuilder.artwork.fonts import FontProblem, font_file

_NO_EMBEDDING = 0x0002 | 0x0300  # OS/2 fsType: restricted licence, no subsetting, bitmaps only
_TALL, _DEEP = "bdfhkl", "gjpqy"


@dataclass(frozen=True, slots=True)
class Ink:
    """Where the ink of a line lies, in micrometres: x from its start, y from its baseline, y down (top is negative)."""

    left_um: int
    top_um: int
    right_um: int
    bottom_um: int


class Advances(dict[str, int]):
    """How far each character moves the pen, in font units, looked up in the font when first asked for."""

    def __init__(self, glyphs: Mapping[int, int], advances: array[int]) -> None:
        super().__init__()
        self._glyphs = glyphs  # character code to glyph number
        self._advances = advances  # by glyph number; the last one repeats

    def __missing__(self, char: str) -> int:
        glyph = self._glyphs.get(ord(char), 0)
        self[char] = found = self._advances[min(glyph, len(self._advances) - 1)]
        return found


@dataclass(frozen=True, slots=True)
class FontMetrics:
    """One font's measures. All heights are thousandths of the em, positive, measured from the baseline.

    `ascent` and `descent` are what the font asks for as line spacing (accents on capitals fit); `letter_ascent` and
    `letter_descent` reach as far as the letters b d f h k l and g j p q y; `x_height` and `cap_height` are the font's.
    """

    name: str
    path: Path
    units_per_em: int
    ascent: int
    descent: int
    cap_height: int
    x_height: int
    letter_ascent: int
    letter_descent: int
    _glyphs: Mapping[int, int] = field(repr=False)  # character code to glyph number
    _advances: Advances = field(repr=False)
    _boxes: GlyphBoxes = field(repr=False)

    def width_um(self, text: str, size_um: int) -> int:
        """Return how far the pen moves over `text` at an em of `size_um`; missing characters count as the empty box."""
        return self._to_um(sum(map(self._advances.__getitem__, text)), size_um)

    def ink_um(self, text: str, size_um: int) -> Ink | None:
        """Return where the ink of `text` lies, or None when there is none (spaces)."""
        pen, boxes = 0, []
        for char in text:
            box = self._boxes.of(self._glyphs.get(ord(char), 0))
            if box:
                boxes.append((box[0] + pen, box[1], box[2] + pen, box[3]))
            pen += self._advances[char]
        if not boxes:
            return None
        left, bottom, right, top = (f(b[i] for b in boxes) for i, f in enumerate((min, min, max, max)))
        return Ink(*(self._to_um(v, size_um) for v in (left, -top, right, -bottom)))

    def supports(self, char: str) -> bool:
        """Tell whether the font has a glyph for this one character."""
        return self._glyphs.get(ord(char), 0) != 0

    def missing(self, text: str) -> tuple[str, ...]:
        """Return the characters of `text` the font lacks, each once, in order of appearance."""
        return tuple(dict.fromkeys(c for c in text if not self.supports(c)))

    def ascent_um(self, size_um: int) -> int:
        return _share(self.ascent, size_um)

    def descent_um(self, size_um: int) -> int:
        return _share(self.descent, size_um)

    def cap_height_um(self, size_um: int) -> int:
        return _share(self.cap_height, size_um)

    def x_height_um(self, size_um: int) -> int:
        return _share(self.x_height, size_um)

    def letter_ascent_um(self, size_um: int) -> int:
        return _share(self.letter_ascent, size_um)

    def letter_descent_um(self, size_um: int) -> int:
        return _share(self.letter_descent, size_um)

    def _to_um(self, units: int, size_um: int) -> int:
        return (2 * units * size_um + self.units_per_em) // (2 * self.units_per_em)


def metrics(font_name: str, home_fonts: Path | None = None) -> FontMetrics:
    """Return the measures of the font `font_name`; each file is read once a run.

    Raises:
        FontProblem: when the font is missing, is not a usable TrueType file, or may not be embedded in a PDF.
    """
    return _read(font_file(font_name, home_fonts))


@lru_cache(maxsize=32)
def _read(path: Path) -> FontMetrics:
    try:
        return _metrics_of(path.stem.removesuffix("-Regular"), path, FontTables(path.read_bytes()))
    except (struct.error, IndexError, ValueError) as error:
        raise FontProblem(
            f"the font file {path.name} cannot be read as a TrueType font ({error})",
            "get the font again as a .ttf file, or take another font",
        ) from error


def _metrics_of(name: str, path: Path, sfnt: FontTables) -> FontMetrics:
    em: int = sfnt.read("head", 18, ">H")[0]
    long_offsets: int = sfnt.read("head", 50, ">h")[0]
    if not 16 <= em <= 16384:
        raise ValueError(f"{em} units an em")
    hhea_ascent, hhea_descent = sfnt.read("hhea", 4, ">hh")
    advances = sfnt.numbers("hmtx", 0, 2 * sfnt.read("hhea", 34, ">H")[0])[::2]
    if not advances:
        raise ValueError("no widths")
    version, rights = sfnt.read("OS/2", 0, ">H")[0], sfnt.read("OS/2", 8, ">H")[0]
    if rights & _NO_EMBEDDING:
        raise FontProblem(
            f"the maker of the font file {path.name} does not allow it inside a PDF",
            "take a font whose licence allows embedding, for example one under the SIL Open Font License",
        )
    glyphs = character_map(sfnt)
    boxes = GlyphBoxes(sfnt.table("glyf"), sfnt.offsets(long_offsets))
    tall = max((b[3] for b in map(boxes.of, _glyphs_of(_TALL, glyphs)) if b), default=hhea_ascent)
    deep = min((b[1] for b in map(boxes.of, _glyphs_of(_DEEP, glyphs)) if b), default=hhea_descent)
    x_height, cap_height = sfnt.read("OS/2", 86, ">hh") if version >= 2 else (0, 0)
    x_height = x_height or _top_of("x", glyphs, boxes, em // 2)
    cap_height = cap_height or _top_of("H", glyphs, boxes, em * 7 // 10)
    heights = (hhea_ascent, -hhea_descent, cap_height, x_height, tall, -deep)
    ascent, descent, caps, small, tall, deep = (_share(1000, h, em) for h in heights)
    return FontMetrics(
        name, path, em, ascent, descent, caps, small, tall, deep, glyphs, Advances(glyphs, advances), boxes
    )


def _glyphs_of(letters: str, glyphs: Mapping[int, int]) -> list[int]:
    return [glyphs.get(ord(c), 0) for c in letters]


def _top_of(letter: str, glyphs: Mapping[int, int], boxes: GlyphBoxes, otherwise: int) -> int:
    box = boxes.of(glyphs.get(ord(letter), 0))
    return box[3] if box else otherwise


def _share(part: int, whole: int, of: int = 1000) -> int:
    return (2 * part * whole + of) // (2 * of)


# First and last code of blocks whose letters join, move or stack when set properly (Unicode 15, Blocks.txt).
_SHAPED = ((0x0900, 0x0DFF), (0x0E00, 0x0FFF), (0x1000, 0x109F), (0x1100, 0x11FF), (0x1780, 0x18AF), (0x1A00, 0x1CDF))
_EMOJI = ((0x1F000, 0x1FAFF), (0xFE00, 0xFE0F), (0xE0000, 0xE01EF))
_FINE_SPACES = "\u00a0\u202f"


def unsupported(text: str) -> tuple[tuple[str, str], ...]:
    """Return (character, why) for what this programme cannot set in any font, each once, in order of appearance.

    Give it text in Unicode's composed form (NFC), else every accent typed apart is reported. What one font lacks is
    `FontMetrics.missing`. The second part completes the sentence "the character X cannot be printed: ".
    """
    reasons = ((c, _reason(c)) for c in dict.fromkeys(text))
    return tuple((c, why) for c, why in reasons if why)


def _reason(char: str) -> str:
    if (char.isascii() and char.isprintable()) or char in _FINE_SPACES:
        return ""
    code, category = ord(char), unicodedata.category(char)
    if char in "\n\r\u2028\u2029":
        return "it starts a new line, and this text is one line"
    if _within(code, _EMOJI) or char == "\u200d":
        return "it is a picture character; name it under 'picture:' instead"
    if category in ("Cc", "Cf", "Zl", "Zp"):
        return "it is invisible; type the word again by hand"
    if category in ("Co", "Cn", "Cs"):
        return "it is not a letter in any language; type it again"
    if unicodedata.bidirectional(char) in ("R", "AL", "AN"):
        return "it is read from right to left, which the pages do not do"
    if category in ("Mn", "Mc", "Me"):
        return "it is an accent typed apart from its letter; type the accented letter as one character"
    if _within(code, _SHAPED):
        return "letters of its script join or move, which the pages do not do"
    return ""


def _within(code: int, ranges: tuple[tuple[int, int], ...]) -> bool:
    return any(first <= code <= last for first, last in ranges)
