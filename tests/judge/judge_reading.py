"""What lies on a printed page, as a reader sees it: words with their places, lines, settings. Micrometres, y down.

Words come from pdfium's text objects, document facts from pypdf. Nothing here knows how the pages were made.
"""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pypdf
import pypdfium2
import pypdfium2.raw as raw

UM = 25_400 / 72


@dataclass(frozen=True)
class Word:
    """A string drawn in one go, the box of its ink, and how often its writing was turned counter-clockwise."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    turns: int


@dataclass(frozen=True)
class PageSeen:
    width: float
    height: float
    words: tuple[Word, ...]
    strokes: tuple[float, ...]  # lengths of straight stretches of paths; only read where a page speaks of 100 mm


@dataclass(frozen=True)
class Facts:
    """What a document says of itself. Names come without their slash."""

    boxes: tuple[dict[str, tuple[float, ...]], ...]  # per page: box name -> corners in points
    preferences: dict[str, Any]
    title: str
    language: str
    fonts: dict[str, bool]  # name -> embedded
    letters: tuple[str, ...]  # per page, what pypdf copies out, without spaces


def plain(text: str) -> str:
    """Return the text as it is compared: pdfium marks a hyphen at a line's end with U+0002; runs of spaces are one."""
    return " ".join(text.replace("\x02", "-").replace("\ufffe", "-").split())


def pages_seen(path: Path) -> tuple[PageSeen, ...]:
    document = pypdfium2.PdfDocument(path)
    try:
        return tuple(_page(page) for page in document)
    finally:
        document.close()


def _page(page: Any) -> PageSeen:
    height = page.get_height() * UM
    textpage = page.get_textpage()
    words = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT]):
        text = plain(_text(item, textpage))
        if text:
            left, bottom, right, top = (v * UM for v in item.get_bounds())
            matrix = item.get_matrix()
            turns = round(math.atan2(matrix.b, matrix.a) / (math.pi / 2)) % 4
            words.append(Word(text, left, height - top, right, height - bottom, turns))
    ruled = any("100 mm" in w.text for w in words)
    strokes = tuple(_strokes(page)) if ruled else ()
    return PageSeen(page.get_width() * UM, height, tuple(words), strokes)


def _text(item: Any, textpage: Any) -> str:
    size = raw.FPDFTextObj_GetText(item, textpage, None, 0)
    buffer = ctypes.create_string_buffer(size)
    raw.FPDFTextObj_GetText(item, textpage, ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), size)
    return buffer.raw.decode("utf-16-le", "replace").rstrip("\0")


def _strokes(page: Any) -> Iterator[float]:
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        m = item.get_matrix()
        last = None
        for index in range(raw.FPDFPath_CountSegments(item)):
            segment = raw.FPDFPath_GetPathSegment(item, index)
            x, y = ctypes.c_float(), ctypes.c_float()
            raw.FPDFPathSegment_GetPoint(segment, x, y)
            here = (m.a * x.value + m.c * y.value + m.e, m.b * x.value + m.d * y.value + m.f)
            if last is not None and raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_LINETO:
                yield math.dist(last, here) * UM
            last = here


def facts(path: Path) -> Facts:
    document = pypdf.PdfReader(path)
    root: Any = document.trailer["/Root"]
    preferences = root.get("/ViewerPreferences", {})
    boxes, letters = [], []
    fonts: dict[str, bool] = {}
    for page in document.pages:
        boxes.append(
            {name: tuple(float(v) for v in page[f"/{name}"]) for name in ("MediaBox", "TrimBox") if f"/{name}" in page}
        )
        letters.append("".join(page.extract_text().split()))
        for font in page.get("/Resources", {}).get("/Font", {}).values():
            fonts |= _embedded(font.get_object())
    title = document.metadata.title if document.metadata else None
    return Facts(
        tuple(boxes),
        {str(key).lstrip("/"): _value(preferences[key]) for key in preferences},
        title or "",
        str(root.get("/Lang", "")),
        fonts,
        tuple(letters),
    )


def _value(value: Any) -> Any:
    value = value.get_object()
    return str(value).lstrip("/") if isinstance(value, str) else getattr(value, "value", value)


def _embedded(font: Any) -> dict[str, bool]:
    inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
    descriptor = inner.get("/FontDescriptor", {}).get_object() if "/FontDescriptor" in inner else {}
    return {str(font.get("/BaseFont", "?")): any(f"/FontFile{n}" in descriptor for n in ("", "2", "3"))}
