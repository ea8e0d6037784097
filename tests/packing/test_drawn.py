"""Expected sheets as rows of letters, one cell 10 mm; a letter is a part, a dot is waste."""

from dataclasses import replace

from kitbuilder.packing.job import blade_of
from kitbuilder.packing.problem import Layout, Part, Problem
from kitbuilder.packing.solve import solve
from kitbuilder.packing.strokes import count_strokes, fence_settings, strip_tree

CELL = 10_000


def picture(layout: Layout, width: int, height: int) -> str:
    """The layout as rows of letters, each slot's first cell large so that neighbours can be told apart."""
    rows = [["."] * width for _ in range(height)]
    for slot in layout.slots:
        letter = "abcdef"[slot.part]
        x, y = slot.x_um // CELL, slot.y_um // CELL
        for down in range(slot.height_um // CELL):
            for across in range(slot.width_um // CELL):
                rows[y + down][x + across] = letter
        rows[y][x] = letter.upper()
    return "\n".join("".join(row) for row in rows)


def cells(width: int, height: int, *parts: Part, stack: int = 1) -> Problem:
    grown = tuple(Part(p.width_um * CELL, p.height_um * CELL, p.demand, p.may_turn) for p in parts)
    return Problem(width * CELL, height * CELL, grown, stack=stack)


def test_wide_flats_are_turned_to_fill_the_sheet() -> None:
    layout = solve(cells(6, 4, Part(4, 2, 3))).layouts[0]
    assert picture(layout, 6, 4) == "\n".join(["AaaaAa", "aaaaaa", "Aaaaaa", "aaaaaa"])


def test_small_flats_lie_below_each_other_beside_a_large_one() -> None:
    """Three stages: a column of two small flats as high as the large one."""
    layout = solve(cells(6, 4, Part(4, 4, 1, False), Part(2, 2, 2))).layouts[0]
    assert picture(layout, 6, 4) == "\n".join(["AaaaBb", "aaaabb", "aaaaBb", "aaaabb"])


def test_flats_that_may_not_turn_leave_waste() -> None:
    solution = solve(cells(5, 4, Part(4, 2, 2, False)))
    assert picture(solution.layouts[0], 5, 4) == "\n".join(["Aaaa.", "aaaa.", "Aaaa.", "aaaa."])


def test_side_waste_of_equal_strips_goes_in_one_stroke() -> None:
    """Two flats and waste beside them: one cut between them, one at their side."""
    assert solve(cells(5, 4, Part(4, 2, 2, False))).strokes == 2


def test_grid_is_cut_in_strips_laid_side_by_side() -> None:
    """Three by three: two cuts for three strips, then two for all strips at once; alone they would take six."""
    problem = cells(9, 12, Part(3, 4, 9, False))
    solution = solve(problem)
    assert (solution.strokes, solution.strokes_singly) == (4, 8)
    tree = strip_tree(solution.layouts[0].cuts, (0, 9 * CELL), (0, 12 * CELL))
    assert count_strokes(tree, blade_of(problem)) == (4, 8)
    assert count_strokes(tree, 9 * CELL) in {(4, 8), (6, 8)}
    assert fence_settings(tree) == 4


def test_stack_is_cut_at_once() -> None:
    one = solve(cells(9, 12, Part(3, 4, 45, False), stack=5))
    assert (one.sheets, one.strokes) == (5, 4)
    assert solve(cells(9, 12, Part(3, 4, 45, False), stack=2)).strokes == 12


def test_one_layout_for_all_sheets_where_that_saves_strokes() -> None:
    """Four sheets, each could hold flats of one size only; one layout with both is cut as one stack."""
    solution = solve(cells(8, 4, Part(4, 4, 4, False), Part(4, 2, 8, False), stack=10))
    assert [layout.copies for layout in solution.layouts] == [4]


def test_extra_sheet_is_spent_only_when_allowed() -> None:
    parts = (Part(5, 3, 3), Part(2, 2, 5), Part(4, 1, 4))
    problem = cells(9, 7, *parts, stack=10)
    plain, more = solve(problem), solve(replace(problem, extra_sheets=2))
    assert plain.sheets <= more.sheets <= plain.sheets + 2
    assert more.strokes <= plain.strokes
    assert (plain.sheets, plain.strokes) in plain.trade


def test_what_is_left_of_the_last_sheet_is_one_large_offcut() -> None:
    """Three flats on a sheet for six: all in one row, the lower half left whole."""
    layout = solve(cells(9, 8, Part(3, 4, 3, False))).layouts[0]
    assert picture(layout, 9, 8).split("\n")[4:] == ["........."] * 4
