"""Which flats share a sheet: flats in, runs of sheets out, one run for each stock and way of printing both sides."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from kitbuilder.imposition.cut_plan import letters, plan_cuts
from kitbuilder.imposition.division import DividedSheet, divide
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.labels import label_run
from kitbuilder.imposition.packed_sheets import LETTERS, Packed, cutting_area, gather_backs, pack_flats, plans_of
from kitbuilder.imposition.place import StockPlan, Workplace
from kitbuilder.imposition.sheets import PrintSetup, Run, TwoSided
from kitbuilder.imposition.stacking import SheetPlan, build_run, fill_in_order, split_by_backs
from kitbuilder.measure.geometry import Rect
from kitbuilder.packing.problem import Layout, Slot


def gang(flats: Iterable[Flat], place: Workplace) -> tuple[Run, ...]:
    """Return the runs, in the order to print them: plain two-sided first, then what is loaded after it.

    One-sided flats join the two-sided ones of their stock only where that saves a sheet. These then lie on few sheets.
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
        groups = _packed(flats, stock, place, stock.two_sided)
        divided = tuple(_divided(group, place) for group in _divided_groups(flats))
        sheets = sum(g.solution.sheets for g in groups) + sum(plan.layout.copies for plan in divided)
        if sheets < sum(len(run.sheets) for run in apart):
            gathered = [gather_backs(group, place) for group in groups]
            return list(split_by_backs(_built(gathered, divided, stock, place, stock.two_sided), stock.stack))
    return apart


def _run(flats: list[Flat], stock: StockPlan, place: Workplace, two_sided: TwoSided) -> Run:
    divided = tuple(_divided(group, place) for group in _divided_groups(flats))
    return _built(_packed(flats, stock, place, two_sided), divided, stock, place, two_sided)


def _packed(flats: list[Flat], stock: StockPlan, place: Workplace, two_sided: TwoSided) -> list[Packed]:
    groups = _packed_groups([f for f in flats if not f.division], place, two_sided)
    return [pack_flats(group, stock, place, two_sided) for group in groups]


def _built(
    groups: Sequence[Packed],
    divided: Sequence[SheetPlan],
    stock: StockPlan,
    place: Workplace,
    two_sided: TwoSided,
) -> Run:
    setup = PrintSetup(stock.name, two_sided, place.paper, place.width_um, place.height_um)
    plans: list[SheetPlan] = []
    bound = 0
    bound_name: list[str] = []
    trade: tuple[tuple[int, int], ...] = ((0, 0),)
    for packed in groups:
        plans += plans_of(packed, place)
        bound += packed.solution.lower_bound
        bound_name.append(packed.solution.bound)
        done = trade[0]  # of a first group, if there was one: its fewest sheets
        trade = tuple((n + done[0], strokes + done[1]) for n, strokes in packed.solution.trade)
    for plan in divided:
        plans.append(plan)
        bound += plan.layout.copies
        bound_name.append("sheets divided without waste")
        trade = tuple((n + plan.layout.copies, strokes) for n, strokes in trade)
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


def _divided_groups(flats: Iterable[Flat]) -> Iterator[tuple[Flat, ...]]:
    groups: dict[tuple[int, int, int], list[Flat]] = defaultdict(list)
    for flat in flats:
        if flat.division:
            groups[flat.division, flat.width_um, flat.height_um].append(flat)
    for key in sorted(groups):
        # whole pages are not cut: they leave the printer week by week, and in a week child by child
        yield tuple(sorted(groups[key], key=_by_week_and_child) if key[0] == 1 else groups[key])


def _by_week_and_child(flat: Flat) -> tuple[bool, int, str]:
    return (not flat.durable, flat.unit, flat.learner or "")


def _divided(flats: tuple[Flat, ...], place: Workplace) -> SheetPlan:
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
    return SheetPlan(layout, strokes, fill_in_order(layout, flats), numbers)


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
