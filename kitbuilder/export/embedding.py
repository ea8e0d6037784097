"""Fonts and bitmaps as a PDF holds them: a subset of the outlines that are used, pixels without transparency.

Characters are coded in UTF-16, so a drawing's bytes do not depend on what else is in the file, and the map that lets
text be copied out is the identity.
"""

from __future__ import annotations

import hashlib
import struct
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import Any

from reportlab.pdfbase.ttfonts import TTFError, TTFontFile

FIRST_SURROGATE = 0xD800  # CIDs 0xD800..0xDFFF stand for no character, so those above U+FFFF are numbered there
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
    encoding_map: bytes  # empty when character codes are the CIDs themselves
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
    cid_of = _numbered(codes)
    tag = _subset_tag(data, codes)
    return EmbeddedFont(
        name=f"{tag}+{face.name.decode('ascii')}",
        program=face.makeSubset(codes),
        glyph_of_cid=_glyph_map(face, cid_of),
        widths=_widths(face, cid_of),
        to_unicode=_to_unicode(codes),
        encoding_map=_utf16_map(cid_of) if codes[-1] > 0xFFFF else b"",
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


def _numbered(codes: list[int]) -> dict[int, int]:
    """Return character code -> CID, in CID order of the plain ones: a character's own number wherever it fits."""
    high = iter(range(FIRST_SURROGATE, FIRST_SURROGATE + 0x800))
    numbered = {c: c if c <= 0xFFFF else next(high) for c in codes}
    return dict(sorted(numbered.items(), key=lambda pair: pair[1]))


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
        width = f"{face.charWidths[code]:.3f}".rstrip("0").rstrip(".")
        parts.append(f" {width}" if cid == last + 1 else f"{']' if parts else ''} {cid} [{width}")
        last = cid
    return "[" + "".join(parts) + "]]"


def _to_unicode(codes: list[int]) -> bytes:
    pairs = [f"<{chr(c).encode('utf-16-be').hex()}> <{chr(c).encode('utf-16-be').hex()}>" for c in codes]
    return _cmap("Identity-UTF16", 2, _blocks("bfchar", pairs), wide=codes[-1] > 0xFFFF)


def _utf16_map(cid_of: dict[int, int]) -> bytes:
    pairs = [f"<{chr(code).encode('utf-16-be').hex()}> {cid}" for code, cid in sorted(cid_of.items())]
    return _cmap("UTF16", 1, _blocks("cidchar", pairs), wide=True)


def _blocks(operator: str, pairs: list[str]) -> Iterable[str]:
    for start in range(0, len(pairs), BLOCK):
        block = pairs[start : start + BLOCK]
        yield f"{len(block)} begin{operator}\n" + "\n".join(block) + f"\nend{operator}"


def _cmap(name: str, kind: int, blocks: Iterable[str], *, wide: bool) -> bytes:
    spaces = ["<0000> <d7ff>", "<d800dc00> <dbffdfff>", "<e000> <ffff>"] if wide else ["<0000> <ffff>"]
    lines = [
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> def",
        f"/CMapName /{name} def /CMapType {kind} def",
        f"{len(spaces)} begincodespacerange",
        *spaces,
        "endcodespacerange",
        *blocks,
        "endcmap CMapName currentdict /CMap defineresource pop end end",
    ]
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
    except (OSError, SyntaxError, KeyError) as error:  # Pillow raises SyntaxError for a broken PNG
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
