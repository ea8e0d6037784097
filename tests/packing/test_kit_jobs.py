"""Invented kit jobs of a week: the fewest sheets there are, judged; sizes in tenths of a millimetre.

Numbers of sheets: optimal, each equals the bound of the three-stage pattern program or of area (computed here).
"""

import pytest

from kitbuilder.packing.check import faults
from kitbuilder.packing.problem import Part, Problem
from kitbuilder.packing.solve import solve

A4, LETTER = (2000, 2870), (2059, 2694)
WEEK = ((630, 880, 24), (250, 250, 40), (500, 250, 12), (900, 500, 16), (600, 700, 30))
STRIPS = ((1900, 220, 18), (1900, 300, 4), (1300, 220, 14), (600, 220, 36))
FOLDED = ((1485, 1050, 16), (1000, 1400, 14), (1505, 1070, 4), (980, 660, 10), (480, 330, 18))
GUTTER = ((630, 880, 20), (250, 250, 36), (900, 500, 14), (600, 700, 24), (740, 1050, 6))


@pytest.mark.parametrize(
    ("sheet", "items", "turn", "gutter", "stack", "sheets"),
    [
        (A4, WEEK, True, 0, 5, 7),
        (A4, STRIPS, True, 0, 10, 4),
        (A4, FOLDED, False, 0, 10, 14),
        (A4, GUTTER, True, 30, 5, 7),
    ],
)
def test_week_is_laid_on_the_fewest_sheets_with_fewer_strokes(
    sheet: tuple[int, int], items: tuple[tuple[int, int, int], ...], turn: bool, gutter: int, stack: int, sheets: int
) -> None:
    problem = Problem(*sheet, tuple(Part(*item, turn) for item in items), gutter_um=gutter, stack=stack)
    solution = solve(problem)
    assert faults(problem, solution) == ()
    assert solution.sheets == solution.lower_bound == sheets
    assert solution.strokes < solution.first_strokes
    assert (solution.sheets, solution.strokes) == solution.trade[0]


@pytest.mark.parametrize("blade", [2100, 2300])
def test_short_blade_is_respected_on_letter_paper(blade: int) -> None:
    problem = Problem(*LETTER, tuple(Part(*item) for item in WEEK), blade_um=blade, stack=5)
    solution = solve(problem)
    assert faults(problem, solution) == ()
    assert all(cut.to_um - cut.from_um <= blade for layout in solution.layouts for cut in layout.cuts)


def test_bound_says_for_which_layouts_it_stands() -> None:
    by_area = solve(Problem(*A4, (Part(1000, 1435, 8, False),)))
    assert by_area.bound == "any layout, guillotine or not"
    assert by_area.lower_bound == by_area.sheets == 2
    thirds = solve(Problem(*A4, tuple(Part(*item) for item in ((1485, 900, 9), (700, 600, 14), (450, 630, 20)))))
    assert thirds.lower_bound <= thirds.sheets
