"""Divided sheets: exact parts, every part a place, every place freed by the cuts."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.imposition.division import divide, division_of, part_size
from kitbuilder.measure.geometry import Rect

A4 = (210_000, 297_000)


@pytest.mark.parametrize(
    ("division", "part"),
    # ISO 216 halves the sheet; its A5, A6, A7 are rounded down to whole millimetres, a cut sheet is not.
    [(1, (210_000, 297_000)), (2, (210_000, 148_500)), (4, (105_000, 148_500)), (8, (105_000, 74_250))],
)
def test_a4_is_divided_exactly_not_into_rounded_a_sizes(division, part):
    assert part_size(division, *A4) == part
    divided = divide(*part, *A4)
    assert len(divided.places) == division
    assert sum(p.area.width_um * p.area.height_um for p in divided.places) == 210_000 * 297_000


def test_quarters_of_a4_drawn():
    divided = divide(148_500, 105_000, *A4)  # landscape flats: turned a quarter to stand in the upright quarters
    assert [(p.area, p.quarter_turns) for p in divided.places] == [
        (Rect(0, 0, 105_000, 148_500), 1), (Rect(105_000, 0, 105_000, 148_500), 1),
        (Rect(0, 148_500, 105_000, 148_500), 1), (Rect(105_000, 148_500, 105_000, 148_500), 1),
    ]  # fmt: skip
    assert [(c.axis, c.at_um, c.from_um, c.to_um, c.stage) for c in divided.cuts] == [
        ("y", 148_500, 0, 210_000, 1), ("x", 105_000, 0, 148_500, 2), ("x", 105_000, 148_500, 297_000, 2),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("flat", "sheet", "division", "turns"),
    [
        ((297_000, 210_000), A4, 1, 1),  # an A5 booklet's spread on a portrait sheet
        ((297_000, 210_000), A4[::-1], 1, 0),
        ((210_000, 148_500), A4, 2, 0),
        ((148_500, 210_000), A4, 2, 1),
        ((148_500, 210_000), A4[::-1], 2, 0),
        ((139_700, 215_900), (215_900, 279_400), 2, 1),  # half letter
        ((107_950, 139_700), (215_900, 279_400), 4, 0),
        ((215_900, 177_800), (215_900, 355_600), 2, 0),  # half legal
    ],
)
def test_flats_find_their_division_and_turn(flat, sheet, division, turns):
    assert division_of(*flat, *sheet) == division
    assert {p.quarter_turns for p in divide(*flat, *sheet).places} == {turns}


@pytest.mark.parametrize("flat", [(148_000, 210_000), (105_000, 148_000), (62_000, 87_000), (70_000, 297_000)])
def test_a_size_that_is_no_part_of_the_sheet_is_packed_not_divided(flat):
    assert division_of(*flat, *A4) == 0
    with pytest.raises(ValueError, match="no part of a sheet"):
        divide(*flat, *A4)


@settings(deadline=None, derandomize=True)
@given(
    sheet=st.tuples(st.integers(90_000, 450_000), st.integers(90_000, 450_000)),
    division=st.sampled_from([1, 2, 4, 8]),
    turned=st.booleans(),
)
def test_the_cuts_free_every_place_on_any_sheet(paper, sheet, division, turned):
    part = part_size(division, *sheet)
    divided = divide(*(part[::-1] if turned else part), *sheet, division)
    pieces = paper.cut(paper.Sheet(*sheet), divided.cuts)
    assert len(pieces) == len(divided.places) == division
    for place in divided.places:
        a = place.area
        around = [
            p for p in pieces
            if p.left <= 2 * a.x_um - sheet[0] and p.right >= 2 * a.right_um - sheet[0]
            and p.top <= 2 * a.y_um - sheet[1] and p.bottom >= 2 * a.bottom_um - sheet[1]
        ]  # fmt: skip
        assert len(around) == 1
        assert around[0].right - around[0].left - 2 * a.width_um <= 2 * 1
        assert around[0].bottom - around[0].top - 2 * a.height_um <= 2 * 1
