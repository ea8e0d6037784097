"""The fewest sheets: greedy answers, column generation in two and three stages, and the integer step between them."""

from dataclasses import dataclass

from kitbuilder.packing.bounds import any_layout_bound
from kitbuilder.packing.columns import Relaxed, generate
from kitbuilder.packing.greedy import Copies, Greedy, best_answer, greedy_for
from kitbuilder.packing.job import Job
from kitbuilder.packing.master import fewest_sheets
from kitbuilder.packing.pool import Pool
from kitbuilder.packing.problem import ANY
from kitbuilder.packing.shelves import filled

SHELF_RUNS = 40
RESIDUAL_RUNS = 60
KNAPSACK_WORK = 600  # runs times sizes: a run costs about as much as there are sizes
POOL_LIMIT = 300  # columns given to the integer step, best reduced cost first
FIRST_NODES, LAST_NODES = 60, 200  # branch-and-bound nodes: limits in work, not in seconds

THREE_STAGE = "guillotine layouts in three stages with a final trim, first cut in either direction"


@dataclass(frozen=True, slots=True)
class Found:
    """Copies by what a pattern yields, the pool they are from, the bound with its class, and the last relaxation."""

    pool: Pool
    copies: Copies
    bound: int
    bound_class: str
    relaxed: Relaxed
    greedy: Greedy

    @property
    def sheets(self) -> int:
        """Sheets of the answer."""
        return sum(self.copies.values())


def fewest(job: Job) -> Found:
    """The answer on the fewest sheets found, with what is proved about it."""
    pool = Pool(job)
    add_single_sizes(pool)
    greedy = greedy_for(pool, job.problem.seed)
    outer = any_layout_bound(job)
    best = best_answer(greedy, greedy.shelves, job.demands, SHELF_RUNS, outer)
    assert best is not None  # without a limit the greedy always finishes
    generate(pool, 2)
    relaxed = generate(pool, 3)
    bound = max(outer, relaxed.bound)
    for step in (residual_step, knapsack_step):
        if sum(best.values()) <= bound:
            break
        best = step(greedy, relaxed, best, bound)
    named = ANY if outer >= relaxed.bound else THREE_STAGE
    return Found(pool, best, bound, named, relaxed, greedy)


def add_single_sizes(pool: Pool) -> None:
    """Nothing; adds a full sheet of each size in each frame: they bound what one flat may be worth."""
    job = pool.job
    plenty = [frame.width * frame.height for frame in job.frames]
    for size in range(len(job.demands)):
        for frame, many in zip(job.frames, plenty, strict=True):
            order = [index for index in frame.usable if frame.items[index].size == size]
            pool.add(frame, filled(frame, order, [many] * len(job.demands)))


def residual_step(greedy: Greedy, relaxed: Relaxed, best: Copies, bound: int) -> Copies:
    """The better of `best` and: whole copies of the relaxation kept, the rest built greedily, then the integer step."""
    demands = greedy.pool.job.demands
    kept = {counts: int(copies + 1e-6) for counts, copies in relaxed.copies.items() if copies >= 1 - 1e-6}
    left = list(demands)
    for counts, copies in kept.items():
        left = [max(0, have - copies * count) for have, count in zip(left, counts, strict=True)]
    limit = sum(best.values()) - sum(kept.values())
    for build, runs in ((greedy.shelves, RESIDUAL_RUNS), (greedy.knapsacks, 4)):
        rest = best_answer(greedy, build, left, runs, bound - sum(kept.values()), limit - 1)
        if rest is not None:
            best = {counts: kept.get(counts, 0) + rest.get(counts, 0) for counts in [*kept, *rest]}
            limit = sum(rest.values())
        if sum(best.values()) <= bound:
            return best
    return integer_step(greedy.pool, relaxed, best, bound, FIRST_NODES)


def knapsack_step(greedy: Greedy, relaxed: Relaxed, best: Copies, bound: int) -> Copies:
    """The better of `best` and sheets of knapsack bands, then the integer step over all that was built."""
    demands = greedy.pool.job.demands
    runs = max(12, KNAPSACK_WORK // (len(demands) + 5))
    found = best_answer(greedy, greedy.knapsacks, demands, runs, bound, sum(best.values()))
    if found is not None and sum(found.values()) < sum(best.values()):
        best = found
    if sum(best.values()) <= bound:
        return best
    return integer_step(greedy.pool, relaxed, best, bound, LAST_NODES)


def integer_step(pool: Pool, relaxed: Relaxed, best: Copies, bound: int, nodes: int) -> Copies:
    """The best whole-number mix of the pool's most promising patterns, or `best` where none is better."""
    demands = pool.job.demands

    def cost(counts: tuple[int, ...]) -> float:
        useful = (min(count, demand) * dual for count, demand, dual in zip(counts, demands, relaxed.duals, strict=True))
        return 1.0 - sum(useful)

    ranked = sorted(pool.entries, key=lambda counts: (counts not in best, round(cost(counts), 9), counts))
    chosen = sorted(ranked[:POOL_LIMIT])
    start = {index: best[counts] for index, counts in enumerate(chosen) if counts in best}
    found = fewest_sheets(chosen, demands, bound, start, nodes)
    if found and sum(found.values()) < sum(best.values()):
        return {chosen[index]: copies for index, copies in found.items()}
    return best
