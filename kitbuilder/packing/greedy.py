"""Whole answers built sheet by sheet, at random but seeded: they feed the pool and give a first upper bound."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from random import Random

from kitbuilder.packing.job import Frame
from kitbuilder.packing.knapsacks import BandBuilder
from kitbuilder.packing.pattern import Pattern, counts_of
from kitbuilder.packing.pool import Pool
from kitbuilder.packing.shelves import filled, priority

Copies = dict[tuple[int, ...], int]
Built = tuple[Frame, Pattern, tuple[int, ...]]
BLURS = (0.0, 0.2, 0.6, 1.0)


@dataclass(slots=True)
class Greedy:
    """Builds answers for one pool; the same seed gives the same answers. `areas` are shares of a sheet by size."""

    pool: Pool
    chance: Random
    areas: tuple[float, ...]
    values: list[float] = field(default_factory=list)
    builders: list[BandBuilder] = field(default_factory=list)

    def shelves(self, left: Sequence[int], run: int) -> Built:
        """The fuller of one sheet of shelves in each frame; the first run follows plain size order."""
        blur = BLURS[run % len(BLURS)] if run else 0.0
        tries = []
        for frame in self.pool.job.frames:
            order = priority(frame, self.areas, self.chance, blur)
            pattern = filled(frame, order, left, self.chance.choice((0, 0, 1, 2)) if run else 0)
            tries.append((frame, pattern, counts_of(frame, pattern, len(left))))
        return max(tries, key=lambda built: worth(built[2], self.areas))

    def knapsacks(self, left: Sequence[int], run: int) -> Built:
        """The better of one sheet of knapsack bands in each frame, at the values learnt so far."""
        if not self.builders:
            self.builders = [BandBuilder(frame) for frame in self.pool.job.frames]
        tries = []
        for builder in self.builders:
            pattern = builder.sheet(list(left), self.values, self.chance)
            tries.append((builder.frame, pattern, counts_of(builder.frame, pattern, len(left))))
        return max(tries, key=lambda built: worth(built[2], self.values))

    def answer(
        self, build: Callable[[Sequence[int], int], Built], run: int, wanted: Sequence[int], limit: int
    ) -> Copies | None:
        """Copies by what a pattern yields, meeting `wanted`; None once more than `limit` sheets would be used."""
        left = list(wanted)
        copies: Copies = {}
        sheets = 0
        while any(left):
            frame, pattern, counts = build(left, run)
            times = min(left[size] // count for size, count in enumerate(counts) if count)
            sheets += times
            if sheets > limit:
                return None
            self.pool.add(frame, pattern)
            self.learn(counts, times, left)
            copies[counts] = copies.get(counts, 0) + times
            left = [have - times * count for have, count in zip(left, counts, strict=True)]
        return copies

    def learn(self, counts: Sequence[int], times: int, left: Sequence[int]) -> None:
        """Nothing; moves the values of the sizes on a sheet up where the sheet was poorly filled, down where well.

        Sequential value correction (Mukhacheva; Belov and Scheithauer; from memory); the power keeps large sizes first.
        """
        fill = worth(counts, self.areas)
        weight = 1 + 0.5 * self.chance.random()
        demands = self.pool.job.demands
        for size, count in enumerate(counts):
            if count:
                share = min(0.7, count * times / (weight * (demands[size] + left[size])))
                self.values[size] += share * (self.areas[size] ** 1.02 / fill - self.values[size])


def worth(counts: Sequence[int], values: Sequence[float]) -> float:
    """Value of everything on a sheet."""
    return sum(count * value for count, value in zip(counts, values, strict=True))


def greedy_for(pool: Pool, seed: int) -> Greedy:
    """A builder of answers for the pool's job."""
    job = pool.job
    sheet = job.problem.sheet_width_um * job.problem.sheet_height_um
    sizes = [job.problem.parts[group[0]] for group in job.parts_of]
    areas = tuple(part.width_um * part.height_um / sheet for part in sizes)
    return Greedy(pool, Random(seed), areas, list(areas))


def best_answer(
    greedy: Greedy,
    build: Callable[[Sequence[int], int], Built],
    wanted: Sequence[int],
    runs: int,
    target: int,
    limit: int = 10**9,
) -> Copies | None:
    """The answer on the fewest sheets of so many runs, at most `limit` sheets; stops at `target`."""
    best: Copies | None = None
    for run in range(runs):
        found = greedy.answer(build, run, wanted, limit)
        if found is not None:
            best, limit = found, sum(found.values()) - 1
        if limit < target:
            break
    return best
