"""Solve: the fewest sheets, then the fewest strokes, with a proved lower bound."""

from kitbuilder.packing.fewer_strokes import Strokes, answer_for, enrich
from kitbuilder.packing.greedy import Copies
from kitbuilder.packing.job import job_of
from kitbuilder.packing.layouts import finished
from kitbuilder.packing.problem import Problem, Solution
from kitbuilder.packing.sheets import fewest

FEW_STACKS = 3  # with no more stacks than these, layouts for whole stacks alone find what the integer step finds


def solve(problem: Problem) -> Solution:
    """Layouts for all parts on few sheets, cut with few strokes.

    On the fewest sheets, or up to `extra_sheets` more where that saves strokes. Slots over all copies may exceed the
    demand. Raises the PackingError that says what cannot be packed.
    """
    job = job_of(problem)
    if not job.demands:
        return Solution((), 0, "no parts, no sheets", 0, ((0, 0),))
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
