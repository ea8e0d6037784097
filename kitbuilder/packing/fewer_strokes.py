"""At a given number of sheets: the layouts whose stacks need the fewest strokes."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations

from kitbuilder.packing.columns import Entry
from kitbuilder.packing.greedy import Built, Copies, Greedy
from kitbuilder.packing.job import Job
from kitbuilder.packing.layouts import Cutting, cutting_of
from kitbuilder.packing.master import fewest_strokes
from kitbuilder.packing.pattern import Band, Column, Pattern, counts_of
from kitbuilder.packing.patterns import Pricer
from kitbuilder.packing.sheets import Found

PAIRS = 45  # pairs of sizes given layouts of their own
TEMPLATE_RUNS = 60
COSTED = 500  # patterns whose cuts are counted
CHOSEN = 120  # patterns the integer step chooses from
NODES = 150
PER_STROKE, PER_LAYOUT = 10_000, 100  # weights: strokes before layouts before settings of the edge stop


@dataclass(slots=True)
class Strokes:
    """Finds answers with few strokes over one pool; counts the cuts of a pattern once."""

    found: Found
    job: Job
    known: dict[tuple[int, ...], Cutting] = field(default_factory=dict)

    def cutting(self, counts: tuple[int, ...]) -> Cutting:
        """The cheapest known way to cut a yield."""
        if counts not in self.known:
            entries = self.found.pool.entries[counts]
            self.known[counts] = min((cutting_of(self.job, entry) for entry in entries), key=cheapness)
        return self.known[counts]

    def strokes(self, copies: Copies) -> int:
        """Strokes of all stacks."""
        stack = self.job.problem.stack
        return sum(-(-n // stack) * self.cutting(counts).strokes for counts, n in copies.items())

    def rank(self, copies: Copies) -> tuple[int, int, int]:
        """Strokes, layouts, settings: less is better."""
        settings = sum(self.cutting(counts).settings for counts in copies)
        return self.strokes(copies), len(copies), settings


def cheapness(cutting: Cutting) -> tuple[int, int, int]:
    """Sort key of two ways to cut the same yield."""
    return cutting.strokes, cutting.settings, cutting.singly


def answer_for(strokes: Strokes, start: Copies, sheets: int) -> Copies:
    """The answer with the fewest strokes found on at most so many sheets; `start` is one that is known."""
    job, pool = strokes.job, strokes.found.pool
    best = min([start, *templates(strokes.found.greedy, job, sheets)], key=strokes.rank)
    chosen = promising(strokes, [start, best], sheets)
    begin = {index: best[counts] for index, counts in enumerate(chosen) if counts in best}
    weights = [
        (PER_STROKE * cutting.strokes, PER_LAYOUT + cutting.settings)
        for cutting in (strokes.cutting(counts) for counts in chosen)
    ]
    mixed = fewest_strokes(chosen, weights, job.demands, job.problem.stack, sheets, begin, NODES)
    answers = [best, {chosen[index]: n for index, n in mixed.items()}] if mixed else [best]
    assert all(counts in pool.entries for answer in answers for counts in answer)
    return min((thinned(strokes, answer) for answer in answers), key=strokes.rank)


def enrich(strokes: Strokes) -> None:
    """Nothing; adds layouts of one and two sizes, which are cut with few strokes."""
    job, pool, duals = strokes.job, strokes.found.pool, strokes.found.relaxed.duals
    pricers = [Pricer(frame, stages) for frame in job.frames for stages in (2, 3)]
    areas = strokes.found.greedy.areas
    pairs = sorted(combinations(range(len(areas)), 2), key=lambda pair: -sum(job.demands[s] * areas[s] for s in pair))
    for chosen in [*((size,) for size in range(len(areas))), *pairs[:PAIRS]]:
        values = [int(1e6 * max(duals[s], areas[s] / 2)) if s in chosen else 0 for s in range(len(areas))]
        for pricer in pricers:
            for priced in pricer.best(values, 2):
                pool.add(pricer.frame, priced.pattern)


def templates(greedy: Greedy, job: Job, sheets: int) -> list[Copies]:
    """Answers made of stacks of equal sheets on exactly so many sheets, as far as they come out."""
    answers = []
    for run in range(TEMPLATE_RUNS):
        build = greedy.knapsacks if run % 8 == 7 else greedy.shelves
        left = list(job.demands)
        copies: Copies = {}
        plan = stacks(greedy, sheets, job.problem.stack, run)
        for place, times in enumerate(plan):
            up = place >= len(plan) - 2 or greedy.chance.random() < 0.5
            wanted = [(have + times - 1) // times if up else have // times for have in left]
            if not any(wanted):
                wanted = [(have + times - 1) // times for have in left]
            frame, pattern, counts = build(wanted, run)
            greedy.pool.add(frame, pattern)
            copies[counts] = copies.get(counts, 0) + times
            left = [max(0, have - times * count) for have, count in zip(left, counts, strict=True)]
            if not any(left):
                answers.append(copies)
                break
    return answers


def stacks(greedy: Greedy, sheets: int, stack: int, run: int) -> list[int]:
    """Copies of each stack: as many full stacks as go, the rest in one; every third run one stack is split in two."""
    plan = [stack] * (sheets // stack)
    if sheets % stack:
        plan.append(sheets % stack)
    if run % 3 == 2 and plan[0] > 1:
        first = greedy.chance.randrange(1, plan[0])
        plan = [*plan[1:], first, plan[0] - first]
        plan.sort(reverse=True)
    return plan


def promising(strokes: Strokes, answers: Sequence[Copies], sheets: int) -> list[tuple[int, ...]]:
    """Yields for the integer step, in canonical order: those of the answers, and the cheapest at the relaxation's duals."""
    demands, duals = strokes.job.demands, strokes.found.relaxed.duals
    stack = strokes.job.problem.stack
    keep = {counts for answer in answers for counts in answer}

    def value(counts: tuple[int, ...]) -> float:
        return sum(min(n, demand) * dual for n, demand, dual in zip(counts, demands, duals, strict=True))

    entries = strokes.found.pool.entries
    costed = sorted(entries, key=lambda counts: (counts not in keep, -round(value(counts), 9), counts))[:COSTED]
    ranked = sorted(
        costed,
        key=lambda counts: (counts not in keep, round(strokes.cutting(counts).strokes / max(value(counts), 0.05) ** 2, 9), counts),
    )
    few = ranked[: CHOSEN // 2]
    full = [counts for counts in costed if counts not in few][: CHOSEN - len(few)]
    return sorted([*few, *full])


def thinned(strokes: Strokes, copies: Copies) -> Copies:
    """The same answer without flats nobody wants, where leaving them out saves strokes or paper."""
    demands = strokes.job.demands
    answer = dict(copies)
    for counts in sorted(copies, key=lambda key: (copies[key], key)):
        times = answer[counts]
        made = [sum(n * key[size] for key, n in answer.items()) for size in range(len(demands))]
        spare = [(have - demand) // times for have, demand in zip(made, demands, strict=True)]
        entry = strokes.cutting(counts).entry
        lean = leaner(strokes, entry, spare)
        if lean is None or lean.counts in answer:
            continue
        trial = {(lean.counts if key == counts else key): n for key, n in answer.items()}
        if strokes.rank(trial) <= strokes.rank(answer):
            answer = trial
    return answer


def leaner(strokes: Strokes, entry: Entry, spare: Sequence[int]) -> Entry | None:
    """The pattern without as many of each size as are spare, whole bands and columns first; None when all are needed."""
    left = list(spare)
    frame = entry.frame
    bands = []
    for band in reversed(entry.pattern.bands):
        columns = []
        for column in reversed(band.columns):
            items = list(column.items)
            while items and left[frame.items[items[-1]].size] > 0:
                left[frame.items[items.pop()].size] -= 1
            if items:
                columns.append(Column(column.width, tuple(items)))
        if columns:
            height = max(sum(frame.items[i].height for i in column.items) for column in columns)
            bands.append(Band(height, tuple(reversed(columns))))
    pattern = Pattern(entry.pattern.first, tuple(reversed(bands)))
    counts = counts_of(frame, pattern, len(spare))
    if not any(counts) or counts == entry.counts:
        return None
    strokes.found.pool.add(frame, pattern)
    return Entry(frame, pattern, counts)


__all__ = ["Built", "Strokes", "answer_for", "enrich"]
