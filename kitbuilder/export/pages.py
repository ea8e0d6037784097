"""Print files as pages of placed frames, ready for the PDF writer."""

from __future__ import annotations

from collections.abc import Iterator

from kitbuilder.export.pdf import PdfSettings, PrintPage
from kitbuilder.export.placing import Placed
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.print_files import PrintedSide, PrintFile


def print_pages(file: PrintFile) -> Iterator[PrintPage]:
    """Yield the file's pages one by one, so that a long file is never held whole."""
    for page in file.pages:
        yield print_page(page)


def print_page(page: PrintedSide) -> PrintPage:
    """Return one side of a sheet; marks are drawn last, over shared edges."""
    setup = page.sheet.layout.setup
    placed = [
        Placed(flat.frame, flat.area.x_um, flat.area.y_um, flat.quarter_turns)
        for flat in page.flats
        if flat.frame is not None
    ]
    if page.marks is not None:
        placed.append(Placed(page.marks, 0, 0, 0))
    return PrintPage(setup.width_um, setup.height_um, tuple(placed), f"{page.sheet.layout.id}{page.number} {page.side}")


def settings_of(plan: PackPlan, file: PrintFile, scale_ppm: tuple[int, int]) -> PdfSettings:
    """Return what viewers are told: true size, sides, title and language."""
    duplex = file.duplex
    assert duplex in ("simplex", "long", "short")
    title = f"{plan.title}: {plan.name}, {file.name.removesuffix('.pdf')}"
    return PdfSettings(title, plan.language, duplex, scale_ppm=scale_ppm)  # type: ignore[arg-type]  # asserted above
