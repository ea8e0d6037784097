"""Sheets against strokes: spent where each sheet saves most, and only when the family asks for it."""

from __future__ import annotations

import pytest

from kitbuilder.imposition.packed_sheets import worthwhile_sheets
from kitbuilder.packing.problem import Layout, Slot, Solution


def solution(sheets: int, strokes: int, *others: tuple[int, int]) -> Solution:
    layout = Layout(sheets, (Slot(0, 0, 0, 1000, 1000, False),), ())
    return Solution((layout,), sheets, "test", strokes, ((sheets, strokes), *others))


@pytest.mark.parametrize(
    ("others", "extra"),
    [
        ((), 0),
        (((11, 40),), 0),
        (((11, 45),), 0),
        (((11, 30),), 1),
        (((11, 30), (12, 10)), 2),  # 15 for each of two sheets beats 10 for one
        (((11, 20), (12, 10)), 1),
        (((11, 30), (12, 20)), 1),  # 10 for each either way: the fewer sheets
    ],
)
def test_sheets_are_spent_where_each_saves_most(others: tuple[tuple[int, int], ...], extra: int) -> None:
    assert worthwhile_sheets(solution(10, 40, *others)) == extra
