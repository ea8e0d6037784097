"""Whole answers built sheet by sheet at random but seeded: they feed the pool and give a first upper bound."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from kitbuilder.packing.columns import Pool
from kitbuilder.packing.job import Frame
from kitbuilder.packing.pattern import Pattern, counts_of
from kitbuilder.packing.shelves import filled, priority

Copies = dict[tuple[int, ...], int]


@dataclass(slots=True)
class Greedy:
    """Builds answers for one pool; the same seed gives the same answers."""

    pool: Pool
    chance: Random
    areas: tuple[int, ...]

    def answer(self, wanted: Sequence[int], values: Sequence[float], noise: float, limit: int) -> Copies | None:
        """Copies by what a pattern yields, meeting `wanted`; None once more than `limit` sheets would be used."""
        left = list(wanted)
        copies: Copies = {}
        sheets = 0
        while any(left):
            frame, pattern, counts = self.sheet(left, values, noise)
            times = min(left[size] // count for size, count in enumerate(counts) if count)
            sheets += times
            if sheets > limit:
                return None
            self.pool.add(frame, pattern)
            copies[counts] = copies.get(counts, 0) + times
            left = [have - times * count for have, count in zip(left, counts, strict=True)]
        return copies

    def sheet(
        self, left: Sequence[int], values: Sequence[float], noise: float
    ) -> tuple[Frame, Pattern, tuple[int, ...]]:
        """The fuller of one try in each frame."""
        best: tuple[int, Frame, Pattern, tuple[int, ...]] | None = None
        for frame in self.pool.job.frames:
            order = priority(frame, values, self.chance, noise)
            pattern = filled(frame, order, left, self.chance.choice((0, 0, 1, 2)) if noise else 0)
            counts = counts_of(frame, pattern, len(left))
            area = sum(count * each for count, each in zip(counts, self.areas, strict=True))
            if best is None or area > best[0]:
                best = (area, frame, pattern, counts)
        assert best is not None  # a job has at least one frame
        return best[1:]


def greedy_for(pool: Pool, seed: int) -> Greedy:
    """A builder of answers for the pool's job."""
    job = pool.job
    sizes = [job.problem.parts[group[0]] for group in job.parts_of]
    return Greedy(pool, Random(seed), tuple(part.width_um * part.height_um for part in sizes))


def best_answer(
    greedy: Greedy, wanted: Sequence[int], values: Sequence[float], runs: int, target: int, limit: int
) -> Copies | None:
    """The answer on the fewest sheets of so many runs, at most `limit` sheets; stops at `target`."""
    best: Copies | None = None
    for run in range(runs):
        found = greedy.answer(wanted, values, 0.0 if run == 0 else 0.2 + 0.8 * (run % 3), limit)
        if found is not None:
            best, limit = found, sum(found.values()) - 1
        if limit < target:
            break
    return best
