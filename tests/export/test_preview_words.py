"""Bounds and trades in a parent's words."""

from __future__ import annotations

import pytest

from kitbuilder.export.preview_words import bound_words, holds_words, place_words, totals, trade_words
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.sheets import PrintSetup, Run, Sheet, SheetLayout, TwoSided

SETUP = PrintSetup("card", TwoSided.BY_HAND, "a4", 210_000, 297_000)
THREE = "guillotine layouts in three stages with a final trim, first cut in either direction"


def run_of(sheets: int, bound: int, name: str, trade: tuple[tuple[int, int], ...] = ()) -> Run:
    layout = SheetLayout("A", SETUP, (), sheets)
    return Run(SETUP, tuple(Sheet(layout, (), 1, n) for n in range(sheets)), (layout,), (), bound, name, 40, trade)


@pytest.mark.parametrize(
    ("run", "words"),
    [
        (run_of(7, 7, THREE), "7 sheets of card; no layout cut in three stages can use fewer."),
        (run_of(7, 7, "3-stage guillotine layouts"), "7 sheets of card; no layout cut in three stages can use fewer."),
        (run_of(1, 1, "any layout, guillotine or not"), "1 sheet of card; no layout can use fewer."),
        (run_of(4, 4, "sheets divided without waste"), "4 sheets of card; no layout can use fewer."),
        (
            run_of(9, 9, f"{THREE}; sheets divided without waste"),
            "9 sheets of card; no layout cut in three stages can use fewer.",
        ),
        (
            run_of(8, 7, THREE),
            "8 sheets of card; no layout cut in three stages can use fewer than 7. Whether 7 would do is not known.",
        ),
        (
            run_of(30, 26, "any layout (by area)"),
            "30 sheets of card; no layout can use fewer than 26. Whether 26 to 29 would do is not known.",
        ),
    ],
)
def test_a_bound_says_what_it_holds_for(run: Run, words: str) -> None:
    assert bound_words(run) == words


def test_a_trade_is_told_only_when_there_is_something_to_gain() -> None:
    assert trade_words(run_of(7, 7, THREE, ((7, 40), (8, 28)))) == (
        "With 1 sheet more there would be 12 strokes fewer: write prefer: few-strokes into press.yaml.",
    )
    assert trade_words(run_of(8, 7, THREE, ((7, 40), (8, 28)))) == (
        "With 1 sheet fewer there would be 12 strokes more: write prefer: few-sheets into press.yaml.",
    )
    assert trade_words(run_of(7, 7, THREE, ((7, 40), (8, 40)))) == ()
    assert trade_words(run_of(7, 7, THREE, ((7, 40),))) == ()
    assert trade_words(run_of(7, 7, THREE)) == ()


def test_totals_count_pieces_not_spares(small_plan: PackPlan) -> None:
    strokes = sum(run.strokes for run in small_plan.runs)
    piles = len(small_plan.piles())
    assert totals(small_plan) == ("6 pieces", "2 sheets", f"{strokes} strokes of the blade", f"{piles} piles")


def test_what_lies_together_is_named_kind_by_kind(small_plan: PackPlan) -> None:
    assert holds_words(small_plan.flats) == "Letter cards: a, b, d, m, o · Booklets: Odd Nods"


def test_where_a_pile_goes_reads_as_a_sentence() -> None:
    assert [place_words(e) for e in ("review box", "week 3, wren", "weeks 3 to 7")] == [
        "the review box", "envelope “week 3, wren”", "envelopes of weeks 3 to 7",
    ]  # fmt: skip


def test_the_kinds_own_titles_are_used_where_they_are_known(small_plan: PackPlan) -> None:
    assert holds_words(small_plan.flats, {"letter-card": "Cards of ours"}).startswith("Cards of ours: a, b")
