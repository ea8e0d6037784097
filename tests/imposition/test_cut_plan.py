"""The strokes are followed with a sheet in hand: stop, turns, strips side by side, until flats and scraps are left."""

from dataclasses import replace
from itertools import pairwise

import pytest

from kitbuilder.imposition.cut_plan import letters, plan_cuts
from kitbuilder.packing.problem import Cut, Layout, Part, Problem, Slot, Waste, moved
from kitbuilder.packing.solve import solve

MM = 1000
A4 = (210 * MM, 297 * MM)
PROBLEMS = {
    "cards": Problem(200 * MM, 287 * MM, (Part(62 * MM, 87 * MM, 24), Part(38 * MM, 38 * MM, 30)), stack=5),
    "strips": Problem(200 * MM, 287 * MM, (Part(190 * MM, 22 * MM, 18), Part(60 * MM, 22 * MM, 36)), stack=10),
    "gutter": Problem(200 * MM, 287 * MM, (Part(62 * MM, 87 * MM, 9), Part(25 * MM, 25 * MM, 40)), gutter_um=3 * MM),
    "fixed": Problem(200 * MM, 287 * MM, (Part(148_500, 105 * MM, 6, False), Part(48 * MM, 33 * MM, 9, False))),
    "short blade": Problem(
        200 * MM, 287 * MM, (Part(62 * MM, 87 * MM, 9), Part(70 * MM, 90 * MM, 8)), blade_um=220 * MM
    ),
}


def layouts_of(name: str) -> list[tuple[Layout, int | None, int]]:
    """Layouts on A4 with margins of 5 mm, the blade, and the strokes the solver counted for one stack of each."""
    problem = replace(PROBLEMS[name], waste=Waste(5 * MM, 5 * MM, 5 * MM, 5 * MM), stack=10**6)
    solution = solve(problem)
    return [(moved(layout, 5 * MM, 5 * MM), problem.blade_um, solution.strokes) for layout in solution.layouts]


@pytest.mark.parametrize("name", PROBLEMS)
def test_following_the_strokes_leaves_exactly_the_flats(name: str) -> None:
    for layout, blade, _ in layouts_of(name):
        follow(layout, blade)


def follow(layout: Layout, blade: int | None) -> None:
    """Cuts a sheet as told; a piece is its edges and how often it was turned counter-clockwise."""
    paper: dict[tuple[int, int, int, int], int] = {(0, 0, *A4): 0}
    strokes = plan_cuts(layout, *A4, blade)
    numbers = sorted({stroke.number for stroke in strokes})
    assert numbers == list(range(1, len(numbers) + 1))
    for number in numbers:
        lines = [stroke for stroke in strokes if stroke.number == number]
        assert sum(line.to_um - line.from_um for line in lines) <= (blade or max(A4)) or len(lines) == 1
        assert {line.regrouped for line in lines} == {len(lines)}
        assert len({(line.fence_um, line.turn, line.strip) for line in lines}) == 1
        for line in lines:
            piece = next(rect for rect in paper if edges_match(line.axis, line.at_um, line.from_um, line.to_um, rect))
            lies = (paper.pop(piece) + line.turn) % 4
            left, top, right, bottom = piece
            at_stop = {0: line.at_um - left, 1: line.at_um - top, 2: right - line.at_um, 3: bottom - line.at_um}
            assert (line.axis == "x") == (lies % 2 == 0)
            assert line.fence_um == at_stop[lies]
            for part in split(line.axis, line.at_um, piece):
                paper[part] = lies
    flats = {(s.x_um, s.y_um, s.x_um + s.width_um, s.y_um + s.height_um) for s in layout.slots}
    assert flats <= set(paper)


def edges_match(axis: str, at: int, low: int, high: int, rect: tuple[int, int, int, int]) -> bool:
    left, top, right, bottom = rect
    if axis == "x":
        return left < at < right and (low, high) == (top, bottom)
    return top < at < bottom and (low, high) == (left, right)


def split(axis: str, at: int, rect: tuple[int, int, int, int]) -> list[tuple[int, int, int, int]]:
    left, top, right, bottom = rect
    if axis == "x":
        return [(left, top, at, bottom), (at, top, right, bottom)]
    return [(left, top, right, at), (left, at, right, bottom)]


@pytest.mark.parametrize("name", PROBLEMS)
def test_strokes_are_as_many_as_the_solver_counted(name: str) -> None:
    counted = layouts_of(name)
    made = sum(len({stroke.number for stroke in plan_cuts(layout, *A4, blade)}) for layout, blade, _ in counted)
    assert made == counted[0][2]


@pytest.mark.parametrize("name", PROBLEMS)
def test_stop_sweeps_once_from_far_to_near_in_each_stage(name: str) -> None:
    for layout, blade, _ in layouts_of(name):
        strokes = plan_cuts(layout, *A4, blade)
        assert [s.stage for s in strokes] == sorted(s.stage for s in strokes)
        for stage in {s.stage for s in strokes}:
            fences = [s.fence_um for s in strokes if s.stage == stage]
            drops = sum(later > earlier for earlier, later in pairwise(fences))
            assert drops <= 1  # once after waste at the near end was cut off


def test_waste_at_the_near_end_is_cut_off_first_from_the_other_side() -> None:
    layout = Layout(1, (Slot(0, 5, 0, 10, 20, False),), (Cut("x", 5, 0, 20, 1), Cut("x", 15, 0, 20, 1)))
    strokes = plan_cuts(layout, 30, 20)
    assert [(s.at_um, s.fence_um, s.turn) for s in strokes] == [(5, 25, 2), (15, 10, 2)]


def test_equal_strips_lie_side_by_side_as_far_as_the_blade_reaches() -> None:
    """Four strips of 10 under a blade of 25: two at a time, so the four cuts take two strokes."""
    slots = tuple(Slot(0, x, y, 20, 10, False) for y in (0, 10, 20, 30) for x in (0, 20))
    bands = tuple(Cut("y", y, 0, 40, 1) for y in (10, 20, 30))
    layout = Layout(1, slots, (*bands, *(Cut("x", 20, y, y + 10, 2) for y in (0, 10, 20, 30))))
    strokes = plan_cuts(layout, 40, 40, 40)
    assert [(s.number, s.regrouped, s.strip) for s in strokes[3:]] == [(4, 4, "strips A, B, C and D")] * 4
    assert [s.number for s in plan_cuts(layout, 40, 40, 25)[3:]] == [4, 4, 5, 5]


def test_layout_without_cuts_has_no_strokes() -> None:
    assert plan_cuts(Layout(1, (Slot(0, 0, 0, 5, 5, False),), ()), 5, 5) == ()


def test_strips_beyond_z_get_two_letters() -> None:
    assert [letters(n) for n in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]
