"""Sittings: short enough, in order, everything once, blades apart from children."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from kitbuilder.prep.evenings import evenings
from kitbuilder.prep.prepare import prepare
from kitbuilder.prep.steps import Prep, Row, Step, StepKind, Totals


def made_up(*steps: Step) -> Prep:
    numbered = tuple(
        Step(s.kind, s.title, s.minutes, s.children_may_help, n, rows=s.rows) for n, s in enumerate(steps, 1)
    )
    return Prep("p", "t", "s", (), Totals(0, 0, 0, 0, 0), (), (), numbered, "")


def cut(minutes: int, stacks: int = 1) -> Step:
    rows = tuple(Row(f"Stack {n}", "", minutes=minutes / stacks) for n in range(1, stacks + 1))
    return Step(StepKind.CUT, "cut", minutes, children_may_help=False, rows=rows)


def fold(minutes: int) -> Step:
    return Step(StepKind.FOLD, "fold", minutes, children_may_help=True)


def staple(minutes: int) -> Step:
    return Step(StepKind.STAPLE, "staple", minutes, children_may_help=False)


@pytest.mark.parametrize("minutes", [5, 10, 20, 30, 45, 60, 240])
@pytest.mark.parametrize(("first", "last"), [(3, None), (1, 4)])
def test_blade_work_never_meets_work_children_may_help_with(
    starter_plan: Any, first: int, last: int | None, minutes: int
) -> None:
    prep = prepare(*starter_plan(first, last))
    steps = {step.number: step for step in prep.steps}
    for sitting in evenings(prep, minutes):
        done = [steps[part.step] for part in sitting.parts]
        assert not (any(s.blade for s in done) and any(s.children_may_help for s in done))
        assert sitting.blade == any(s.blade for s in done)
        assert sitting.too_long == (sitting.minutes > minutes)


@pytest.mark.parametrize("minutes", [5, 20, 45])
def test_every_step_is_done_once_in_order_and_minutes_are_kept(starter_plan: Any, minutes: int) -> None:
    prep = prepare(*starter_plan(1, 4))
    sittings = evenings(prep, minutes)
    order = [part.step for sitting in sittings for part in sitting.parts]
    assert order == sorted(order)
    assert sum(sitting.minutes for sitting in sittings) == prep.totals.minutes
    for step in prep.steps:
        parts = [part for sitting in sittings for part in sitting.parts if part.step == step.number]
        rows = Counter(row for part in parts for row in part.rows)
        assert len(parts) == 1 or rows == Counter(range(1, len(step.rows) + 1))


def test_a_long_cut_is_split_between_its_stacks() -> None:
    sittings = evenings(made_up(cut(100, stacks=5)), 45)
    assert [[part.rows for part in s.parts] for s in sittings] == [[(1, 2)], [(3, 4)], [(5,)]]
    assert [s.minutes for s in sittings] == [40, 40, 20]
    assert not any(s.too_long for s in sittings)


def test_a_step_that_cannot_be_stopped_says_that_it_is_too_long() -> None:
    (sitting,) = evenings(made_up(cut(50)), 45)
    assert sitting.too_long


def test_stapling_may_share_an_evening_with_either() -> None:
    assert len(evenings(made_up(cut(5), staple(5)), 45)) == 1
    assert len(evenings(made_up(fold(5), staple(5)), 45)) == 1
    assert len(evenings(made_up(cut(5), staple(5), fold(5)), 45)) == 2


def test_an_evening_of_no_minutes_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one minute"):
        evenings(made_up(fold(5)), 0)
