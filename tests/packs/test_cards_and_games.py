"""Whole packs of cards, games, charts and sheets, laid out, printed and judged."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.export.pack_folder import WrittenPack

ROOT = Path(__file__).parents[2]
KINDS = ("irregular-word-card", "word-card", "tile-mat", "flip-book", "bingo", "pairs", "dice-page", "path", "sort",
         "read-and-draw", "reference-chart", "unit-sheet", "slip", "envelope-label", "divider")  # fmt: skip


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", [1, 12])
def test_a_pack_of_everything_is_right(
    unit: int, paper: str, week: Callable[..., WrittenPack], judge_pack: Callable[[Path], list[str]]
) -> None:
    pack = week(ROOT, unit, only=KINDS, paper=paper)
    assert {row["kind"] for row in pack.manifest["sets"]} >= set(KINDS) - {"irregular-word-card"}
    assert judge_pack(pack.folder) == []


@pytest.mark.parametrize(("unit", "paper"), [(4, "a4"), (6, "letter")])
def test_games_of_counted_cards_get_no_spares(unit: int, paper: str, week: Callable[..., WrittenPack]) -> None:
    pack = week(ROOT, unit, only=("pairs", "sort"), paper=paper)
    assert [row["id"] for row in pack.manifest["pieces"] if row["role"] != "piece"] == []
