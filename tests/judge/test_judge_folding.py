"""The judge's folding against orders counted out on folded paper."""

from __future__ import annotations

import importlib
from typing import Any

import pytest


@pytest.fixture
def problems(judge_pack):
    return importlib.import_module("judge_folding").reading_problems


def folded(number: int, pages: list[dict[str, Any]], size: tuple[int, int], **more: Any) -> dict[str, Any]:
    return {"id": f"B.{number}", "piece": "B", "width_um": size[0], "height_um": size[1], "pages": pages} | more


def page(number: int, side: str, x: int, y: int, turns: int = 0) -> dict[str, Any]:
    return {
        "page": number,
        "side": side,
        "x_um": x,
        "y_um": y,
        "width_um": 100,
        "height_um": 150,
        "quarter_turns": turns,
    }


def upright(number: int, front: tuple[int, int], back: tuple[int, int]) -> dict[str, Any]:
    pages = [
        page(n, side, x, 0)
        for side, pair in (("front", front), ("back", back))
        for n, x in zip(pair, (0, 100), strict=True)
    ]
    return folded(number, pages, (200, 150))


# 12 pages, written on a folded dummy of three sheets, outermost first (common practice, no source)
TWELVE = [((12, 1), (2, 11)), ((10, 3), (4, 9)), ((8, 5), (6, 7))]


def test_three_nested_sheets_read_in_order(problems):
    assert problems([upright(i, *sides) for i, sides in enumerate(TWELVE)]) == []


def test_sheets_nested_the_other_way_round_are_noticed(problems):
    (said,) = problems([upright(i, *sides) for i, sides in enumerate(TWELVE[::-1])])
    assert "order [5, 6," in said


def test_sections_are_read_one_after_another(problems):
    """Two sections of one sheet each, alone and inside a cover of their own (folded from paper)."""
    alone = [((4, 1), (2, 3)), ((8, 5), (6, 7))]
    assert problems([upright(i, *sides) for i, sides in enumerate(alone)]) == []
    in_cover = [((12, 1), (2, 11)), ((6, 3), (4, 5)), ((10, 7), (8, 9))]
    assert problems([upright(i, *sides) for i, sides in enumerate(in_cover)]) == []
    swapped = [in_cover[0], in_cover[2], in_cover[1]]
    assert "order [1, 2, 7," in problems([upright(i, *sides) for i, sides in enumerate(swapped)])[0]


def test_a_flat_lying_on_its_side_folds_too(problems):
    """The same sheet, stored turned: fronts lie with their heads to the left, backs with theirs to the right."""
    pages = [
        page(4, "front", 0, 100, 1),
        page(1, "front", 0, 0, 1),
        page(2, "back", 0, 0, 3),
        page(3, "back", 0, 100, 3),
    ]
    assert problems([folded(1, pages, (150, 200))]) == []
    pages[2]["quarter_turns"] = pages[3]["quarter_turns"] = 1
    assert problems([folded(1, pages, (150, 200))]) == ["B: folded, the pages do not all stand the same way up"]


def test_a_booklet_bound_at_the_top_is_told_from_one_bound_at_the_foot(problems):
    """Leaves go up like a wall calendar's: seen after turning the flat sideways, its back stands upside down."""
    at_top = [page(1, "front", 0, 150), page(4, "front", 0, 0), page(2, "back", 0, 150, 2), page(3, "back", 0, 0, 2)]
    assert problems([folded(1, at_top, (100, 300), binding="top")]) == []
    assert problems([folded(1, at_top, (100, 300))]) == ["B: is bound on the top, not on the left"]
    at_foot = [page(1, "front", 0, 0), page(4, "front", 0, 150), page(2, "back", 0, 0, 2), page(3, "back", 0, 150, 2)]
    assert problems([folded(1, at_foot, (100, 300), binding="top")]) == ["B: is bound on the bottom, not on the top"]


@pytest.mark.parametrize(("row", "said"), [([5, 4, 3, 2], None), ([2, 3, 4, 5], "order"), ([5, 3, 4, 2], "order")])
def test_eight_pages_with_one_slit(problems, row, said):
    """Lower row 6 7 8 1, upper row upside down 5 4 3 2 (folded from paper; common practice, no source)."""
    pages = [page(n, "front", 100 * i, 0, 2) for i, n in enumerate(row)]
    pages += [page(n, "front", 100 * i, 150) for i, n in enumerate([6, 7, 8, 1])]
    found = problems([folded(1, pages, (400, 300))])
    assert not found if said is None else said in found[0]
    pages[0]["quarter_turns"] = 0
    assert any("do not stand upright" in f for f in problems([folded(1, pages, (400, 300))]))


def test_single_leaves_read_leaf_after_leaf(problems):
    leaves = [folded(n, [page(2 * n - 1, "front", 0, 0), page(2 * n, "back", 0, 0)], (100, 150)) for n in (1, 2, 3)]
    assert problems(leaves) == []
    assert "leaves read" in problems(leaves[::-1])[0]


def test_what_nobody_can_fold_is_said(problems):
    pages = [page(n, "front", 0, 0) | {"x_um": 100 * (n - 1)} for n in (1, 2, 3)]
    assert "no way is known" in problems([folded(1, pages, (300, 150))])[0]
