"""Punched holes and rings: where paper has to stay free."""

from __future__ import annotations

import itertools

import pytest

from kitbuilder.imposition.binding import Punch, hole_circles, mirrored, punch_insets, ring_circle, ring_insets, wider
from kitbuilder.measure.geometry import Insets, Rect
from kitbuilder.measure.length import Length, inch, mm

A4 = (210_000, 297_000)
LETTER = (215_900, 279_400)


def test_two_holes_are_those_of_iso_838():
    """ISO 838: centres 80 mm apart, 12 mm from the edge, centred on it (as quoted by two encyclopaedias)."""
    upper, lower = hole_circles(Punch.TWO_HOLE, *A4, "left")
    assert (upper.x_um, lower.x_um) == (12_000, 12_000)
    assert lower.y_um - upper.y_um == 80_000
    assert upper.y_um + lower.y_um == 297_000


def test_three_holes_are_four_and_a_quarter_inches_apart():
    """US practice, 4.25 in between centres (as quoted by an encyclopaedia; no standard fixes edge or diameter)."""
    circles = hole_circles(Punch.THREE_HOLE, *LETTER, "right")
    assert [b.y_um - a.y_um for a, b in itertools.pairwise(circles)] == [inch("4.25").um] * 2
    assert circles[1].y_um == LETTER[1] // 2
    assert {c.x_um for c in circles} == {LETTER[0] - 12_000}


@pytest.mark.parametrize("punch", [Punch.TWO_HOLE, Punch.THREE_HOLE])
@pytest.mark.parametrize("edge", ["left", "right", "top"])
def test_the_margin_clears_every_hole_with_its_tolerances(punch, edge):
    """6.5 mm hole, 1 mm edge and 0.5 mm spacing tolerance (ISO 838): under 5 mm from the centre, kept clear to 10."""
    insets = punch_insets(punch, edge)
    text = Rect(0, 0, *A4).inset(insets.left.um, insets.top.um, insets.right.um, insets.bottom.um)
    circles = hole_circles(punch, *A4, edge)
    assert circles
    assert not any(c.touches(text) for c in circles)
    wide = Rect(0, 0, *A4).inset(*(max(0, i.um - 100) for i in (insets.left, insets.top, insets.right, insets.bottom)))
    assert all(c.touches(wide) for c in circles)
    assert {c.radius_um for c in circles} == {10_000}


def test_the_back_is_bound_at_the_other_edge():
    assert [mirrored(e) for e in ("left", "right", "top")] == ["right", "left", "top"]
    front = hole_circles(Punch.TWO_HOLE, *A4, "left")
    back = hole_circles(Punch.TWO_HOLE, *A4, mirrored("left"))
    assert [(A4[0] - c.x_um, c.y_um) for c in front] == [(c.x_um, c.y_um) for c in back]


def test_no_punch_needs_no_margin():
    assert punch_insets(Punch.NONE, "left") == Insets.even(Length(0))
    assert hole_circles(Punch.NONE, *A4, "left") == ()


def test_holes_that_fall_off_a_small_page_are_left_out():
    assert hole_circles(Punch.TWO_HOLE, 105_000, 74_250, "left") == ()
    assert len(hole_circles(Punch.THREE_HOLE, 107_950, 139_700, "left")) == 1


def test_other_edges_are_refused():
    with pytest.raises(ValueError, match="not at 'bottom'"):
        hole_circles(Punch.TWO_HOLE, *A4, "bottom")
    with pytest.raises(ValueError, match="not at 'bottom'"):
        punch_insets(Punch.TWO_HOLE, "bottom")


def test_a_ring_hole_is_clear_whether_its_centre_is_eight_or_ten_millimetres_in():
    circle = ring_circle(62_000)
    for at in (8_000, 10_000):  # a 6 mm hole punched there
        worst = max(abs(circle.x_um - at), abs(circle.y_um - at))
        assert 2 * worst * worst < (circle.radius_um - 3_000) ** 2
    back = ring_circle(62_000, side="back")
    assert (62_000 - back.x_um, back.y_um) == (circle.x_um, circle.y_um)
    assert ring_circle(62_000, corner="right").x_um == back.x_um
    below = Rect(0, 0, 62_000, 87_000).inset(0, ring_insets().top.um, 0, 0)
    assert not circle.touches(below)


def test_two_margins_together_keep_both():
    assert wider(Insets(mm(1), mm(9), mm(3), mm(4)), Insets(mm(5), mm(2), mm(3), mm(0))) == Insets(
        mm(5), mm(9), mm(3), mm(4)
    )
