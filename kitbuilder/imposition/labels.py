"""Label sheets: flats on labels that their maker cut, row by row; nothing is left for the trimmer."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from kitbuilder.diagnostics import stop
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.sheets import PrintSetup, Run, TwoSided
from kitbuilder.imposition.stacking import SheetPlan, build_run, fill_in_order
from kitbuilder.measure.geometry import Rect
from kitbuilder.model.stock import LabelGrid
from kitbuilder.packing.problem import Layout, Slot

if TYPE_CHECKING:
    from kitbuilder.imposition.place import StockPlan, Workplace


def label_places(grid: LabelGrid) -> tuple[Rect, ...]:
    """Return where the labels lie on their sheet, row by row."""
    across, down = grid.width_um + grid.gap_right_um, grid.height_um + grid.gap_down_um
    return tuple(
        Rect(grid.left_um + column * across, grid.top_um + row * down, grid.width_um, grid.height_um)
        for row in range(grid.down)
        for column in range(grid.right)
    )


def label_run(flats: Sequence[Flat], stock: StockPlan, place: Workplace) -> Run:
    """Return the run of flats on label sheets, one layout for each size of flat, each flat in the middle of a label.

    Labels that are left over stay blank: a sheet of them is worth keeping, although not for the printer.

    Raises:
        ProblemsFound: when a flat is larger than a label, or has a back.
    """
    plans: list[SheetPlan] = []
    by_size: dict[tuple[int, int], list[Flat]] = defaultdict(list)
    for flat in flats:
        _check(flat, stock.labels[0], stock.name)
        by_size[flat.width_um, flat.height_um].append(flat)
    for (width, height), same in sorted(by_size.items()):
        slots = tuple(_slot(label, width, height) for label in stock.labels)
        sheets = -(-len(same) // len(slots))
        layout = Layout(sheets, slots, ())
        numbers = tuple(str(slot + 1) for slot in range(len(slots)))
        plans.append(SheetPlan(layout, (), fill_in_order(layout, same), numbers))
    setup = PrintSetup(stock.name, TwoSided.NO, place.paper, place.width_um, place.height_um)
    count = sum(plan.layout.copies for plan in plans)
    run = build_run(setup, tuple(plans), 1, count, "labels on their sheets", ((count, 0),))
    layouts = {layout.id: replace(layout, ready_cut=True) for layout in run.layouts}
    sheets_ready = tuple(replace(sheet, layout=layouts[sheet.layout.id]) for sheet in run.sheets)
    return replace(run, sheets=sheets_ready, layouts=tuple(layouts.values()))


def _slot(label: Rect, width_um: int, height_um: int) -> Slot:
    turned = not (width_um <= label.width_um and height_um <= label.height_um)
    wide, high = (height_um, width_um) if turned else (width_um, height_um)
    x, y = label.x_um + (label.width_um - wide) // 2, label.y_um + (label.height_um - high) // 2
    return Slot(0, x, y, wide, high, turned)


def _check(flat: Flat, label: Rect, stock: str) -> None:
    if not fits_label(flat.width_um, flat.height_um, label):
        raise stop(
            f"{flat.piece_id} is {flat.width_um / 1000:g} x {flat.height_um / 1000:g} mm, larger than the labels of "
            f"'{stock}' ({label.width_um / 1000:g} x {label.height_um / 1000:g} mm)",
            "larger-than-label",
            "take larger labels, or print it on another stock",
        )
    if flat.two_sided:
        raise stop(
            f"{flat.piece_id} has a back, and labels have none",
            "back-on-label",
            "print it on card, or leave 'stock' away",
        )


def fits_label(width_um: int, height_um: int, label: Rect) -> bool:
    """Tell whether a flat fits a label, turned or not."""
    upright = width_um <= label.width_um and height_um <= label.height_um
    return upright or (height_um <= label.width_um and width_um <= label.height_um)
