"""Strokes played: what each frees, told by drawings of the stack as it comes apart."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.export.preview_cuts import BADGE_UM, badge_places, freeing_steps, numbered_steps
from kitbuilder.imposition.sheets import Stroke
from kitbuilder.measure.geometry import Rect

CELL = 10_000


def areas_of(drawing: str) -> dict[str, Rect]:
    """Read a drawing, one letter a cell of 10 mm; dots are waste."""
    rows = drawing.split()
    cells = {(x, y): letter for y, row in enumerate(rows) for x, letter in enumerate(row) if letter != "."}
    areas = {}
    for letter in sorted(set(cells.values())):
        xs = [x for (x, _), own in cells.items() if own == letter]
        ys = [y for (_, y), own in cells.items() if own == letter]
        width, height = (max(xs) - min(xs) + 1) * CELL, (max(ys) - min(ys) + 1) * CELL
        areas[letter] = Rect(min(xs) * CELL, min(ys) * CELL, width, height)
    return areas


def stroke(number: int, axis: str, at: int, start: int, end: int) -> Stroke:
    return Stroke(number, axis, at * CELL, start * CELL, end * CELL, 1, at * CELL)


def freed(drawing: str, strokes: Sequence[Stroke]) -> dict[str, int]:
    rows = drawing.split()
    whole = Rect(0, 0, len(rows[0]) * CELL, len(rows) * CELL)
    return freeing_steps(whole, numbered_steps(strokes), areas_of(drawing))


def test_a_flat_is_free_when_the_last_stroke_beside_it_is_made() -> None:
    drawing = """
        AAABB
        AAABB
        CCCCC
    """
    strokes = [stroke(1, "y", 2, 0, 5), stroke(2, "x", 3, 0, 2)]
    assert freed(drawing, strokes) == {"A": 2, "B": 2, "C": 1}


def test_waste_has_to_be_cut_off_before_a_flat_is_free() -> None:
    drawing = """
        .....
        .AABB
        .AABB
    """
    strokes = [stroke(1, "y", 1, 0, 5), stroke(2, "x", 1, 1, 3), stroke(3, "x", 3, 1, 3)]
    assert freed(drawing, strokes) == {"A": 3, "B": 3}


def test_strips_cut_side_by_side_share_a_stroke() -> None:
    drawing = """
        AABB
        CCDD
    """
    strokes = [stroke(1, "y", 1, 0, 4), stroke(2, "x", 2, 0, 1), stroke(2, "x", 2, 1, 2)]
    assert freed(drawing, strokes) == {"A": 2, "B": 2, "C": 2, "D": 2}


def test_a_stroke_cuts_only_where_the_blade_runs() -> None:
    drawing = """
        AABB
        CCCC
    """
    strokes = [stroke(1, "y", 1, 0, 4), stroke(2, "x", 2, 0, 1)]
    assert freed(drawing, strokes)["C"] == 1


def test_a_sheet_that_is_not_cut_frees_nothing() -> None:
    assert freed("AA\nAA", []) == {"A": 0}


def test_strokes_come_in_the_order_of_their_numbers() -> None:
    steps = numbered_steps([stroke(3, "x", 1, 0, 1), stroke(1, "y", 1, 0, 1), stroke(3, "x", 2, 0, 1)])
    assert [[s.number for s in step] for step in steps] == [[1], [3, 3]]


@given(st.lists(st.tuples(st.sampled_from("xy"), st.integers(1, 19)), min_size=1, max_size=12, unique=True))
def test_numbers_stand_on_their_strokes_and_do_not_touch(cuts: list[tuple[str, int]]) -> None:
    strokes = [stroke(n, axis, at, 0, 21 if axis == "y" else 29) for n, (axis, at) in enumerate(cuts, 1)]
    spots = badge_places(numbered_steps(strokes), 210_000, 290_000)
    for own, (_, x, y) in zip(strokes, spots, strict=True):
        assert (x if own.axis == "x" else y) == own.at_um
        assert own.from_um <= (y if own.axis == "x" else x) <= own.to_um
    apart = [(a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2 for i, a in enumerate(spots) for b in spots[:i]]
    assert all(square >= (2 * BADGE_UM) ** 2 for square in apart)


def test_every_line_of_a_stroke_has_its_number() -> None:
    strokes = [stroke(1, "y", 5, 0, 20), stroke(2, "x", 9, 0, 5), stroke(2, "x", 9, 5, 29)]
    assert [step for step, _, _ in badge_places(numbered_steps(strokes), 210_000, 290_000)] == [1, 2, 2]


def test_a_number_at_the_rim_stays_on_the_sheet() -> None:
    ((_, x, _),) = badge_places(numbered_steps([Stroke(1, "x", 2_000, 0, 297_000, 1, 2_000)]), 210_000, 297_000)
    assert x == BADGE_UM
