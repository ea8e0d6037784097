"""The tables of a TrueType font file, read where they lie: character codes, widths, glyph boxes.

Source: OpenType specification 1.9 (ISO/IEC 14496-22), chapters head, hhea, hmtx, maxp, cmap, OS/2, loca, glyf.
"""

from __future__ import annotations

import struct
import sys
from array import array
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GlyphBoxes:
    """The bounding boxes of a font's glyphs, each read when asked for."""

    glyf: memoryview
    offsets: array[int]  # one more than there are glyphs

    def of(self, glyph: int) -> tuple[int, int, int, int] | None:
        """Return (left, bottom, right, top) in font units, y up, or None for a glyph without ink."""
        start, end = self.offsets[glyph : glyph + 2]
        if end <= start:
            return None
        box: tuple[int, int, int, int] = struct.unpack_from(">4h", self.glyf, start + 2)
        return box


class FontTables:
    """A font file as tables: bounds are checked by struct and memoryview, a bad file raises."""

    def __init__(self, data: bytes) -> None:
        self._data = memoryview(data)
        if data[:4] not in (b"\0\1\0\0", b"true"):
            raise ValueError("it does not start like one")
        (count,) = struct.unpack_from(">H", data, 4)
        self._tables: dict[str, tuple[int, int]] = {}
        for i in range(count):
            tag, _, start, length = struct.unpack_from(">4sLLL", data, 12 + 16 * i)
            self._tables[tag.decode("latin-1")] = (start, length)

    def table(self, tag: str) -> memoryview:
        if tag not in self._tables:
            raise ValueError(f"no table {tag!r}")
        start, length = self._tables[tag]
        return self._data[start : start + length]

    def read(self, tag: str, at: int, form: str) -> tuple[int, ...]:
        return struct.unpack_from(form, self.table(tag), at)

    def numbers(self, tag: str, at: int, count: int, kind: str = "H") -> array[int]:
        """Return `count` unsigned numbers; kind H is 16 bits, I is 32 bits."""
        numbers = array(kind)
        wanted = self.table(tag)[at : at + count * numbers.itemsize]
        numbers.frombytes(wanted.tobytes())
        if len(numbers) != count:
            raise ValueError(f"table {tag!r} is cut short")
        if sys.byteorder == "little":
            numbers.byteswap()
        return numbers

    def offsets(self, long_offsets: int) -> array[int]:
        glyphs = self.read("maxp", 4, ">H")[0]
        if long_offsets:
            return self.numbers("loca", 0, glyphs + 1, "I")
        return array("I", (2 * n for n in self.numbers("loca", 0, glyphs + 1)))


def character_map(sfnt: FontTables) -> dict[int, int]:
    """Return character code to glyph number from the widest Unicode subtable (format 12, else 4)."""
    cmap = sfnt.table("cmap")
    (count,) = struct.unpack_from(">H", cmap, 2)
    found: dict[int, int] = {}  # format to offset
    for i in range(count):
        platform, encoding, offset = struct.unpack_from(">HHL", cmap, 4 + 8 * i)
        if platform == 0 or (platform == 3 and encoding in (1, 10)):
            found[struct.unpack_from(">H", cmap, offset)[0]] = offset
    if 12 in found:
        glyphs = _segmented_coverage(cmap, found[12])
    elif 4 in found:
        glyphs = _segment_map(sfnt, found[4])
    else:
        raise ValueError("no Unicode character map")
    if 0x20 in glyphs:
        glyphs[0xA0] = glyphs[0x20]  # the PDF writer does the same: a no-break space is as wide as a space
    return glyphs


def _segmented_coverage(cmap: memoryview, offset: int) -> dict[int, int]:
    glyphs: dict[int, int] = {}
    (groups,) = struct.unpack_from(">L", cmap, offset + 12)
    for first, last, glyph in struct.iter_unpack(">LLL", cmap[offset + 16 : offset + 16 + 12 * groups]):
        if not first <= last <= 0x10FFFF or len(glyphs) > 0x10FFFF:
            raise ValueError("a broken character map")
        glyphs.update(zip(range(first, last + 1), range(glyph, glyph + last - first + 1), strict=True))
    return glyphs


def _segment_map(sfnt: FontTables, offset: int) -> dict[int, int]:
    size, _, doubled = sfnt.read("cmap", offset + 2, ">HHH")
    count = doubled // 2
    words = sfnt.numbers("cmap", offset, size // 2)
    ends, starts = words[7 : 7 + count], words[8 + count : 8 + 2 * count]
    deltas, ranges = words[8 + 2 * count : 8 + 3 * count], 8 + 3 * count
    glyphs: dict[int, int] = {}
    for i in range(count):
        for char in range(starts[i], min(ends[i], 0xFFFE) + 1):
            glyph = char
            if words[ranges + i]:
                at = ranges + i + words[ranges + i] // 2 + char - starts[i]
                glyph = words[at] if at < len(words) else 0
                if glyph == 0:
                    continue
            glyphs[char] = (glyph + deltas[i]) & 0xFFFF
    return glyphs
