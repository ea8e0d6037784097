"""Flats into the places of stacked sheets, so that each place's pile comes off the trimmer in order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.sheets import Pile, Placement, PrintSetup, Run, Sheet, SheetLayout, Stroke, TwoSided
from kitbuilder.measure.geometry import Rect
from kitbuilder.packing.problem import Layout

if TYPE_CHECKING:
    from kitbuilder.imposition.ganging import Workplace


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """A layout, its strokes, and the flats waiting for its places: one queue for each part of the layout.

    `across_sheets`: a place is filled through the stack before the next place, so that a pile is one set in order;
    else sheet by sheet.
    """

    layout: Layout
    strokes: tuple[Stroke, ...]
    queues: tuple[tuple[Flat, ...], ...]
    across_sheets: bool = True


def build_run(
    setup: PrintSetup,
    plans: tuple[SheetPlan, ...],
    stack: int,
    place: Workplace,
    bound: int,
    bound_name: str,
    trade: tuple[tuple[int, int], ...],
) -> Run:
    """Return the run with every flat placed; layout ids are "0", "1", ... and piles "1", "2", ... until named."""
    waiting: dict[int, Iterator[Flat]] = {}
    sheets: list[Sheet] = []
    layouts: list[SheetLayout] = []
    piles: list[Pile] = []
    strokes = 0
    for index, plan in enumerate(plans):
        layout = SheetLayout(str(index), setup, plan.strokes, plan.layout.copies)
        layouts.append(layout)
        stacks = -(-plan.layout.copies // stack)
        strokes += len(plan.strokes) * stacks
        filled = _filled(plan, waiting, place.spares)
        sheets += _sheets(layout, plan, filled, stack)
        piles += _piles(layout, plan, filled)
    return Run(setup, tuple(sheets), tuple(layouts), tuple(piles), bound, bound_name, strokes, trade)


def _filled(plan: SheetPlan, waiting: dict[int, Iterator[Flat]], spares: bool) -> dict[tuple[int, int], Flat | None]:
    """Return the flat for every (sheet copy, slot)."""
    copies, slots = plan.layout.copies, plan.layout.slots
    cells = [(c, s) for s in range(len(slots)) for c in range(copies)]
    if not plan.across_sheets:
        cells = [(c, s) for c in range(copies) for s in range(len(slots))]
    filled: dict[tuple[int, int], Flat | None] = {}
    repeats: dict[int, int] = {}
    for cell in cells:
        part = slots[cell[1]].part
        queue = plan.queues[part]
        # queues are shared by all plans of one packing problem, so their iterators are kept by identity
        rest = waiting.setdefault(id(queue), iter(queue))
        flat = next(rest, None)
        if flat is None and spares and plan.across_sheets:
            turn = repeats[part] = repeats.get(part, -1) + 1
            flat = _spare(queue[turn % len(queue)], turn // len(queue) + 1)
        filled[cell] = flat
    return filled


def _spare(flat: Flat, number: int) -> Flat:
    return replace(flat, id=f"{flat.id}s{number}", role="spare")


def _sheets(
    layout: SheetLayout, plan: SheetPlan, filled: dict[tuple[int, int], Flat | None], stack: int
) -> Iterator[Sheet]:
    for copy in range(plan.layout.copies):
        placements = []
        for index, slot in enumerate(plan.layout.slots):
            flat = filled[copy, index]
            if flat is not None:
                area = Rect(slot.x_um, slot.y_um, slot.width_um, slot.height_um)
                placements.append(Placement(flat, area, 1 if slot.turned else 0, str(index + 1), copy + 1))
        yield Sheet(layout, tuple(placements), copy // stack + 1, copy % stack + 1)


def _piles(layout: SheetLayout, plan: SheetPlan, filled: dict[tuple[int, int], Flat | None]) -> Iterator[Pile]:
    for index in range(len(plan.layout.slots)):
        flats = [f for c in range(plan.layout.copies) if (f := filled[c, index]) is not None]
        if flats:
            holds = tuple(dict.fromkeys(f.set_id for f in flats))
            yield Pile(str(index + 1), layout.id, holds, envelope_of(flats))


def envelope_of(flats: list[Flat]) -> str:
    """Return where a pile goes, in a parent's words."""
    if all(f.durable for f in flats):
        return "review box"
    units = sorted({f.unit for f in flats})
    weeks = f"week {units[0]}" if len(units) == 1 else f"weeks {units[0]} to {units[-1]}"
    learners = sorted({f.learner for f in flats if f.learner})
    return f"{weeks}, {learners[0]}" if len(learners) == 1 else weeks


def split_by_backs(run: Run, stack: int) -> Iterator[Run]:
    """Yield the sheets that carry backs, then those that carry none: only the first are put back into the printer."""
    for backs in (True, False):
        sheets: list[Sheet] = []
        layouts: list[SheetLayout] = []
        strokes = 0
        for layout in run.layouts:
            mine = [sheet for sheet in run.sheets if sheet.layout.id == layout.id and sheet.has_back is backs]
            if not mine:
                continue
            part = replace(layout, copies=len(mine), setup=_setup(run.setup, backs))
            layouts.append(part)
            strokes += len(part.strokes) * -(-len(mine) // stack)
            sheets += (_moved_up(sheet, part, at, stack) for at, sheet in enumerate(mine))
        if sheets:
            piles = tuple(_piles_of(layouts, sheets))
            yield replace(
                run,
                setup=_setup(run.setup, backs),
                sheets=tuple(sheets),
                layouts=tuple(layouts),
                piles=piles,
                lower_bound=max(0, run.lower_bound - (len(run.sheets) - len(sheets))),
                strokes=strokes,
            )


def _setup(setup: PrintSetup, backs: bool) -> PrintSetup:
    return setup if backs else replace(setup, two_sided=TwoSided.NO)


def _moved_up(sheet: Sheet, layout: SheetLayout, at: int, stack: int) -> Sheet:
    placements = tuple(replace(p, depth=at + 1) for p in sheet.placements)
    return replace(sheet, layout=layout, placements=placements, stack=at // stack + 1, position_in_stack=at % stack + 1)


def _piles_of(layouts: list[SheetLayout], sheets: list[Sheet]) -> Iterator[Pile]:
    for layout in layouts:
        held: dict[str, list[Flat]] = {}
        for sheet in sheets:
            if sheet.layout is layout:
                for placement in sheet.placements:
                    held.setdefault(placement.pile, []).append(placement.flat)
        for name in sorted(held, key=int):
            holds = tuple(dict.fromkeys(f.set_id for f in held[name]))
            yield Pile(name, layout.id, holds, envelope_of(held[name]))
