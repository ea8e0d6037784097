"""Whatever goes in, the judge finds nothing wrong with what comes out; and a wrong problem is named."""

import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.packing.check import faults
from kitbuilder.packing.job import job_of
from kitbuilder.packing.pricing import Pricer
from kitbuilder.packing.problem import (
    BladeTooShortError,
    Part,
    PartTooLargeError,
    Problem,
    StackError,
    Waste,
    ZeroSizeError,
    moved,
)
from kitbuilder.packing.solve import solve
from kitbuilder.packing.solve_many import solve_many

A4 = (210_000, 297_000)
MM = 1000


def small_part() -> st.SearchStrategy[Part]:
    return st.builds(
        Part,
        st.integers(10, 100).map(lambda n: n * MM),
        st.integers(10, 100).map(lambda n: n * MM),
        st.integers(0, 9),
        st.booleans(),
    )


def any_problem() -> st.SearchStrategy[Problem]:
    return st.builds(
        Problem,
        st.just(200 * MM),
        st.just(287 * MM),
        st.lists(small_part(), min_size=1, max_size=4).map(tuple),
        gutter_um=st.sampled_from([0, 0, 3 * MM]),
        blade_um=st.sampled_from([None, 215 * MM]),
        stack=st.integers(1, 5),
        waste=st.sampled_from([Waste(), Waste(5 * MM, 5 * MM, 5 * MM, 5 * MM)]),
    )


@settings(max_examples=25, deadline=None)
@given(any_problem())
def test_judge_finds_nothing_wrong_with_any_solution(problem: Problem) -> None:
    assert faults(problem, solve(problem)) == ()


@settings(max_examples=5, deadline=None)
@given(any_problem())
def test_same_problem_gives_same_solution(problem: Problem) -> None:
    assert solve(problem) == solve(problem)


def test_nine_letter_cards_fill_one_sheet() -> None:
    solution = solve(Problem(*A4, (Part(62 * MM, 87 * MM, 9),)))
    assert solution.sheets == 1
    assert solution.lower_bound == 1


def test_nothing_wanted_needs_no_sheet() -> None:
    assert solve(Problem(*A4, (Part(62 * MM, 87 * MM, 0),))).layouts == ()
    assert solve(Problem(*A4, ())).sheets == 0


def test_parts_of_one_size_each_get_their_own_slots() -> None:
    problem = Problem(*A4, (Part(62 * MM, 87 * MM, 5), Part(87 * MM, 62 * MM, 13), Part(62 * MM, 87 * MM, 1)))
    assert faults(problem, solve(problem)) == ()


def test_whole_page_needs_no_cut_even_with_a_short_blade() -> None:
    solution = solve(Problem(*A4, (Part(*A4, 3),), blade_um=150 * MM))
    assert solution.sheets == 3
    assert solution.strokes == 0


def test_part_as_wide_as_the_sheet_and_longer_than_the_blade_is_cut_across() -> None:
    problem = Problem(*A4, (Part(210 * MM, 250 * MM, 2),), blade_um=220 * MM)
    solution = solve(problem)
    assert faults(problem, solution) == ()
    assert {cut.axis for layout in solution.layouts for cut in layout.cuts} == {"y"}


def test_too_large_part_says_by_how_much() -> None:
    with pytest.raises(PartTooLargeError) as caught:
        solve(Problem(*A4, (Part(62 * MM, 87 * MM, 1), Part(220 * MM, 100 * MM, 1, may_turn=False))))
    assert (caught.value.part, caught.value.over_width_um, caught.value.over_height_um) == (1, 10 * MM, 0)


@pytest.mark.parametrize(
    "problem",
    [
        Problem(0, 297_000, ()),
        Problem(*A4, (Part(0, 5, 1),)),
        Problem(*A4, (Part(5, -5, 1),)),
        Problem(*A4, (Part(5, 5, -1),)),
        Problem(*A4, (), gutter_um=-1),
        Problem(*A4, (), blade_um=0),
        Problem(*A4, (), waste=Waste(left_um=-1)),
    ],
)
def test_sizes_without_area_and_negative_counts_are_refused(problem: Problem) -> None:
    with pytest.raises(ZeroSizeError):
        solve(problem)


def test_stack_of_no_sheets_is_refused() -> None:
    with pytest.raises(StackError):
        solve(Problem(*A4, (), stack=0))


def test_blade_too_short_says_how_much_is_missing() -> None:
    with pytest.raises(BladeTooShortError) as caught:
        solve(Problem(*A4, (Part(62 * MM, 87 * MM, 1),), blade_um=200 * MM))
    assert caught.value.short_um == 10 * MM


def test_moving_a_layout_moves_its_slots_and_cuts() -> None:
    layout = solve(Problem(*A4, (Part(62 * MM, 87 * MM, 9),))).layouts[0]
    there = moved(layout, 5, 7)
    assert (there.slots[0].x_um, there.slots[0].y_um) == (5, 7)
    assert moved(there, -5, -7) == layout


def test_sizes_in_odd_micrometres_are_solved_with_a_bound_for_any_layout() -> None:
    """So many sums of sides that not all positions are looked at: the pattern program proves nothing then."""
    sizes = [(30_013 + 3_007 * n, 74_999 - 3_919 * n) for n in range(9)]
    problem = Problem(200 * MM, 287 * MM, tuple(Part(w, h, 3 + n) for n, (w, h) in enumerate(sizes)))
    assert not Pricer(job_of(problem).frames[0], 3).exact
    solution = solve(problem)
    assert faults(problem, solution) == ()
    assert solution.bound == "any layout, guillotine or not"
    assert solution.sheets <= solution.lower_bound + 1


@pytest.mark.parametrize("turn", [True, False])
@pytest.mark.parametrize(("width", "height"), [(62, 87), (87, 62), (190, 60), (60, 280)])
@pytest.mark.parametrize("waste", [0, 5_000])
def test_a_single_flat_is_laid_as_well_as_the_solver_would(width: int, height: int, waste: int, *, turn: bool) -> None:
    inner = Waste(waste, waste, waste, waste)
    problem = Problem(210_000 - 2 * waste, 297_000 - 2 * waste, (Part(width * MM, height * MM, 1, turn),), waste=inner)
    one, other = solve(problem), solve_many(job_of(problem))
    assert faults(problem, one) == ()
    assert (one.strokes, one.lower_bound, len(one.layouts)) == (other.strokes, other.lower_bound, len(other.layouts))
    assert one.trade == other.trade[:1]


def test_a_single_flat_brings_no_solver() -> None:
    """It takes longer to load than a lost card takes to print."""
    program = (
        "import sys\nfrom kitbuilder.packing.problem import Part, Problem\nfrom kitbuilder.packing.solve import solve\n"
        "solve(Problem(210_000, 297_000, (Part(62_000, 87_000, 1, True),)))\n"
        "assert not {'highspy', 'numpy'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", program], check=True)
