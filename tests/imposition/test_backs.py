"""Backs lie on few sheets: which copies carry them, which flats go there, and blocks that keep cards together."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.artwork.frame import Frame
from kitbuilder.imposition.backs import with_few_backs
from kitbuilder.imposition.blocks import Block, blocks_for, with_blocks, without_blocks
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.ganging import gang
from kitbuilder.imposition.place import StockPlan, Workplace
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.imposition.stack_order import FlatRecord, order_stacks
from kitbuilder.measure.geometry import Insets
from kitbuilder.measure.length import mm
from kitbuilder.packing.check import faults
from kitbuilder.packing.problem import Layout, Part, Problem, Slot, Solution
from kitbuilder.packing.solve import solve


def row(copies: int, parts: str) -> Layout:
    """A layout typed as digits: one slot for each, side by side."""
    return Layout(copies, tuple(Slot(int(p), 10 * i, 0, 10, 10, False) for i, p in enumerate(parts)), ())


def solution_of(*layouts: Layout) -> Solution:
    return Solution(layouts, 1, "", 0, ())


def test_two_sided_flats_take_the_sheets_that_hold_most_of_them() -> None:
    found = with_few_backs(solution_of(row(2, "01"), row(3, "0011"), row(1, "11")), {0: 4}, (5, 7, 2), 10)
    assert [layout.copies for layout in found.solution.layouts] == [2, 2, 1, 1]
    assert (found.backed, found.sheets_with_backs) == (1, 2)
    assert found.strokes == 5 + 7 + 7 + 2, "copies with and without backs are cut apart"


def test_of_equal_layouts_the_one_that_need_not_be_parted_carries_the_backs() -> None:
    found = with_few_backs(solution_of(row(3, "0"), row(2, "0")), {0: 2}, (5, 5), 10)
    assert [layout.copies for layout in found.solution.layouts] == [2, 3]
    assert (found.backed, found.strokes) == (1, 10)


@settings(deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(st.integers(1, 3), st.text("01", min_size=1, max_size=4)), min_size=1, max_size=4),
    st.data(),
)
def test_no_fewer_sheets_hold_what_has_a_back(shapes: list[tuple[int, str]], data: st.DataObject) -> None:
    layouts = tuple(row(*shape) for shape in shapes)
    room = [sum(copies * parts.count(str(size)) for copies, parts in shapes) for size in (0, 1)]
    wanted = {size: data.draw(st.integers(0, room[size])) for size in (0, 1)}
    found = with_few_backs(solution_of(*layouts), wanted, [1] * len(layouts), 2)
    backed = found.solution.layouts[: found.backed]
    for size, count in wanted.items():
        assert sum(one.copies * sum(slot.part == size for slot in one.slots) for one in backed) >= count
    ways = product(*(range(copies + 1) for copies, _ in shapes))
    least = min(
        sum(way)
        for way in ways
        if all(
            sum(n * parts.count(str(size)) for n, (_, parts) in zip(way, shapes, strict=True)) >= count
            for size, count in wanted.items()
        )
    )
    assert found.sheets_with_backs == least
    assert found.solution.sheets == sum(copies for copies, _ in shapes)


def records(text: str) -> tuple[FlatRecord, ...]:
    """Flats of one size typed as sets; capital letters are two-sided."""
    return tuple(FlatRecord(f"{s}{i:02}", 0, s, s, i, s.isupper()) for i, s in enumerate(text))


def test_two_sided_flats_lie_in_the_layouts_with_backs_and_others_beside_them_only_for_want_of_room() -> None:
    order = order_stacks(records("aaBBBccc"), solution_of(row(2, "00"), row(2, "00")), 5, backed=1)
    piles = {pile.name: "".join("." if key is None else key[0] for key in pile.keys) for pile in order.piles}
    assert {name: pile for name, pile in piles.items() if "B" in pile} == {"A1": "BB", "A2": "Bc"}
    assert sorted(piles[name] for name in ("B1", "B2")) == ["aa", "cc"]
    order = order_stacks(records("aaccBB"), solution_of(row(3, "0"), row(4, "0")), 5, backed=1)
    assert [pile.keys for pile in order.piles if pile.layout == 0] == [("B04", "B05", None)]


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.integers(1, 5), st.integers(1, 4)), min_size=1, max_size=4), st.data())
def test_piles_with_backs_are_in_order_too(shapes: list[tuple[int, int]], data: st.DataObject) -> None:
    layouts = [row(copies, "0" * wide) for copies, wide in shapes]
    backed = data.draw(st.integers(1, len(shapes)))
    room = sum(copies * wide for copies, wide in shapes)
    held = sum(copies * wide for copies, wide in shapes[:backed])
    letters = data.draw(st.text("abcAB", max_size=room).map(lambda t: "".join(sorted(t, key=str.lower))))
    letters = "".join(x if sum(y.isupper() for y in letters[: i + 1]) <= held else "c" for i, x in enumerate(letters))
    known = {r.key: r for r in records(letters)}
    order = order_stacks(tuple(known.values()), solution_of(*layouts), 3, backed=backed)
    assert sorted(key for sheet in order.sheets for key in sheet.keys if key) == sorted(known)
    for pile in order.piles:
        found = [known[key] for key in pile.keys if key]
        assert [r.order for r in found] == sorted(r.order for r in found)
        assert pile.layout < backed or not any(r.two_sided for r in found)


def test_blocks_are_whole_sheets_and_one_of_what_is_left_in_all_its_shapes() -> None:
    card = Part(62, 87, 0)
    assert list(blocks_for(3, card, 200, 284)) == [(Block(3, 1, 1),), (Block(1, 3, 1),), (Block(2, 2, 1),)]
    assert list(blocks_for(18, card, 200, 284)) == [(Block(3, 3, 2),)]
    assert list(blocks_for(11, card, 200, 284)) == [
        (Block(3, 3, 1), Block(2, 1, 1)),
        (Block(3, 3, 1), Block(1, 2, 1)),
    ]
    assert list(blocks_for(1, card, 60, 284)) == [], "it does not fit"


@pytest.mark.parametrize("count", [3, 5, 11])
def test_a_block_is_cut_into_its_flats(count: int) -> None:
    """The judge of solutions finds every flat freed by cuts from edge to edge."""
    cards, tiles = Part(62_000, 87_000, count), Part(43_000, 31_000, 40)
    problem = Problem(200_000, 284_000, (cards, tiles))
    for blocks in blocks_for(count, cards, 200_000, 284_000):
        opened = without_blocks(solve(with_blocks(problem, 0, blocks)), 0, blocks, 2)
        assert faults(problem, opened) == ()
        layouts = [sum(slot.part == 0 for slot in layout.slots) for layout in opened.layouts]
        assert sum(bool(n) for n in layouts) <= len(blocks)


def flat(name: str, width: int, height: int, *, back: bool) -> Flat:
    frame = Frame(width * 1000, height * 1000, ())
    size = (frame.width_um, frame.height_um)
    return Flat(name, name, name[:2], "card", 1, None, (0, 1), 1, "card", True, *size, frame, frame if back else None)


def test_few_sheets_are_fed_twice_where_cards_and_other_pieces_share_sheets() -> None:
    card = StockPlan("card", TwoSided.BY_HAND, 5)
    edges = Insets(mm(5), mm(5), mm(5), mm(8))
    place = Workplace("a4", 210_000, 297_000, edges, 320_000, {"card": card})
    flats = [flat(f"A{i}", 62, 87, back=True) for i in range(3)]
    flats += [flat(f"B{i}", 62, 43, back=False) for i in range(22)]
    flats += [flat(f"C{i}", 76, 38, back=False) for i in range(20)]
    flats += [flat(f"D{i}", 46, 22, back=False) for i in range(60)]
    runs = gang(flats, place)
    sheets = [sheet for run in runs for sheet in run.sheets]
    pieces = Counter(p.flat.id for sheet in sheets for p in sheet.placements if p.flat.role == "piece")
    assert pieces == Counter(f.id for f in flats)
    assert sum(sheet.has_back for sheet in sheets) == 1
    assert not any(p.flat.two_sided for sheet in sheets if not sheet.has_back for p in sheet.placements)
