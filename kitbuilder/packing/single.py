"""A single flat on a sheet of its own: a lost card needs no solver, which takes longer to load than a card to lay."""

from kitbuilder.packing.job import Job
from kitbuilder.packing.layouts import cheapness, cutting_of, finished
from kitbuilder.packing.pool import Entry
from kitbuilder.packing.problem import ANY, Solution
from kitbuilder.packing.shelves import filled


def solve_single(job: Job) -> Solution:
    """The flat on one sheet, whichever way it lies cut with the fewest strokes; the job has one flat and no more."""
    ways = [
        cutting_of(job, Entry(frame, filled(frame, [item], [1]), (1,))) for frame in job.frames for item in frame.usable
    ]
    best = min(ways, key=cheapness)
    return Solution(finished(job, [(best, 1)]), 1, ANY, best.strokes, ((1, best.strokes),), best.singly, best.strokes)
