"""Flats packed on sheets of one stock: flats in, layouts with every flat in its place out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice

from kitbuilder.imposition.backs import BackedSolution, with_few_backs
from kitbuilder.imposition.blocks import blocks_for, with_blocks, without_blocks
from kitbuilder.imposition.cut_plan import plan_cuts
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.place import StockPlan, Workplace
from kitbuilder.imposition.registration import ink_area
from kitbuilder.imposition.sheets import Stroke, TwoSided
from kitbuilder.imposition.stack_order import FlatRecord, order_stacks
from kitbuilder.imposition.stacking import SheetPlan, passes, with_spares
from kitbuilder.measure.geometry import Rect
from kitbuilder.packing.problem import Layout, Part, Problem, Solution, Waste, moved

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
MOST_SHAPES = 4  # of a block tried; each takes as long as packing everything once more
MOST_SHEETS = 24  # of runs that blocks are tried for: in a term's each try takes seconds, and none tried was better

SizeClass = tuple[int, int, bool]  # width, height, may turn


@dataclass(frozen=True, slots=True)
class Packed:
    """Flats that share sheets, and how: the first `backed` layouts take all two-sided ones; None: any may."""

    flats: tuple[Flat, ...]
    area: Rect
    problem: Problem
    solution: Solution
    backed: int | None

    @property
    def classes(self) -> list[SizeClass]:
        """Sizes of flats, in the order of the problem's parts."""
        return sorted({_class_of(flat) for flat in self.flats})


def _class_of(flat: Flat) -> SizeClass:
    return flat.width_um, flat.height_um, flat.may_turn


def pack_flats(flats: Sequence[Flat], stock: StockPlan, place: Workplace, two_sided: TwoSided) -> Packed:
    """Return the flats packed on the fewest sheets, or on some more where the family prefers few strokes."""
    # highspy and numpy are loaded only when something has to be packed
    from kitbuilder.packing.solve import solve

    area = cutting_area(flats, place, two_sided)
    count = Counter(map(_class_of, flats))
    problem = Problem(
        area.width_um,
        area.height_um,
        tuple(Part(w, h, count[w, h, turn], turn) for w, h, turn in sorted(count)),
        blade_um=place.blade_um,
        stack=stock.stack,
        seed=place.seed,
        waste=Waste(area.x_um, area.y_um, place.width_um - area.right_um, place.height_um - area.bottom_um),
    )
    solution = solve(problem)
    extra = worthwhile_sheets(solution) if place.few_strokes else 0
    if extra:
        problem = replace(problem, extra_sheets=extra)
        solution = solve(problem)
    return Packed(tuple(flats), area, problem, solution, None)


def worthwhile_sheets(solution: Solution) -> int:
    """Return how many sheets more save the most strokes for each of them; 0 when none saves any."""
    saved = [
        (Fraction(solution.strokes - strokes, sheets - solution.sheets), solution.sheets - sheets)
        for sheets, strokes in solution.trade
        if sheets > solution.sheets and strokes < solution.strokes
    ]
    return -max(saved)[1] if saved else 0


def gather_backs(packed: Packed, place: Workplace) -> Packed:
    """Return the flats with the two-sided ones on as few sheets as save more work than they cost, on no more sheets.

    Where layouts hold their size here and there, they are packed as one block, and then lie together.
    """
    from kitbuilder.packing.solve import solve  # heavy, as above

    classes = packed.classes
    wanted = Counter(classes.index(_class_of(flat)) for flat in packed.flats if flat.two_sided)
    if not wanted or sum(wanted.values()) == len(packed.flats):
        return packed
    problem, sheets = packed.problem, packed.solution.sheets
    first = best = _gathered(packed.solution, wanted, packed, place)
    if len(wanted) == 1 and sheets <= MOST_SHEETS:
        ((index, count),) = wanted.items()
        ways = blocks_for(count, problem.parts[index], problem.sheet_width_um, problem.sheet_height_um)
        for blocks in islice(ways, MOST_SHAPES):
            if best.sheets_with_backs <= sum(block.demand for block in blocks) and best.strokes <= first.strokes:
                break  # nothing better is to be had
            solution = solve(with_blocks(problem, index, blocks))
            opened = without_blocks(solution, index, blocks, len(problem.parts))
            other = _gathered(opened, wanted, packed, place)
            if other.solution.sheets <= sheets and other.cost < best.cost:
                best = other
    trade = tuple((n, best.strokes if n == sheets else strokes) for n, strokes in packed.solution.trade)
    told = replace(packed.solution, layouts=best.solution.layouts, strokes=best.strokes, trade=trade)
    return replace(packed, solution=told, backed=best.backed)


def _gathered(solution: Solution, wanted: Counter[int], packed: Packed, place: Workplace) -> BackedSolution:
    strokes = [passes(_strokes(layout, packed.area, place)) for layout in solution.layouts]
    return with_few_backs(solution, wanted, strokes, packed.problem.stack)


def _strokes(layout: Layout, area: Rect, place: Workplace) -> tuple[Stroke, ...]:
    lying = moved(layout, area.x_um, area.y_um)
    return plan_cuts(lying, place.width_um, place.height_um, place.blade_um)


def plans_of(packed: Packed, place: Workplace) -> list[SheetPlan]:
    """Return a plan for each layout, flats in the places where each pile comes off as a set in order, then spares."""
    classes, area, layouts = packed.classes, packed.area, packed.solution.layouts
    by_id = {flat.id: flat for flat in packed.flats}
    records = tuple(
        FlatRecord(f.id, classes.index(_class_of(f)), f.set_id, f.colour, order, f.two_sided)
        for order, f in enumerate(packed.flats)
    )
    ordered = order_stacks(records, packed.solution, packed.problem.stack, backed=packed.backed)
    plans = []
    for index, layout in enumerate(layouts):
        filled = {
            (sheet.copy - 1, slot): by_id[key] if key else None
            for sheet in ordered.sheets
            if sheet.layout == index
            for slot, key in enumerate(sheet.keys)
        }
        names = {pile.slot: pile.name.lstrip(LETTERS) for pile in ordered.piles if pile.layout == index}
        numbers = tuple(names.get(slot, str(slot + 1)) for slot in range(len(layout.slots)))
        strokes = _strokes(layout, area, place)
        plans.append(SheetPlan(moved(layout, area.x_um, area.y_um), strokes, filled, numbers))
    if not place.spares:
        return plans
    return list(with_spares(plans, [[f for f in packed.flats if _class_of(f) == key] for key in classes]))


def cutting_area(flats: Iterable[Flat], place: Workplace, two_sided: TwoSided) -> Rect:
    """Return where flats may lie: the inkable area, grown by what every flat keeps clear of ink at its own edge."""
    axis = place.by_hand_axis if two_sided is TwoSided.BY_HAND else two_sided
    ink = ink_area(place.width_um, place.height_um, place.edges, axis)
    clear = min(f.clear_um for f in flats)
    sheet = Rect(0, 0, place.width_um, place.height_um)
    left, top = max(0, ink.x_um - clear), max(0, ink.y_um - clear)
    right, bottom = min(sheet.right_um, ink.right_um + clear), min(sheet.bottom_um, ink.bottom_um + clear)
    return Rect(left, top, right - left, bottom - top)
