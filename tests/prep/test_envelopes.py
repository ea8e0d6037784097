"""Envelopes: the smallest usual one that holds what goes in. C sizes: ISO 269 (from memory); inch sizes: US trade."""

from __future__ import annotations

from typing import Any

import pytest

from kitbuilder.artwork.piece import Making
from kitbuilder.prep.envelopes import booklet_pages, envelope_for
from kitbuilder.prep.prepare import prepare
from kitbuilder.prep.sorting import destinations
from kitbuilder.prep.steps import StepKind


@pytest.mark.parametrize(
    ("size", "metric", "inch"),
    [
        ((62, 87), "C6", "No. 10"),
        ((110, 158), "C6", "6 × 9"),
        ((45, 220), "C5", "No. 10"),
        ((45, 277), "C4", "9 × 12"),
        ((250, 340), "a large", "a large"),
    ],
)
def test_a_piece_goes_into_the_smallest_envelope_that_holds_it(
    press_of: Any, plan_of: Any, flat_piece: Any, size: tuple[int, int], metric: str, inch: str
) -> None:
    press = press_of(paper="a3", trimmer={"blade": "450 mm"})
    plan = plan_of([flat_piece(1, *size, durable=False)], press)
    assert envelope_for(plan.flats, booklet_pages(plan), inches=False).name.startswith(metric)
    assert envelope_for(plan.flats, booklet_pages(plan), inches=True).name.startswith(inch)


def test_booklets_go_in_closed(press_of: Any, plan_of: Any, booklet_piece: Any) -> None:
    """Open it is 210 x 148.5 mm, closed 105 x 148.5: C6 is 114 x 162."""
    plan = plan_of([booklet_piece(1, Making.SADDLE, 8)], press_of())
    assert envelope_for(plan.flats, booklet_pages(plan), inches=False).name.startswith("C6")


def test_whole_pages_are_folded_once(starter_plan: Any) -> None:
    plan, _ = starter_plan(3)
    pages = [flat for flat in plan.flats if flat.division == 1]
    found = envelope_for(pages, booklet_pages(plan), inches=False)
    assert (found.name[:2], found.folded) == ("C5", True)


def test_every_flat_goes_to_one_place(starter_plan: Any) -> None:
    plan, press = starter_plan(1, 4)
    placed = sorted(flat.id for flats in destinations(plan).values() for flat in flats)
    assert placed == sorted(p.flat.id for _, _, sheet in plan.sheets() for p in sheet.placements)
    stored = next(step for step in prepare(plan, press).steps if step.kind is StepKind.STORE)
    assert [row.ids[0] for row in stored.rows] == list(destinations(plan))


def test_what_mixes_children_is_sorted_to_each_of_them(starter_plan: Any) -> None:
    plan, _ = starter_plan(1, 4)
    names = list(destinations(plan))
    assert {"week 3, moss", "week 3, wren"} <= set(names)
    assert names[-1] == "review box"
