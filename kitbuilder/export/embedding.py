"""Fonts and bitmaps as a PDF holds them: a subset of the outlines that are used, pixels without transparency.

Character codes come from the characters alone (`operators.character_code`), so a drawing's bytes do not depend on what
else is in the file; codes, CIDs and the map that lets text be copied out are nearly the identity.
"""

from __future__ import annotations

import hashlib
import struct
import zlib
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import Any

from reportlab.pdfbase.ttfonts import TTFError, TTFontFile

from kitbuilder.export.operators import character_code

BLOCK = 100  # the most entries a CMap block may hold, Adobe Technical Note 5014
MOST_PIXELS = 60_000_000  # an A4 sheet at 720 dots an inch; more is a slip of the hand or an attack


@dataclass(frozen=True, slots=True)
class EmbeddedFont:
    """What a composite font (ISO 32000-2, 9.7) needs. Measures are thousandths of the em."""

    name: str  # with the subset's six letters
    program: bytes
    glyph_of_cid: bytes
    widths: str
    to_unicode: bytes
    box: tuple[float, ...]
    ascent: float
    descent: float
    cap_height: float
    italic_angle: float
    stem: int


@dataclass(frozen=True, slots=True)
class PackedBitmap:
    """Pixels ready for an image object. `filter` says how `data` is packed; `colours` is DeviceGray or DeviceRGB."""

    width: int
    height: int
    colours: str
    filter: str
    data: bytes


def embedded_font(name: str, data: bytes, characters: frozenset[str]) -> EmbeddedFont:
    """Return the font cut down to `characters`.

    Raises:
        ValueError: when the file is no TrueType font that may be embedded, or lacks one of the characters.
    """
    face = _face(name, data)
    codes = sorted(map(ord, characters))
    missing = [c for c in codes if not face.charToGlyph.get(c)]
    if missing:
        shown = ", ".join(f"{chr(c)!r} (U+{c:04X})" for c in missing[:10])
        raise ValueError(f"the font {name!r} has no letter shape for {shown}")
    cid_of = _numbered(name, codes)
    tag = _subset_tag(data, codes)
    return EmbeddedFont(
        name=f"{tag}+{face.name.decode('ascii')}",
        program=face.makeSubset(codes),
        glyph_of_cid=_glyph_map(face, cid_of),
        widths=_widths(face, cid_of),
        to_unicode=_to_unicode(cid_of),
        box=tuple(round(float(v), 3) for v in face.bbox),
        ascent=round(float(face.ascent), 3),
        descent=round(float(face.descent), 3),
        cap_height=round(float(face.capHeight), 3),
        italic_angle=face.italicAngle,
        stem=face.stemV,
    )


@lru_cache(maxsize=8)
def _face(name: str, data: bytes) -> Any:
    try:
        return TTFontFile(BytesIO(data))
    except (TTFError, struct.error, KeyError, IndexError) as error:
        raise ValueError(f"the font {name!r} cannot be embedded: {error}") from error


def _subset_tag(data: bytes, codes: list[int]) -> str:
    """Return six capitals that differ for different subsets, as ISO 32000-2, 9.9.2 asks."""
    number = int.from_bytes(hashlib.sha256(hashlib.sha256(data).digest() + repr(codes).encode()).digest()[:8], "big")
    letters = ""
    for _ in range(6):
        number, letter = divmod(number, 26)
        letters += chr(ord("A") + letter)
    return letters


def _numbered(name: str, codes: list[int]) -> dict[int, int]:
    """Return character number -> CID, in CID order."""
    cid_of = {number: character_code(chr(number)) for number in codes}
    if len(set(cid_of.values())) < len(cid_of):
        raise ValueError(f"two rare characters cannot be in one file with the font {name!r}: make two packs")
    return dict(sorted(cid_of.items(), key=lambda pair: pair[1]))


def _glyph_map(face: Any, cid_of: dict[int, int]) -> bytes:
    """Return two bytes a CID: the glyph's number in the subset, which counts glyphs in order of first use."""
    new_number = {0: 0}
    for code in sorted(cid_of):
        new_number.setdefault(face.charToGlyph[code], len(new_number))
    table = bytearray(2 * (max(cid_of.values()) + 1))
    for code, cid in cid_of.items():
        struct.pack_into(">H", table, 2 * cid, new_number[face.charToGlyph[code]])
    return bytes(table)


def _widths(face: Any, cid_of: dict[int, int]) -> str:
    parts: list[str] = []
    last = -2
    for code, cid in cid_of.items():
        width = round(face.charWidths[code])  # pdfium cuts fractions off; whole numbers look the same everywhere
        parts.append(f" {width}" if cid == last + 1 else f"{']' if parts else ''} {cid} [{width}")
        last = cid
    return "[" + "".join(parts) + "]]"


def _to_unicode(cid_of: dict[int, int]) -> bytes:
    """Return the CMap from codes to UTF-16 text (ISO 32000-2, 9.10.3), in blocks of at most a hundred."""
    pairs = [f"<{cid:04x}> <{chr(number).encode('utf-16-be').hex()}>" for number, cid in cid_of.items()]
    lines = [
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def",
        "1 begincodespacerange\n<0000> <ffff>\nendcodespacerange",
    ]
    for start in range(0, len(pairs), BLOCK):
        block = pairs[start : start + BLOCK]
        lines += [f"{len(block)} beginbfchar", *block, "endbfchar"]
    lines.append("endcmap CMapName currentdict /CMap defineresource pop end end")
    return "\n".join(lines).encode("ascii")


def packed_bitmap(data: bytes, format_name: str) -> PackedBitmap:
    """Return the pixels of a PNG or JPEG, laid on white paper where they were see-through.

    Raises:
        ValueError: when the file is no picture of that format, is damaged, or has too many pixels.
    """
    from PIL import Image  # only a family's own bitmaps need it, and it costs 30 ms at start

    try:
        with Image.open(BytesIO(data), formats=[format_name.upper()]) as image:
            if image.width * image.height > MOST_PIXELS:
                raise ValueError(f"a picture of {image.width} x {image.height} dots is too large")
            if image.format == "JPEG" and image.mode in ("L", "RGB"):
                colours = "DeviceGray" if image.mode == "L" else "DeviceRGB"
                image.load()  # finds damage now and not at the printer
                return PackedBitmap(image.width, image.height, colours, "DCTDecode", data)
            plain = _on_white(image)
    except (
        OSError,
        SyntaxError,
        KeyError,
        Image.DecompressionBombError,
    ) as error:  # Pillow raises SyntaxError for a broken PNG
        raise ValueError(f"this {format_name} picture cannot be read: {error}") from error
    colours = "DeviceGray" if plain.mode == "L" else "DeviceRGB"
    return PackedBitmap(plain.width, plain.height, colours, "FlateDecode", zlib.compress(plain.tobytes()))


def _on_white(image: Any) -> Any:
    from PIL import Image  # see packed_bitmap

    if image.mode.startswith("I"):  # 16 bits a dot: a plain conversion would cut everything above 255 to white
        return image.convert("I").point(lambda dot: dot / 256).convert("L")
    if "A" in image.getbands() or "transparency" in image.info:
        seen = image.convert("RGBA")
        paper = Image.new("RGBA", seen.size, "white")
        return Image.alpha_composite(paper, seen).convert("L" if image.mode == "LA" else "RGB")
    return image.convert("L" if image.mode in ("1", "L") else "RGB")
