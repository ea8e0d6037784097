"""Many flats: the fewest sheets, then on these, or on a few more, the fewest strokes."""

from kitbuilder.packing.fewer_strokes import Strokes, answer_for, enrich
from kitbuilder.packing.greedy import Copies
from kitbuilder.packing.job import Job
from kitbuilder.packing.layouts import finished
from kitbuilder.packing.problem import Solution
from kitbuilder.packing.sheets import fewest

FEW_STACKS = 3  # with no more stacks than these, layouts for whole stacks alone find what the integer step finds


def solve_many(job: Job) -> Solution:
    """Layouts for all flats of a job that has some: see `solve`."""
    problem = job.problem
    found = fewest(job)
    strokes = Strokes(found, job)
    enrich(strokes)
    first = found.copies
    first_strokes = strokes.strokes(first)
    answers: list[Copies] = []
    for extra in sorted({0, 1, -(-found.sheets // 20), problem.extra_sheets}):
        start = answers[-1] if answers else first
        few = found.sheets <= FEW_STACKS * problem.stack
        mixes = (0 if few else 1) if answers else (2 if few else 3)
        answers.append(answer_for(strokes, start, found.sheets + extra, mixes))
    allowed = [answer for answer in answers if sum(answer.values()) <= found.sheets + problem.extra_sheets]
    best = min(allowed, key=lambda answer: (strokes.strokes(answer), sum(answer.values())))
    used = [(strokes.cutting(counts), copies) for counts, copies in best.items()]
    stacks = [(cutting, -(-copies // problem.stack)) for cutting, copies in used]
    trade = sorted({(sum(answer.values()), strokes.strokes(answer)) for answer in answers})
    return Solution(
        layouts=finished(job, used),
        lower_bound=found.bound,
        bound=found.bound_class,
        strokes=sum(number * cutting.strokes for cutting, number in stacks),
        trade=tuple(trade),
        strokes_singly=sum(number * cutting.singly for cutting, number in stacks),
        first_strokes=first_strokes,
    )
