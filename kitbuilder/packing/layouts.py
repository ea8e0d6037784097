"""Patterns and copies to finished layouts: slots, cuts, and the strokes of their stacks."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from kitbuilder.packing.job import Job, blade_of
from kitbuilder.packing.pattern import Placed, drawn, slots_of
from kitbuilder.packing.pool import Entry
from kitbuilder.packing.problem import Cut, Layout
from kitbuilder.packing.strokes import count_strokes, fence_settings, strip_tree


@dataclass(frozen=True, slots=True)
class Cutting:
    """A pattern drawn on paper: its strokes for one stack, settings of the edge stop, and largest offcut (mm2)."""

    entry: Entry
    strokes: int
    singly: int
    settings: int
    offcut: int
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]


def cutting_of(job: Job, entry: Entry) -> Cutting:
    """The pattern with its cheapest cuts: side waste of all bands trimmed in one go first where that saves strokes."""
    blade, waste = blade_of(job.problem), job.problem.waste
    x = (-waste.left_um, job.problem.sheet_width_um + waste.right_um)
    y = (-waste.top_um, job.problem.sheet_height_um + waste.bottom_um)
    ways = []
    for trim_first in (False, True):
        if trim_first and len(entry.pattern.bands) == 1:
            continue  # one band is trimmed with its columns
        placed, cuts = drawn(job, entry.frame, entry.pattern, trim_first)
        if all(cut.to_um - cut.from_um <= blade for cut in cuts):
            tree = strip_tree(cuts, x, y)
            strokes, singly = count_strokes(tree, blade)
            ways.append(((strokes, singly, trim_first), fence_settings(tree), placed, cuts))
    (strokes, singly, _), settings, placed, cuts = min(ways, key=lambda way: way[0])
    return Cutting(entry, strokes, singly, settings, offcut_of(job, placed), tuple(placed), tuple(cuts))


def cheapness(cutting: Cutting) -> tuple[int, int, int, int]:
    """Sort key of two ways to cut the same yield."""
    return cutting.strokes, cutting.settings, cutting.singly, -cutting.offcut


def offcut_of(job: Job, placed: Sequence[Placed]) -> int:
    """Square millimetres of the larger strip left whole, below all flats or to their right."""
    width, height = job.problem.sheet_width_um, job.problem.sheet_height_um
    right = max(rect.x_um + rect.width_um for rect in placed)
    bottom = max(rect.y_um + rect.height_um for rect in placed)
    return max((width - right) * height, (height - bottom) * width) // 1_000_000


def finished(job: Job, used: Sequence[tuple[Cutting, int]]) -> tuple[Layout, ...]:
    """Layouts for cuttings and their copies, most copies first.

    Where several parts share one size, copies of one pattern whose slots go to different parts become layouts of
    their own; they are still cut in common stacks.
    """
    wanted = [part.demand for part in job.problem.parts]
    layouts = []
    for cutting, copies in sorted(used, key=lambda entry: (-entry[1], entry[0].entry.counts)):
        sheets = Counter(slots_of(job, list(cutting.placed), wanted) for _ in range(copies))
        layouts += [Layout(count, slots, cutting.cuts) for slots, count in sheets.items()]
    return tuple(layouts)
