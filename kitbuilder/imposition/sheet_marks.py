"""Marks on every sheet of every run: cut lines, a ruler, the sheet's name; only where there is waste."""

from __future__ import annotations

from dataclasses import replace

from kitbuilder.imposition.marks import CutStyle, sheet_marks
from kitbuilder.imposition.place import Workplace
from kitbuilder.imposition.registration import ink_area
from kitbuilder.imposition.sheets import Run, Sheet, TwoSided


def mark_sheets(runs: tuple[Run, ...], place: Workplace, style: str) -> tuple[Run, ...]:
    """Return the runs with marks on every sheet's front."""
    return tuple(_marked(run, place, CutStyle(style)) for run in runs)


def _marked(run: Run, place: Workplace, style: CutStyle) -> Run:
    axis = place.by_hand_axis if run.setup.two_sided is TwoSided.BY_HAND else run.setup.two_sided
    width, height = run.setup.width_um, run.setup.height_um  # an offcut may be smaller than the press's paper
    ink = ink_area(width, height, place.edges, axis)
    sheets: list[Sheet] = []
    for number, sheet in enumerate(run.sheets, 1):
        if sheet.layout.ready_cut:
            sheets.append(sheet)  # a mark would lie on labels that are still good
            continue
        areas = [p.area for p in sheet.placements]
        stack = f"stack {sheet.stack}, sheet {sheet.position_in_stack}"
        layout = f"layout {sheet.layout.id}"
        names = (
            f"{run.setup.stock} {number} of {len(run.sheets)} · {layout} · {stack}",
            f"{layout} · {stack}",
            f"{sheet.layout.id}{sheet.stack}.{sheet.position_in_stack}",
        )
        marks = sheet_marks(width, height, areas, ink, sheet.layout.strokes, style, names)
        sheets.append(replace(sheet, front_marks=marks.frame, has_ruler=marks.has_ruler))
    return replace(run, sheets=tuple(sheets))
