"""Solve: the fewest sheets, then the fewest strokes, with a proved lower bound."""

from collections import Counter

from kitbuilder.packing.job import Frame, Job, blade_of, job_of
from kitbuilder.packing.pattern import Pattern, Placed, counts_of, drawn, slots_of
from kitbuilder.packing.problem import Cut, Layout, Problem, Solution
from kitbuilder.packing.shelves import filled
from kitbuilder.packing.strokes import count_strokes, strip_tree


def solve(problem: Problem) -> Solution:
    """Layouts for all parts on few sheets, cut with few strokes.

    Slots over all copies may exceed the demand. Raises the PackingError that says what cannot be packed.
    """
    job = job_of(problem)
    if not job.demands:
        return Solution((), 0, "no parts, no sheets", 0, ((0, 0),))
    used = shelf_patterns(job)
    layouts, together, singly = finished(job, used)
    area = sum(part.demand * part.width_um * part.height_um for part in problem.parts)
    bound = -(-area // (problem.sheet_width_um * problem.sheet_height_um))
    sheets = sum(layout.copies for layout in layouts)
    return Solution(layouts, bound, "any layout (by area)", together, ((sheets, together),), singly)


def shelf_patterns(job: Job) -> list[tuple[Frame, Pattern, int]]:
    """Greedy patterns with copies until every demand is met, the fuller frame taken each time."""
    left = list(job.demands)
    used = []
    while any(left):
        tries = []
        for frame in job.frames:
            order = sorted(frame.usable, key=lambda i: (-frame.items[i].height, -frame.items[i].width, i))
            pattern = filled(frame, order, left)
            counts = counts_of(frame, pattern, len(left))
            area = sum(n * frame.items[i].width * frame.items[i].height for n, i in item_areas(frame, counts))
            tries.append((area, frame, pattern, counts))
        _, frame, pattern, counts = max(tries, key=lambda entry: entry[0])
        copies = min(left[size] // count for size, count in enumerate(counts) if count)
        left = [have - copies * count for have, count in zip(left, counts, strict=True)]
        used.append((frame, pattern, copies))
    return used


def item_areas(frame: Frame, counts: tuple[int, ...]) -> list[tuple[int, int]]:
    """Count and one item of each size that is in the pattern."""
    one = {frame.items[i].size: i for i in frame.usable}
    return [(count, one[size]) for size, count in enumerate(counts) if count]


def finished(job: Job, used: list[tuple[Frame, Pattern, int]]) -> tuple[tuple[Layout, ...], int, int]:
    """Layouts with slots and cuts, most copies first, and their strokes together and singly.

    Where several parts share one size, copies of one pattern whose slots go to different parts become layouts of
    their own; they are still cut in common stacks.
    """
    wanted = [part.demand for part in job.problem.parts]
    layouts = []
    together = singly = 0
    for frame, pattern, copies in sorted(used, key=lambda entry: -entry[2]):
        placed, cuts, strokes, alone = cheapest_cuts(job, frame, pattern)
        sheets = Counter(slots_of(job, placed, wanted) for _ in range(copies))
        layouts += [Layout(count, slots, tuple(cuts)) for slots, count in sheets.items()]
        stacks = -(-copies // job.problem.stack)
        together += stacks * strokes
        singly += stacks * alone
    return tuple(layouts), together, singly


def cheapest_cuts(job: Job, frame: Frame, pattern: Pattern) -> tuple[list[Placed], list[Cut], int, int]:
    """Rectangles, cuts and strokes (together, singly) of a pattern, side waste trimmed first where that saves."""
    blade = blade_of(job.problem)
    waste = job.problem.waste
    x = (-waste.left_um, job.problem.sheet_width_um + waste.right_um)
    y = (-waste.top_um, job.problem.sheet_height_um + waste.bottom_um)
    ways = []
    for trim_first in (False, True):
        placed, cuts = drawn(job, frame, pattern, trim_first)
        if all(cut.to_um - cut.from_um <= blade for cut in cuts):
            ways.append((*count_strokes(strip_tree(cuts, x, y), blade), trim_first, placed, cuts))
    together, singly, _, placed, cuts = min(ways, key=lambda way: way[:3])
    return placed, cuts, together, singly
