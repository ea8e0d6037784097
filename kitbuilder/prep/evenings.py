"""The steps split into sittings: none longer than an evening, blades apart from what children may help with."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from kitbuilder.prep.steps import Prep, Step


@dataclass(frozen=True, slots=True)
class Part:
    """A step, or some of its rows (numbers from 1, empty for all of it), done in one sitting."""

    step: int
    rows: tuple[int, ...]
    minutes: int


@dataclass(frozen=True, slots=True)
class Sitting:
    """What is done in one go. Never both `blade` and `children_may_help`.

    `too_long`: a step that cannot be stopped half-way takes longer than was asked for.
    """

    number: int
    parts: tuple[Part, ...]
    minutes: int
    blade: bool
    children_may_help: bool
    too_long: bool = False


def evenings(prep: Prep, minutes_each: int) -> tuple[Sitting, ...]:
    """Return the sittings, steps in their order; every step or row is in one of them.

    Raises:
        ValueError: for evenings of less than a minute.
    """
    if minutes_each < 1:
        raise ValueError(f"an evening has at least one minute, not {minutes_each}")
    steps = {step.number: step for step in prep.steps}
    sittings: list[list[Part]] = []
    for step in prep.steps:
        for part in _parts(step, minutes_each):
            if not sittings or not _joins(sittings[-1], part, steps, minutes_each):
                sittings.append([])
            sittings[-1].append(part)
    return tuple(_sitting(n, parts, steps, minutes_each) for n, parts in enumerate(sittings, 1))


def _joins(sitting: list[Part], part: Part, steps: dict[int, Step], minutes_each: int) -> bool:
    if sum(p.minutes for p in sitting) + part.minutes > minutes_each:
        return False
    together = [steps[p.step] for p in (*sitting, part)]
    return not (any(s.blade for s in together) and any(s.children_may_help for s in together))


def _parts(step: Step, minutes_each: int) -> Iterator[Part]:
    """Yield the step whole, or, when it is longer than an evening, in runs of rows that are not."""
    timed = [row.minutes for row in step.rows]
    if step.minutes <= minutes_each or len(timed) < 2 or not all(timed):
        yield Part(step.number, (), step.minutes)
        return
    given = 0
    for first, last in _runs(timed, step.minutes, minutes_each):
        # whole minutes are handed out along the rows, so that the parts add up to the step
        until = round(step.minutes * sum(timed[:last]) / sum(timed))
        yield Part(step.number, tuple(range(first + 1, last + 1)), until - given)
        given = until


def _runs(timed: list[float], total: int, minutes_each: int) -> Iterator[tuple[int, int]]:
    """Yield (first, last) of runs of rows, each as long as an evening allows, one row at the least."""
    scale = total / sum(timed)
    first = 0
    for last in range(1, len(timed) + 1):
        if last == len(timed) or sum(timed[first : last + 1]) * scale > minutes_each - 0.5:
            yield first, last
            first = last


def _sitting(number: int, parts: list[Part], steps: dict[int, Step], minutes_each: int) -> Sitting:
    done = [steps[p.step] for p in parts]
    minutes = sum(p.minutes for p in parts)
    return Sitting(
        number,
        tuple(parts),
        minutes,
        any(s.blade for s in done),
        any(s.children_may_help for s in done) and not any(s.blade for s in done),
        minutes > minutes_each,
    )
