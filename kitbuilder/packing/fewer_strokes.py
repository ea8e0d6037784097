"""At a given number of sheets: the layouts whose stacks need the fewest strokes."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations

from kitbuilder.packing.greedy import Copies, Greedy, worth
from kitbuilder.packing.job import Job
from kitbuilder.packing.layouts import Cutting, cheapness, cutting_of
from kitbuilder.packing.master import fewest_strokes, reduced_costs
from kitbuilder.packing.pattern import Band, Column, Pattern, counts_of
from kitbuilder.packing.pool import Entry
from kitbuilder.packing.pricing import Pricer
from kitbuilder.packing.sheets import Found

PAIRS = 45  # pairs of sizes given layouts of their own
TEMPLATE_RUNS = 60
REBUILD_RUNS = 80
REARRANGE_RUNS = 60
MOST_LAYOUTS = 12
TIGHT = 0.8  # share of the paper above which plain shelves seldom come out
CHOSEN = 60  # patterns the integer step chooses from
NODES = 10
PER_STROKE, PER_LAYOUT = 10_000, 100  # weights: strokes before layouts before settings of the edge stop


@dataclass(slots=True)
class Strokes:
    """Finds answers with few strokes over one pool; counts the cuts of a pattern once."""

    found: Found
    job: Job
    known: dict[tuple[int, ...], Cutting] = field(default_factory=dict)
    guesses: dict[tuple[int, ...], int] = field(default_factory=dict)
    settled: set[tuple[int, ...]] = field(default_factory=set)

    def cutting(self, counts: tuple[int, ...]) -> Cutting:
        """The cheapest known way to cut a yield."""
        if counts not in self.known:
            entries = self.found.pool.entries[counts]
            self.known[counts] = min((cutting_of(self.job, entry) for entry in entries), key=cheapness)
        return self.known[counts]

    def guess(self, counts: tuple[int, ...]) -> int:
        """Strokes reckoned quickly, like bands and columns taken as one: good enough to choose patterns by."""
        if counts not in self.guesses:
            self.guesses[counts] = min(guessed_strokes(entry) for entry in self.found.pool.entries[counts])
        return self.guesses[counts]

    def strokes(self, copies: Copies) -> int:
        """Strokes of all stacks."""
        stack = self.job.problem.stack
        return sum(-(-n // stack) * self.cutting(counts).strokes for counts, n in copies.items())

    def rank(self, copies: Copies) -> tuple[int, int, int, int]:
        """Strokes, layouts, settings, and the largest offcut taken away: less is better."""
        cuttings = [self.cutting(counts) for counts in copies]
        settings = sum(cutting.settings for cutting in cuttings)
        return self.strokes(copies), len(copies), settings, -max(cutting.offcut for cutting in cuttings)


def guessed_strokes(entry: Entry) -> int:
    """Cuts between bands, columns and items, each kind of band and column counted once."""
    kinds = set(entry.pattern.bands)
    columns = {(band.height, column) for band in kinds for column in band.columns}
    return len(entry.pattern.bands) + sum(len(band.columns) for band in kinds) + sum(len(c.items) for _, c in columns)


def answer_for(strokes: Strokes, start: Copies, sheets: int, mixes: int) -> Copies:
    """The answer with the fewest strokes found on at most so many sheets; `start` is one that is known.

    `mixes`: how often the integer step is called; it costs most of the time, and the first call gains most.
    """
    best = min([start, *templates(strokes, sheets)], key=strokes.rank)
    for turn in range(max(1, mixes)):
        if turn < mixes:
            best = min([best, thinned(strokes, mixed(strokes, [start, best], sheets, turn))], key=strokes.rank)
        rearrange(strokes, best)
        best = rebuilt(strokes, best, sheets)
    rearrange(strokes, best)
    return best


def mixed(strokes: Strokes, answers: Sequence[Copies], sheets: int, turn: int) -> Copies:
    """The best mix of promising patterns the integer step finds, or the last of the answers."""
    job = strokes.job
    chosen = promising(strokes, answers, sheets, turn)
    begin = {index: answers[-1][counts] for index, counts in enumerate(chosen) if counts in answers[-1]}
    cuttings = [strokes.cutting(counts) for counts in chosen]
    weights = [(PER_STROKE * cutting.strokes, PER_LAYOUT + cutting.settings) for cutting in cuttings]
    found = fewest_strokes(chosen, weights, job.demands, job.problem.stack, sheets, begin, NODES)
    return {chosen[index]: n for index, n in found.items()} if found else answers[-1]


def rebuilt(strokes: Strokes, best: Copies, sheets: int) -> Copies:
    """The answer after some of its layouts were taken out at random and built anew, many times, where that helped."""
    greedy, demands = strokes.found.greedy, strokes.job.demands
    for run in range(REBUILD_RUNS):
        order = sorted(best)
        out = set(greedy.chance.sample(order, min(len(order), 2 + run % 3)))
        kept = {counts: n for counts, n in best.items() if counts not in out}
        left = list(demands)
        for counts, n in kept.items():
            left = [max(0, have - n * count) for have, count in zip(left, counts, strict=True)]
        room = sheets - sum(kept.values())
        if not any(left):
            best = kept
            continue
        rest = template(greedy, left, stacks(greedy, room, strokes.job.problem.stack, run), run)
        if rest is not None:
            trial = {counts: kept.get(counts, 0) + rest.get(counts, 0) for counts in [*kept, *rest]}
            best = min([best, thinned(strokes, trial)], key=strokes.rank)
    return best


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


def templates(strokes: Strokes, sheets: int) -> list[Copies]:
    """Answers made of stacks of equal sheets on so many sheets, as far as they come out."""
    greedy, job = strokes.found.greedy, strokes.job
    plans = [stacks(greedy, sheets, job.problem.stack, run) for run in range(TEMPLATE_RUNS)]
    answers = [template(greedy, job.demands, plan, run) for run, plan in enumerate(plans)]
    return [answer for answer in answers if answer is not None]


def template(greedy: Greedy, wanted: Sequence[int], plan: Sequence[int], run: int) -> Copies | None:
    """Copies for one stack after the other, each sheet holding its share of what is left; None when some stay left."""
    left = list(wanted)
    tight = worth(left, greedy.areas) > TIGHT * sum(plan)
    build = greedy.knapsacks if run % (6 if tight else 24) == 3 else greedy.shelves
    copies: Copies = {}
    for place, times in enumerate(plan):
        up = place >= len(plan) - 2 or greedy.chance.random() < 0.5
        share = [(have + times - 1) // times if up else have // times for have in left]
        if not any(share):
            share = [(have + times - 1) // times for have in left]
        frame, pattern, counts = build(share, run)
        greedy.pool.add(frame, pattern)
        copies[counts] = copies.get(counts, 0) + times
        left = [max(0, have - times * count) for have, count in zip(left, counts, strict=True)]
        if not any(left):
            return copies
    return None


def stacks(greedy: Greedy, sheets: int, stack: int, run: int) -> list[int]:
    """Copies of each layout: full stacks, the rest in one; every third run one layout is split in two.

    On many sheets a layout takes several stacks, so that there are no more than about MOST_LAYOUTS.
    """
    block = stack * max(1, -(-sheets // (stack * MOST_LAYOUTS)))
    plan = [block] * (sheets // block)
    if sheets % block:
        plan.append(sheets % block)
    if run % 3 == 2 and plan[0] > 1:
        first = greedy.chance.randrange(1, plan[0])
        plan = sorted([*plan[1:], first, plan[0] - first], reverse=True)
    return plan


def promising(strokes: Strokes, answers: Sequence[Copies], sheets: int, turn: int) -> list[tuple[int, ...]]:
    """Yields for the integer step in canonical order: of the answers, then from two of three rankings.

    Cheap to cut for what they hold; well filled; cheapest in a mix of fractions. Each finds what the others miss: the
    first when a single layout may do, the second when no sheet can be spared, the third when many stacks are cut.
    """
    demands, duals, pool = strokes.job.demands, strokes.found.relaxed.duals, strokes.found.pool
    keep = {counts for answer in answers for counts in answer}
    order = sorted(pool.entries)
    costs = [float(strokes.guess(counts)) for counts in order]
    dear = reduced_costs(order, costs, demands, sheets)
    rankings: list[list[tuple[float, tuple[int, ...]]]] = [[], [], []]
    for counts, cost, more in zip(order, costs, dear, strict=True):
        value = sum(min(n, demand) * dual for n, demand, dual in zip(counts, demands, duals, strict=True))
        scores = (cost / max(value, 0.05) ** 2, -value, more)
        for ranking, score in zip(rankings, scores, strict=True):
            ranking.append((round(score, 6), counts))
    del rankings[(2, 1, 0)[turn % 3]]  # another pair each turn: small programs that differ do better than a large one
    for place in zip(*(sorted(ranking) for ranking in rankings), strict=True):
        keep |= {counts for _, counts in place}
        if len(keep) >= CHOSEN:
            break
    return sorted(keep)


def rearrange(strokes: Strokes, copies: Copies) -> None:
    """Nothing; looks for cheaper ways to cut what each layout of the answer holds."""
    greedy = strokes.found.greedy
    for counts in sorted(copies):
        if counts in strokes.settled:
            continue
        strokes.settled.add(counts)
        best = strokes.cutting(counts)
        seen = {best.entry.pattern}
        for run in range(REARRANGE_RUNS):
            frame, pattern, made = greedy.shelves(counts, run)
            if made == counts and pattern not in seen:
                seen.add(pattern)
                best = min(best, cutting_of(strokes.job, Entry(frame, pattern, counts)), key=cheapness)
        strokes.known[counts] = best


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
    """The pattern without as many of each size as are spare, last bands first; None when all are needed."""
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
