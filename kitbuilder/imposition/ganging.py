"""Which flats share a sheet: flats in, runs of sheets out, one run for each stock and way of printing both sides."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from kitbuilder.imposition.cut_plan import letters, plan_cuts
from kitbuilder.imposition.division import DividedSheet, divide
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.labels import label_run
from kitbuilder.imposition.registration import ink_area
from kitbuilder.imposition.sheets import PrintSetup, Run, TwoSided
from kitbuilder.imposition.stack_order import FlatRecord, order_stacks
from kitbuilder.imposition.stacking import SheetPlan, build_run, fill_in_order, split_by_backs, with_spares
from kitbuilder.measure.geometry import Insets, Rect
from kitbuilder.packing.problem import Layout, Part, Problem, Slot, Solution, Waste, moved

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class StockPlan:
    """What ganging must know of a stock: how it is printed on both sides, how many sheets are cut together.

    `labels` are the places of ready-cut labels on their sheet.
    """

    name: str
    two_sided: TwoSided
    stack: int
    labels: tuple[Rect, ...] = ()


@dataclass(frozen=True, slots=True)
class Workplace:
    """Sheet, printer and trimmer, in the plain numbers that layouts need."""

    paper: str
    width_um: int
    height_um: int
    edges: Insets
    blade_um: int
    stocks: Mapping[str, StockPlan]
    spares: bool = True
    few_strokes: bool = False  # spend sheets where that saves the most strokes for each
    seed: int = 1
    by_hand_axis: TwoSided = TwoSided.LONG


def gang(flats: Iterable[Flat], place: Workplace) -> tuple[Run, ...]:
    """Return the runs, in the order to print them: plain two-sided first, then what is loaded after it.

    One-sided flats join the two-sided ones of their stock only where that saves a sheet.
    """
    by_stock: dict[str, list[Flat]] = defaultdict(list)
    for flat in flats:
        by_stock[flat.stock].append(flat)
    runs: list[Run] = []
    for stock in place.stocks:
        if stock in by_stock:
            runs += _runs_of_stock(by_stock[stock], place.stocks[stock], place, len(runs))
    return tuple(named_layouts(runs))


def _runs_of_stock(flats: list[Flat], stock: StockPlan, place: Workplace, first: int) -> list[Run]:
    if stock.labels:
        return [label_run(flats, stock, place)]
    double = [f for f in flats if f.two_sided]
    single = [f for f in flats if not f.two_sided]
    if not double or not single:
        return [_run(flats, stock, place, stock.two_sided if double else TwoSided.NO)]
    apart = [_run(double, stock, place, stock.two_sided), _run(single, stock, place, TwoSided.NO)]
    if any(f.division == 0 for f in double) and any(f.division == 0 for f in single):
        together = _run(flats, stock, place, stock.two_sided)
        if len(together.sheets) < sum(len(run.sheets) for run in apart):
            return list(split_by_backs(together, stock.stack))
    return apart


def _run(flats: list[Flat], stock: StockPlan, place: Workplace, two_sided: TwoSided) -> Run:
    setup = PrintSetup(stock.name, two_sided, place.paper, place.width_um, place.height_um)
    plans: list[SheetPlan] = []
    bound = 0
    bound_name: list[str] = []
    trade: tuple[tuple[int, int], ...] = ((0, 0),)
    for packed in _packed_groups([f for f in flats if not f.division], place, two_sided):
        plan, solution = _packed(packed, stock, place, two_sided)
        plans += plan
        bound += solution.lower_bound
        bound_name.append(solution.bound)
        done = trade[0]  # of a first group, if there was one: its fewest sheets
        trade = tuple((n + done[0], strokes + done[1]) for n, strokes in solution.trade)
    for group in _divided_groups(f for f in flats if f.division):
        plan_divided, sheets = _divided(group, place)
        plans.append(plan_divided)
        bound += sheets
        bound_name.append("sheets divided without waste")
        trade = tuple((n + sheets, strokes) for n, strokes in trade)
    return build_run(setup, tuple(plans), stock.stack, bound, "; ".join(dict.fromkeys(bound_name)), trade)


def _packed_groups(flats: list[Flat], place: Workplace, two_sided: TwoSided) -> Iterator[list[Flat]]:
    """Yield the flats that can share sheets, then those too large for that: alone they have more room.

    Flats whose ink stays far inside may lie nearer to the sheet's edge; with others on the sheet the least counts.
    """
    if not flats:
        return
    area = cutting_area(flats, place, two_sided)
    fitting = [f for f in flats if _lies_in(f, area)]
    if fitting:
        yield fitting
    large = [f for f in flats if not _lies_in(f, area)]
    for clear in sorted({f.clear_um for f in large}):
        yield [f for f in large if f.clear_um == clear]


def _lies_in(flat: Flat, area: Rect) -> bool:
    upright = flat.width_um <= area.width_um and flat.height_um <= area.height_um
    turned = flat.height_um <= area.width_um and flat.width_um <= area.height_um
    return upright or (turned and flat.may_turn)


def _packed(
    flats: list[Flat], stock: StockPlan, place: Workplace, two_sided: TwoSided
) -> tuple[list[SheetPlan], Solution]:
    # highspy and numpy are loaded only when something has to be packed
    from kitbuilder.packing.solve import solve

    area = cutting_area(flats, place, two_sided)
    classes = sorted({(f.width_um, f.height_um, f.may_turn) for f in flats})
    members = {key: tuple(f for f in flats if (f.width_um, f.height_um, f.may_turn) == key) for key in classes}
    parts = tuple(Part(w, h, len(members[w, h, turn]), turn) for w, h, turn in classes)
    waste = Waste(area.x_um, area.y_um, place.width_um - area.right_um, place.height_um - area.bottom_um)
    problem = Problem(
        area.width_um,
        area.height_um,
        parts,
        blade_um=place.blade_um,
        stack=stock.stack,
        seed=place.seed,
        waste=waste,
    )
    solution = solve(problem)
    extra = worthwhile_sheets(solution) if place.few_strokes else 0
    if extra:
        solution = solve(replace(problem, extra_sheets=extra))
    plans = _sorted_piles(flats, classes, solution, stock.stack, area, place)
    return list(with_spares(plans, [members[key] for key in classes]) if place.spares else plans), solution


def worthwhile_sheets(solution: Solution) -> int:
    """Return how many sheets more save the most strokes for each of them; 0 when none saves any."""
    saved = [
        (Fraction(solution.strokes - strokes, sheets - solution.sheets), solution.sheets - sheets)
        for sheets, strokes in solution.trade
        if sheets > solution.sheets and strokes < solution.strokes
    ]
    return -max(saved)[1] if saved else 0


def _sorted_piles(
    flats: list[Flat],
    classes: list[tuple[int, int, bool]],
    solution: Solution,
    stack: int,
    area: Rect,
    place: Workplace,
) -> tuple[SheetPlan, ...]:
    """Return a plan for each layout, flats in the places where each pile comes off as a set in order."""
    sizes = {key: index for index, key in enumerate(classes)}
    by_id = {flat.id: flat for flat in flats}
    records = tuple(
        FlatRecord(f.id, sizes[f.width_um, f.height_um, f.may_turn], f.set_id, f.colour, order)
        for order, f in enumerate(flats)
    )
    ordered = order_stacks(records, solution, stack)
    plans = []
    for index, layout in enumerate(solution.layouts):
        filled = {
            (sheet.copy - 1, slot): by_id[key] if key else None
            for sheet in ordered.sheets
            if sheet.layout == index
            for slot, key in enumerate(sheet.keys)
        }
        names = {pile.slot: pile.name.lstrip(LETTERS) for pile in ordered.piles if pile.layout == index}
        lying = moved(layout, area.x_um, area.y_um)
        strokes = plan_cuts(lying, place.width_um, place.height_um, place.blade_um)
        numbers = tuple(names.get(slot, str(slot + 1)) for slot in range(len(layout.slots)))
        plans.append(SheetPlan(lying, strokes, filled, numbers))
    return tuple(plans)


def cutting_area(flats: Iterable[Flat], place: Workplace, two_sided: TwoSided) -> Rect:
    """Return where flats may lie: the inkable area, grown by what every flat keeps clear of ink at its own edge."""
    axis = place.by_hand_axis if two_sided is TwoSided.BY_HAND else two_sided
    ink = ink_area(place.width_um, place.height_um, place.edges, axis)
    clear = min(f.clear_um for f in flats)
    sheet = Rect(0, 0, place.width_um, place.height_um)
    left, top = max(0, ink.x_um - clear), max(0, ink.y_um - clear)
    right, bottom = min(sheet.right_um, ink.right_um + clear), min(sheet.bottom_um, ink.bottom_um + clear)
    return Rect(left, top, right - left, bottom - top)


def _divided_groups(flats: Iterable[Flat]) -> Iterator[tuple[Flat, ...]]:
    groups: dict[tuple[int, int, int], list[Flat]] = defaultdict(list)
    for flat in flats:
        groups[flat.division, flat.width_um, flat.height_um].append(flat)
    for key in sorted(groups):
        # whole pages are not cut: they leave the printer week by week, and in a week child by child
        yield tuple(sorted(groups[key], key=_by_week_and_child) if key[0] == 1 else groups[key])


def _by_week_and_child(flat: Flat) -> tuple[bool, int, str]:
    return (not flat.durable, flat.unit, flat.learner or "")


def _divided(flats: tuple[Flat, ...], place: Workplace) -> tuple[SheetPlan, int]:
    first = flats[0]
    divided: DividedSheet = divide(first.width_um, first.height_um, place.width_um, place.height_um, first.division)
    slots = tuple(
        Slot(0, p.area.x_um, p.area.y_um, p.area.width_um, p.area.height_um, bool(p.quarter_turns))
        for p in divided.places
    )
    sheets = -(-len(flats) // len(slots))
    layout = Layout(sheets, slots, divided.cuts)
    strokes = plan_cuts(layout, place.width_um, place.height_um, place.blade_um)
    # flats of one piece lie side by side on one sheet: a booklet comes out of the printer whole
    numbers = tuple(str(slot + 1) for slot in range(len(slots)))
    return SheetPlan(layout, strokes, fill_in_order(layout, flats), numbers), sheets


def named_layouts(runs: Iterable[Run]) -> Iterator[Run]:
    """Yield the runs with layouts called A, B, ... through the pack, and piles named after them."""
    number = 0
    for run in runs:
        names = {layout.id: letters(number + i) for i, layout in enumerate(run.layouts)}
        number += len(run.layouts)
        yield _renamed(run, names)


def _renamed(run: Run, names: Mapping[str, str]) -> Run:
    layouts = {layout.id: replace(layout, id=names[layout.id]) for layout in run.layouts}
    sheets = tuple(
        replace(
            sheet,
            layout=layouts[sheet.layout.id],
            placements=tuple(replace(p, pile=names[sheet.layout.id] + _digits(p.pile)) for p in sheet.placements),
        )
        for sheet in run.sheets
    )
    piles = tuple(replace(p, id=names[p.layout] + _digits(p.id), layout=names[p.layout]) for p in run.piles)
    return replace(run, sheets=sheets, layouts=tuple(layouts.values()), piles=piles)


def _digits(pile: str) -> str:
    return pile.lstrip(LETTERS)
