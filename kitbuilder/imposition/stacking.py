"""Flats into the places of stacked sheets, so that each place's pile comes off the trimmer in order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.sheets import Pile, Placement, PrintSetup, Run, Sheet, SheetLayout, Stroke, TwoSided
from kitbuilder.measure.geometry import Rect
from kitbuilder.packing.problem import Layout

Filled = Mapping[tuple[int, int], Flat | None]  # (copy, slot), both from 0


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """A layout, its strokes, the flat in every place of every copy, and the pile number of every slot."""

    layout: Layout
    strokes: tuple[Stroke, ...]
    filled: Filled
    piles: tuple[str, ...]


def build_run(
    setup: PrintSetup,
    plans: tuple[SheetPlan, ...],
    stack: int,
    bound: int,
    bound_name: str,
    trade: tuple[tuple[int, int], ...],
) -> Run:
    """Return the run with every flat placed; layout ids are "0", "1", ... and piles "1", "2", ... until named."""
    sheets: list[Sheet] = []
    layouts: list[SheetLayout] = []
    piles: list[Pile] = []
    strokes = 0
    for index, plan in enumerate(plans):
        layout = SheetLayout(str(index), setup, plan.strokes, plan.layout.copies)
        layouts.append(layout)
        strokes += passes(plan.strokes) * -(-plan.layout.copies // stack)
        made = tuple(_sheets(layout, plan, stack))
        sheets += made
        piles += _piles_of([layout], made)
    return Run(setup, tuple(sheets), tuple(layouts), tuple(piles), bound, bound_name, strokes, trade)


def passes(strokes: Iterable[Stroke]) -> int:
    """Return how often the blade comes down on one stack: lines cut side by side share a number."""
    return len({stroke.number for stroke in strokes})


def fill_in_order(layout: Layout, flats: Sequence[Flat]) -> Filled:
    """Return the flats sheet by sheet, so that the flats of one piece lie on one sheet."""
    cells = [(copy, slot) for copy in range(layout.copies) for slot in range(len(layout.slots))]
    return {cell: flats[at] if at < len(flats) else None for at, cell in enumerate(cells)}


def with_spares(plans: Sequence[SheetPlan], members: Sequence[Sequence[Flat]]) -> tuple[SheetPlan, ...]:
    """Return the plans with blank places filled by spares, taken in turn from the flats of that size that may have any.

    Where no flat of a size may, its places stay blank. No spare puts a back on a sheet that has none: that sheet would
    go through the printer twice for it.
    """
    lent = [[flat for flat in flats if flat.spares] for flats in members]
    used: Counter[str] = Counter()
    done = []
    for plan in plans:
        filled = dict(plan.filled)
        backs = {copy for (copy, _), flat in plan.filled.items() if flat is not None and flat.two_sided}
        for (copy, slot), flat in sorted(plan.filled.items()):
            may = [f for f in lent[plan.layout.slots[slot].part] if copy in backs or not f.two_sided]
            if flat is None and may:
                chosen = min(may, key=lambda f: used[f.id])  # the first of those laid least often
                used[chosen.id] += 1
                filled[copy, slot] = replace(chosen, id=f"{chosen.id}s{used[chosen.id]}", role="spare")
        done.append(replace(plan, filled=filled))
    return tuple(done)


def _sheets(layout: SheetLayout, plan: SheetPlan, stack: int) -> Iterator[Sheet]:
    for copy in range(plan.layout.copies):
        placements = []
        for index, slot in enumerate(plan.layout.slots):
            flat = plan.filled[copy, index]
            if flat is not None:
                area = Rect(slot.x_um, slot.y_um, slot.width_um, slot.height_um)
                placements.append(Placement(flat, area, 1 if slot.turned else 0, plan.piles[index], copy + 1))
        yield Sheet(layout, tuple(placements), copy // stack + 1, copy % stack + 1)


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
            strokes += passes(part.strokes) * -(-len(mine) // stack)
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


def _piles_of(layouts: Sequence[SheetLayout], sheets: Sequence[Sheet]) -> Iterator[Pile]:
    for layout in layouts:
        held: dict[str, list[Flat]] = {}
        for sheet in sheets:
            if sheet.layout is layout:
                for placement in sheet.placements:
                    held.setdefault(placement.pile, []).append(placement.flat)
        for name in sorted(held, key=int):
            holds = tuple(dict.fromkeys(f.set_id for f in held[name]))
            yield Pile(name, layout.id, holds, envelope_of(held[name]))
