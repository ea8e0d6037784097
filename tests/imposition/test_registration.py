"""Backs behind fronts: proved by turning imagined paper, not by the formulas under test."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.artwork.frame import Frame, Text
from kitbuilder.imposition.registration import (
    BACK_ALLOWANCE_UM,
    NO_OFFSET,
    BackOffset,
    back_area,
    back_keep_clear,
    ink_area,
    turns_about_vertical,
)
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.measure.geometry import Insets, Rect
from kitbuilder.measure.length import Length, mm

SHEETS = {
    "A4": (210_000, 297_000),
    "Letter": (215_900, 279_400),
    "Legal": (215_900, 355_600),
    "A3": (297_000, 420_000),
    "Tabloid": (279_400, 431_800),
    "custom": (123_457, 200_001),
}


def both_faces(paper, sheet, area, turns, edge, offset=NO_OFFSET):
    """The word on the front and the word on the back of one card, printed and turned on real paper."""
    w, h = (area.width_um, area.height_um)[:: -1 if turns % 2 else 1]
    u, v = w // 4, h // 5
    front = Frame(w, h, (Text(u, v, "front", "Andika", 1_000),))
    back = Frame(w, h, (Text(w - u, v, "back", "Andika", 1_000),))  # behind it, once the card is turned over
    where, back_turns = back_area(area, turns, *sheet, TwoSided(edge), offset)
    printed = paper.print_both(
        sheet, [(area.x_um, area.y_um, turns, front)], [(where.x_um, where.y_um, back_turns, back)], edge
    )
    return printed.marks


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("landscape", [False, True])
@pytest.mark.parametrize("edge", ["long", "short"])
@pytest.mark.parametrize("turns", range(4))
def test_every_back_lies_behind_its_front_and_stands_upright(paper, name, landscape, edge, turns):
    sheet = SHEETS[name][::-1] if landscape else SHEETS[name]
    width, height = (62_000, 87_000)[:: -1 if turns % 2 else 1]
    front, back = both_faces(paper, sheet, Rect(7_001, 11_003, width, height), turns, edge)
    assert back.at == front.at
    assert back.up == front.up
    assert (front.faces, back.faces) == (paper.TOWARD_READER, paper.AWAY)


@settings(deadline=None, derandomize=True)
@given(
    x=st.integers(0, 300_000), y=st.integers(0, 300_000), width=st.integers(1_000, 200_000),
    height=st.integers(1_000, 200_000), turns=st.integers(0, 3), edge=st.sampled_from(["long", "short"]),
    sheet=st.tuples(st.integers(90_000, 450_000), st.integers(90_000, 450_000)),
)  # fmt: skip
def test_turning_the_back_again_gives_the_front(x, y, width, height, turns, edge, sheet):
    area = Rect(x, y, width, height)
    once = back_area(area, turns, *sheet, TwoSided(edge))
    assert back_area(*once, *sheet, TwoSided(edge)) == (area, turns)


@pytest.mark.parametrize(
    ("edge", "sheet", "move"),
    # Right and down on the back page, as the paper's own front sees it after turning: about the vertical axis right
    # becomes left; about the horizontal axis down becomes up.
    [
        ("long", (210_000, 297_000), (-1_500, 700)),
        ("short", (210_000, 297_000), (1_500, -700)),
        ("long", (297_000, 210_000), (1_500, -700)),
        ("short", (297_000, 210_000), (-1_500, 700)),
    ],
)
@pytest.mark.parametrize("turns", range(4))
def test_an_offset_moves_backs_by_exactly_that_whatever_the_mode(paper, edge, sheet, move, turns):
    area = Rect(20_000, 30_000, 60_000, 60_000)
    front, back = both_faces(paper, sheet, area, turns, edge, BackOffset(1_500, 700))
    assert (back.at[0] - front.at[0], back.at[1] - front.at[1]) == (2 * move[0], 2 * move[1])
    plain, _ = back_area(area, turns, *sheet, TwoSided(edge))
    moved, _ = back_area(area, turns, *sheet, TwoSided(edge), BackOffset(1_500, 700))
    assert (moved.x_um - plain.x_um, moved.y_um - plain.y_um) == (1_500, 700)


def test_scale_moves_backs_away_from_the_centre_and_leaves_their_size():
    """0.3 % of the 75 mm from the sheet's centre to the card's: 0.225 mm; a card in the middle stays."""
    corner = Rect(0, 118_500, 60_000, 60_000)
    plain, _ = back_area(corner, 0, 210_000, 297_000, TwoSided.LONG)
    scaled, _ = back_area(corner, 0, 210_000, 297_000, TwoSided.LONG, BackOffset(scale_ppm=3_000))
    assert (scaled.x_um - plain.x_um, scaled.y_um - plain.y_um) == (225, 0)
    assert (scaled.width_um, scaled.height_um) == (60_000, 60_000)
    other, _ = back_area(
        Rect(150_000, 118_500, 60_000, 60_000), 0, 210_000, 297_000, TwoSided.LONG, BackOffset(0, 0, 3_000)
    )
    assert other.x_um == -225


def test_an_offset_of_forty_millimetres_is_refused_with_what_to_do():
    with pytest.raises(ValueError, match=r"40 mm is more than 10 mm; print the test sheet again"):
        BackOffset(0, -40_000)
    with pytest.raises(ValueError, match="actual size"):
        BackOffset(scale_ppm=-30_000)


@pytest.mark.parametrize("mode", [TwoSided.NO, TwoSided.BY_HAND])
def test_a_mode_without_an_edge_is_not_guessed(mode):
    with pytest.raises(ValueError, match="names no edge"):
        turns_about_vertical(mode, 210_000, 297_000)


EDGES = Insets(mm(4), mm(5), mm(6), mm(8))


def test_one_sided_sheets_use_each_edge_as_it_is():
    assert ink_area(210_000, 297_000, EDGES, TwoSided.NO) == Rect(4_000, 5_000, 200_000, 284_000)


@pytest.mark.parametrize("mode", [TwoSided.LONG, TwoSided.SHORT, TwoSided.BY_HAND])
@pytest.mark.parametrize("sheet", [(210_000, 297_000), (297_000, 210_000)])
def test_two_sided_ink_lies_inside_both_sides_however_the_sheet_was_turned(mode, sheet):
    """The front's area and, turned either way, the back's area, with either end of the sheet fed first."""
    area = ink_area(*sheet, EDGES, mode)
    fed = [(4_000, 5_000, 6_000, 8_000), (6_000, 5_000, 4_000, 8_000)]
    fed += [(left, bottom, right, top) for left, top, right, bottom in fed]
    if sheet[0] > sheet[1]:
        fed = [(top, left, bottom, right) for left, top, right, bottom in fed]
    for edges in fed:
        assert Rect(0, 0, *sheet).inset(*edges).contains(area)
    assert area.width_um * area.height_um == (210_000 - 12_000) * (297_000 - 16_000)


def test_back_faces_keep_two_millimetres_at_least():
    """Twice the 1 mm front against back that two makers' service manuals give after adjustment."""
    assert BACK_ALLOWANCE_UM == 2_000
    assert back_keep_clear(Insets(mm(0), mm(1), mm(3), mm(2))) == Insets(mm(2), mm(2), mm(3), mm(2))
    assert back_keep_clear(Insets.even(Length(0))) == Insets.even(mm(2))
