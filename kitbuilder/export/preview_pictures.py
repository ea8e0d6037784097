"""Every printed side as a PNG, with its cuts numbered on the front: for those who only want to look."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from io import BytesIO
from pathlib import Path

from kitbuilder.artwork.drawings import fonts_of
from kitbuilder.artwork.fonts import BOLD_FONT
from kitbuilder.artwork.frame import Frame, Group, Item, Line, ReadBy, Text
from kitbuilder.artwork.frame import Path as Outline
from kitbuilder.artwork.outlines import PathCommand, outline_of
from kitbuilder.artwork.type_metrics import FontMetrics
from kitbuilder.export.pages import print_page, settings_of
from kitbuilder.export.pdf import UNSCALED_PPM, PrintPage, write_pdf
from kitbuilder.export.placing import Placed
from kitbuilder.export.preview_cuts import badge_places, numbered_steps
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.print_files import PrintedSide, PrintFile
from kitbuilder.imposition.sheets import SheetLayout, Stroke

DPI = 100
_GREEN = "#0f6b5c"
_LINE_UM = 400
_DISC_UM = 3_000  # radius of a stroke's number: smaller than on the page, where the sheet can be zoomed
_NUMBER_UM = 3_400
_ROUND = 0.5523  # of the radius: how far control points lie from the ends of a quarter circle (from memory)


def write_pictures(
    plan: PackPlan,
    folder: Path,
    font_files: Callable[[str], Path],
    bitmaps: Mapping[str, bytes],
    font: Callable[[str], FontMetrics],
) -> int:
    """Return how many pictures were written: one for each page of each print file, named after both.

    Raises:
        OSError: when the folder cannot be written.
    """
    import pypdfium2  # loads a library of its own: only when pictures are wanted

    folder.mkdir(parents=True, exist_ok=True)
    written = 0
    for file in plan.files:
        names = sorted({BOLD_FONT}.union(*(_fonts(page) for page in _pages(file, font))))
        pdf = BytesIO()
        settings = settings_of(plan, file, UNSCALED_PPM)
        write_pdf(_pages(file, font), settings, {name: font_files(name) for name in names}, bitmaps, pdf)
        with pypdfium2.PdfDocument(pdf.getvalue()) as document:
            for number, side in enumerate(file.pages, 1):
                page = document[number - 1]
                picture = page.render(scale=DPI / 72).to_pil()
                name = f"{file.name.removesuffix('.pdf')}-{number:03d}-{side.sheet.layout.id}-{side.side}.png"
                picture.save(folder / name, dpi=(DPI, DPI))
                page.close()
                written += 1
    return written


def _fonts(page: PrintPage) -> frozenset[str]:
    return frozenset().union(*(fonts_of(placed.frame) for placed in page.placed))


def _pages(file: PrintFile, font: Callable[[str], FontMetrics]) -> Iterator[PrintPage]:
    for side in file.pages:
        page = print_page(side)
        if side.side == "front" and side.sheet.layout.strokes:
            page = replace(page, placed=(*page.placed, Placed(_numbered_cuts(side, font), 0, 0, 0)))
        yield page


def _numbered_cuts(side: PrintedSide, font: Callable[[str], FontMetrics]) -> Frame:
    layout = side.sheet.layout
    items = [_line(stroke) for stroke in layout.strokes]
    return Frame(layout.setup.width_um, layout.setup.height_um, (*items, *_badges(layout, font)), "cuts")


def _line(stroke: Stroke) -> Line:
    at, start, end = stroke.at_um, stroke.from_um, stroke.to_um
    if stroke.axis == "x":
        return Line(at, start, at, end, _LINE_UM, _GREEN)
    return Line(start, at, end, at, _LINE_UM, _GREEN)


def _badges(layout: SheetLayout, font: Callable[[str], FontMetrics]) -> Iterator[Item]:
    steps = numbered_steps(layout.strokes)
    for number, x, y in badge_places(steps, layout.setup.width_um, layout.setup.height_um):
        wide = font(BOLD_FONT).width_um(str(number), _NUMBER_UM)
        disc = Outline(outline_of(_circle(_DISC_UM)), fill=_GREEN, stroke="#ffffff", stroke_um=400)
        text = Text(
            _DISC_UM - wide // 2, _DISC_UM + 1_200, str(number), BOLD_FONT, _NUMBER_UM, "#ffffff", ReadBy.MARK
        )  # fmt: skip
        yield Group(x - _DISC_UM, y - _DISC_UM, 0, Frame(2 * _DISC_UM, 2 * _DISC_UM, (disc, text), "number"))


def _circle(r: int) -> Iterator[PathCommand]:
    """Yield a circle of radius r that touches the left and upper edge."""
    k = round(r * _ROUND)
    yield ("M", 2 * r, r)
    yield ("C", 2 * r, r + k, r + k, 2 * r, r, 2 * r)
    yield ("C", r - k, 2 * r, 0, r + k, 0, r)
    yield ("C", 0, r - k, r - k, 0, r, 0)
    yield ("C", r + k, 0, 2 * r, r - k, 2 * r, r)
    yield ("Z",)
