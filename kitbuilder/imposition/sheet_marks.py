"""Marks on every sheet of every run: cut lines, a ruler, the sheet's name; only where there is waste."""

from __future__ import annotations

from dataclasses import replace

from kitbuilder.imposition.marks import CutStyle, SheetMarks, sheet_marks
from kitbuilder.imposition.place import Workplace
from kitbuilder.imposition.registration import ink_area
from kitbuilder.imposition.sheets import Run, TwoSided
from kitbuilder.measure.geometry import Rect


def mark_sheets(runs: tuple[Run, ...], place: Workplace, style: str) -> tuple[Run, ...]:
    """Return the runs with marks on every sheet's front: a ruler on one of each run (a file) if there is room."""
    return tuple(_marked(run, place, CutStyle(style)) for run in runs)


def _marked(run: Run, place: Workplace, style: CutStyle) -> Run:
    axis = place.by_hand_axis if run.setup.two_sided is TwoSided.BY_HAND else run.setup.two_sided
    ink = ink_area(run.setup.width_um, run.setup.height_um, place.edges, axis)
    made = [_sheet_marks(run, number, ink, style) for number in range(1, len(run.sheets) + 1)]
    if not any(marks and marks.has_ruler for marks in made):
        # one ruler that is crossed by cuts is better than none in the file
        for at, marks in enumerate(made):
            crossed = _sheet_marks(run, at + 1, ink, style, across=True) if marks else None
            if crossed and crossed.has_ruler:
                made[at] = crossed
                break
    sheets = (
        replace(sheet, front_marks=marks.frame, has_ruler=marks.has_ruler) if marks else sheet
        for sheet, marks in zip(run.sheets, made, strict=True)
    )
    return replace(run, sheets=tuple(sheets))


def _sheet_marks(run: Run, number: int, ink: Rect, style: CutStyle, *, across: bool = False) -> SheetMarks | None:
    """Return the marks of sheet `number` of the run; none on labels: a mark would lie on some that are still good."""
    sheet = run.sheets[number - 1]
    if sheet.layout.ready_cut:
        return None
    areas = [p.area for p in sheet.placements]
    which = f"{run.setup.stock} {number}/{len(run.sheets)}"
    stack, layout = f"stack {sheet.stack}, sheet {sheet.position_in_stack}", f"layout {sheet.layout.id}"
    names = (
        f"{run.setup.stock} {number} of {len(run.sheets)} · {layout} · {stack}",
        f"{which} · {sheet.layout.id}{sheet.stack}.{sheet.position_in_stack}",
        which,
    )
    width, height = run.setup.width_um, run.setup.height_um  # an offcut may be smaller than the press's paper
    return sheet_marks(width, height, areas, ink, sheet.layout.strokes, style, names, across=across)
