"""Front against back in print files, measured in pictures at 300 dpi: at most 0.1 mm apart in every mode."""

from __future__ import annotations

import io

import numpy as np
import pypdfium2 as pdfium
import pytest

from kitbuilder.artwork.frame import Frame, Path
from kitbuilder.export.pdf import PdfSettings, PrintPage, write_pdf
from kitbuilder.export.placing import Placed
from kitbuilder.imposition.registration import BackOffset, back_area
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.measure.geometry import Rect

DPI = 300
MM = DPI / 25.4  # pixels
PAPERS = {
    "A4": (210_000, 297_000), "Letter": (215_900, 279_400), "Legal": (215_900, 355_600),
    "A3": (297_000, 420_000), "Tabloid": (279_400, 431_800), "custom": (152_401, 203_203),
}  # fmt: skip


def arrow(middle_um: int) -> Frame:
    """A flat of 50 x 40 mm with a 6 mm arrow head pointing up, 7 mm below its top, about x = middle."""
    left, right, tip, foot = middle_um - 3_000, middle_um + 3_000, 7_000, 13_000
    return Frame(50_000, 40_000, (Path(f"M {left} {foot} L {middle_um} {tip} L {right} {foot} Z"),))


def pictures(sheet, edge, offset):
    """Ink, 0 to 255, of the front and the back page: one flat in each quarter of the sheet, each turned otherwise."""
    front, back = [], []
    for turns in range(4):
        width, height = (40_000, 50_000) if turns % 2 else (50_000, 40_000)
        area = Rect(17_300 + sheet[0] // 2 * (turns % 2), 21_700 + sheet[1] // 2 * (turns // 2), width, height)
        front.append(Placed(arrow(12_000), area.x_um, area.y_um, turns))
        where, back_turns = back_area(area, turns, *sheet, TwoSided(edge), offset)
        back.append(Placed(arrow(50_000 - 12_000), where.x_um, where.y_um, back_turns))
    file = io.BytesIO()
    write_pdf([PrintPage(*sheet, tuple(side)) for side in (front, back)], PdfSettings("t", "en", edge), {}, {}, file)
    with pdfium.PdfDocument(file.getvalue()) as document:
        return [~page.render(scale=DPI / 72, grayscale=True).to_numpy().squeeze() for page in document]


def quarters(*pages):
    """Each quarter of the sheet, cut down to where any of the pages has ink: one picture a page."""
    rows, columns = pages[0].shape[0] // 2, pages[0].shape[1] // 2
    for down in (slice(0, rows), slice(rows, None)):
        for across in (slice(0, columns), slice(columns, None)):
            parts = [page[down, across] for page in pages]
            ink = np.logical_or.reduce([part.any(axis=1) for part in parts]).nonzero()[0]
            parts = [part[ink[0] : ink[-1] + 1] for part in parts]
            ink = np.logical_or.reduce([part.any(axis=0) for part in parts]).nonzero()[0]
            yield tuple(part[:, ink[0] : ink[-1] + 1].astype(np.float64) / 255 for part in parts)


def middle(ink):
    """The centre of the ink in mm, right and down."""
    across, down = ink.sum(axis=0), ink.sum(axis=1)
    return np.array([(across * np.arange(across.size)).sum(), (down * np.arange(down.size)).sum()]) / ink.sum() / MM


CASES = [(n, o, e) for n in PAPERS for o in ("portrait", "landscape") for e in ("long", "short")]


@pytest.mark.parametrize(("paper_name", "stands", "edge"), CASES)
def test_front_and_back_are_a_tenth_of_a_millimetre_apart_at_most(paper_name, stands, edge):
    sheet = PAPERS[paper_name] if stands == "portrait" else PAPERS[paper_name][::-1]
    front, back = pictures(sheet, edge, BackOffset())
    about_vertical = (edge == "long") == (stands == "portrait")
    seen_through = back[:, ::-1] if about_vertical else back[::-1]
    for one, other in quarters(front, seen_through):
        assert one.sum() > 1_000
        assert np.abs(middle(one) - middle(other)).max() <= 0.1
        assert np.abs(one - other).sum() < 0.25 * one.sum()  # arrows point the same way: else nearly all of it differs


@pytest.mark.parametrize(("stands", "edge"), [(s, e) for s in ("portrait", "landscape") for e in ("long", "short")])
@pytest.mark.parametrize(("right", "down"), [(1_500, -700), (-300, 2_000)])
def test_a_measured_offset_moves_the_ink_on_the_back_page_by_exactly_that(stands, edge, right, down):
    sheet = PAPERS["A4"] if stands == "portrait" else PAPERS["A4"][::-1]
    plain_front, plain = pictures(sheet, edge, BackOffset())
    moved_front, moved = pictures(sheet, edge, BackOffset(right, down))
    assert np.array_equal(plain_front, moved_front)
    for one, other in quarters(plain, moved):
        assert np.abs(middle(other) - middle(one) - np.array([right, down]) / 1_000).max() <= 0.03
