"""Stacks are cut in the mind: what comes off at each place, sheet 1 on top, is one set after the other in order."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.imposition.stack_order import FlatRecord, StackOrder, TooFewPlacesError, order_stacks
from kitbuilder.packing.problem import Layout, Slot, Solution


def solution_of(*layouts: Layout) -> Solution:
    return Solution(layouts, 1, "", 0, ())


def row(copies: int, parts: str) -> Layout:
    """A layout typed as digits: one slot for each, side by side."""
    return Layout(copies, tuple(Slot(int(p), 10 * i, 0, 10, 10, False) for i, p in enumerate(parts)), ())


def flats(text: str, size: int = 0) -> tuple[FlatRecord, ...]:
    """Flats typed as sets: "aaab" is three flats of set a and one of set b, colours as sets."""
    return tuple(FlatRecord(f"{size}{s}{i:02}", size, f"{size}{s}", s, i) for i, s in enumerate(text))


def piles_of(order: StackOrder) -> dict[str, str]:
    """Set letters of each pile from top to bottom, a dot for a blank."""
    return {pile.name: "".join("." if key is None else key[1] for key in pile.keys) for pile in order.piles}


def test_each_pile_is_one_set_where_depths_allow() -> None:
    order = order_stacks(flats("aaabbbccc"), solution_of(row(3, "000")), stack=3)
    assert piles_of(order) == {"A1": "aaa", "A2": "bbb", "A3": "ccc"}
    assert [pile.holds for pile in order.piles] == [("0a",), ("0b",), ("0c",)]


def test_set_goes_to_the_pile_of_its_own_depth() -> None:
    order = order_stacks(flats("aabbbb"), solution_of(row(4, "0"), row(2, "0")), stack=5)
    assert piles_of(order) == {"B1": "aa", "A1": "bbbb"}


def test_blank_places_let_a_set_end_its_pile() -> None:
    order = order_stacks(flats("aabb"), solution_of(row(3, "00")), stack=3)
    assert piles_of(order) == {"A1": "aa.", "A2": "bb."}


def test_without_blanks_the_next_set_goes_on_in_the_same_pile() -> None:
    order = order_stacks(flats("aabbbb"), solution_of(row(3, "00")), stack=3)
    assert piles_of(order) == {"A1": "aab", "A2": "bbb"}
    assert order.piles[0].holds == ("0a", "0b")


def test_sheets_name_their_stack_and_place_in_it() -> None:
    order = order_stacks(flats("aaaaa"), solution_of(row(5, "0")), stack=2)
    assert [(s.copy, s.stack, s.position_in_stack) for s in order.sheets] == [
        (1, 1, 1), (2, 1, 2), (3, 2, 1), (4, 2, 2), (5, 3, 1),
    ]  # fmt: skip
    assert [s.keys[0] for s in order.sheets] == ["0a00", "0a01", "0a02", "0a03", "0a04"]


def test_piles_of_one_colour_lie_side_by_side() -> None:
    records = tuple(FlatRecord(str(i), 0, f"set{i}", colour, i) for i, colour in enumerate("rgrg"))
    order = order_stacks(records, solution_of(row(1, "0000")), stack=1)
    assert order.sheets[0].keys == ("0", "2", "1", "3")


def test_layout_letters_go_on_from_the_first_letter() -> None:
    order = order_stacks(flats("a"), solution_of(row(1, "0"), row(1, "0")), stack=1, first_letter=2)
    assert [pile.name for pile in order.piles] == ["C1", "D1"]
    assert order.piles[1].keys == (None,)


def test_more_flats_than_places_is_refused() -> None:
    with pytest.raises(TooFewPlacesError) as caught:
        order_stacks(flats("aaa"), solution_of(row(1, "00")), stack=1)
    assert (caught.value.size, caught.value.flats, caught.value.slots) == (0, 3, 2)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 6), st.text("01", min_size=1, max_size=5)), min_size=1, max_size=4),
    st.data(),
    st.integers(1, 4),
)
def test_cutting_the_stacks_gives_every_flat_once_and_each_pile_in_order(
    shapes: list[tuple[int, str]], data: st.DataObject, stack: int
) -> None:
    layouts = [row(copies, parts) for copies, parts in shapes]
    records: list[FlatRecord] = []
    for size in (0, 1):
        room = sum(copies * parts.count(str(size)) for copies, parts in shapes)
        text = data.draw(st.text("abc", max_size=room).map(lambda t: "".join(sorted(t))))
        records += flats(text, size)
    order = order_stacks(tuple(records), solution_of(*layouts), stack)
    seen: list[str] = []
    known = {record.key: record for record in records}
    for pile in order.piles:
        cut = [sheet.keys[pile.slot] for sheet in order.sheets if sheet.layout == pile.layout]
        assert tuple(cut) == pile.keys
        held = [known[key] for key in cut if key is not None]
        assert [r.order for r in held] == sorted(r.order for r in held)
        assert {layouts[pile.layout].slots[pile.slot].part} >= {r.size for r in held}
        seen += [r.key for r in held]
    assert sorted(seen) == sorted(known)
    assert all(sheet.position_in_stack <= stack for sheet in order.sheets)
