"""What the tests of the writers share: the shipped fonts, a PDF from frames, and readers that are not the writer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from kitbuilder.artwork.frame import Frame
from kitbuilder.export.pdf import PdfSettings, PrintPage, pdf_bytes
from kitbuilder.export.placing import Placed

A4 = (210_000, 297_000)  # ISO 216
UM_PER_PT = 25_400 / 72


@pytest.fixture(scope="session")
def fonts() -> dict[str, Path]:
    folder = Path(__file__).parents[2] / "fonts"
    return {"Andika": folder / "Andika-Regular.ttf", "Andika-Bold": folder / "Andika-Bold.ttf"}


@pytest.fixture
def page_of() -> Callable[..., PrintPage]:
    """Return a function: placed frames (or one frame, at the origin) to an A4 page."""

    def make(*placed: Placed | Frame, size: tuple[int, int] = A4, label: str = "") -> PrintPage:
        whole = tuple(p if isinstance(p, Placed) else Placed(p, 0, 0, 0) for p in placed)
        return PrintPage(size[0], size[1], whole, label)

    return make


@pytest.fixture
def pdf_of(fonts: dict[str, Path]) -> Callable[..., bytes]:
    """Return a function: pages (and settings, and bitmaps) to the bytes of a PDF."""

    def make(*pages: PrintPage, bitmaps: dict[str, bytes] | None = None, **settings: Any) -> bytes:
        chosen = {"title": "Week 3", "language": "en-US", "duplex": "simplex"} | settings
        return pdf_bytes(pages, PdfSettings(**chosen), fonts, bitmaps)

    return make


@pytest.fixture
def picture_of() -> Callable[..., Any]:
    """Return a function: PDF bytes, page index and dots an inch to an RGB picture, drawn by pdfium."""

    def draw(data: bytes, page: int = 0, dpi: float = 72) -> Any:
        with pypdfium2.PdfDocument(data) as document:
            return document[page].render(scale=dpi / 72).to_pil().convert("RGB")

    return draw


@pytest.fixture
def letters_of() -> Callable[..., list[tuple[str, float, float]]]:
    """Return a function: PDF bytes to (letter, x, y of its origin), micrometres from the upper left, read by pdfium."""

    def read(data: bytes, page: int = 0) -> list[tuple[str, float, float]]:
        with pypdfium2.PdfDocument(data) as document:
            height = document[page].get_height()
            textpage = document[page].get_textpage()
            found = []
            for index in range(textpage.count_chars()):
                x, y = pdfium.c_double(), pdfium.c_double()
                pdfium.FPDFText_GetCharOrigin(textpage, index, x, y)
                letter = chr(pdfium.FPDFText_GetUnicode(textpage, index))
                if letter not in "\r\n" and not pdfium.FPDFText_IsGenerated(textpage, index):
                    found.append((letter, x.value * UM_PER_PT, (height - y.value) * UM_PER_PT))
            return found

    return read
