"""What the tests of the writers share: the shipped fonts, a PDF from frames, and readers that are not the writer."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from kitbuilder.artwork.frame import Bitmap, Frame, ReadBy, Text
from kitbuilder.artwork.frame import Path as Outline
from kitbuilder.export.pdf import PdfSettings, PrintPage, pdf_bytes
from kitbuilder.export.placing import Placed
from kitbuilder.imposition.flats import Flat, FoldedPage
from kitbuilder.imposition.ganging import gang
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.place import StockPlan, Workplace
from kitbuilder.imposition.print_files import BackRules, plan_files
from kitbuilder.imposition.sheet_marks import mark_sheets
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.measure.geometry import Insets
from kitbuilder.measure.length import mm

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


LEAF = Outline(" ".join(["M 0 0", *(f"L {n * 1_000} {n % 2 * 5_000}" for n in range(1, 20)), "Z"]), name="leaf")
DOT_PNG = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAQAAAC1HAwCAAAAC0lEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg=="
)
DOT = hashlib.sha256(DOT_PNG).hexdigest()


@pytest.fixture(scope="session")
def family_bitmaps() -> dict[str, bytes]:
    """One picture of a family's own, by its digest: the one that `small_plan` uses."""
    return {DOT: DOT_PNG}


@pytest.fixture(scope="session")
def small_plan() -> PackPlan:
    """Five two-sided cards with spares beside them, backs by hand, and a folded sheet of four pages, on A4."""
    flats = [_card(n, title) for n, title in enumerate("abdmo", 1)]
    flats.append(_folded())
    stocks = {
        "plain": StockPlan("plain", TwoSided.LONG, 10),
        "card": StockPlan("card", TwoSided.BY_HAND, 5),
    }
    place = Workplace("a4", *A4, Insets(mm(5), mm(5), mm(5), mm(8)), 320_000, stocks)
    runs = mark_sheets(gang(flats, place), place, "printed")
    return PackPlan(
        name="week-03",
        title="Tide pools",
        units=(3,),
        seed=1,
        definitions_sha256="0" * 64,
        language="en-GB",
        pieces=(),
        flats=tuple(flats),
        runs=runs,
        files=plan_files(runs, BackRules()),
        warnings=("Card may curl.",),
    )


def _card(number: int, title: str) -> Flat:
    own_id = f"03-LC-{number}K"
    front = Frame(
        62_000,
        87_000,
        (
            Text(20_000, 50_000, title, "Andika", 30_000, read_by=ReadBy.CHILD),
            LEAF,
            Text(40_000, 84_000, own_id, "Andika", 2_000, "#808080", ReadBy.MARK),
        ),
    )
    back = Frame(62_000, 87_000, (Bitmap(5_000, 5_000, 40_000, 30_000, DOT, "png"), LEAF))
    return Flat(
        id=own_id,
        piece_id=own_id,
        set_id="03-LC",
        kind="letter-card",
        unit=3,
        learner=None,
        order=(number, 0),
        copy=1,
        stock="card",
        durable=True,
        width_um=62_000,
        height_um=87_000,
        front=front,
        back=back,
        title=title,
        clear_um=3_000,
    )


def _folded() -> Flat:
    pages = tuple(
        FoldedPage(page, side, x, 0, 105_000, 148_500)
        for page, side, x in ((4, "front", 0), (1, "front", 105_000), (2, "back", 0), (3, "back", 105_000))
    )
    frame = Frame(210_000, 148_500, (Text(120_000, 60_000, "Odd can nod.", "Andika", 8_000, read_by=ReadBy.CHILD),))
    return Flat(
        id="03-BK-1Z",
        piece_id="03-BK-1Z",
        set_id="03-BK-wren",
        kind="booklet",
        unit=3,
        learner="wren",
        order=(1, 0),
        copy=1,
        stock="plain",
        durable=False,
        width_um=210_000,
        height_um=148_500,
        front=frame,
        back=frame,
        division=2,
        folded=pages,
        title="Odd Nods",
    )
