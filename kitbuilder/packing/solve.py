"""Solve: the fewest sheets, then the fewest strokes, with a proved lower bound."""

from kitbuilder.packing.job import job_of
from kitbuilder.packing.problem import Problem, Solution
from kitbuilder.packing.single import solve_single


def solve(problem: Problem) -> Solution:
    """Layouts for all parts on few sheets, cut with few strokes.

    On the fewest sheets, or up to `extra_sheets` more where that saves strokes. Slots over all copies may exceed the
    demand. Raises the PackingError that says what cannot be packed.
    """
    job = job_of(problem)
    if not job.demands:
        return Solution((), 0, "no parts, no sheets", 0, ((0, 0),))
    if sum(job.demands) == 1:
        return solve_single(job)
    from kitbuilder.packing.solve_many import solve_many  # brings the solver's library and numpy

    return solve_many(job)
