"""Pattern, one sheet's guillotine layout as bands, columns and items; and its slots and cuts in micrometres."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from kitbuilder.packing.job import First, Frame, Job
from kitbuilder.packing.problem import Cut, Slot

Extent = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Column:
    """Items (indices into Frame.items) one below the other; none is wider than the column."""

    width: int
    items: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Band:
    """Columns side by side; none is higher than the band."""

    height: int
    columns: tuple[Column, ...]


@dataclass(frozen=True, slots=True)
class Pattern:
    """Bands one below the other, in the frame named by `first`."""

    first: First
    bands: tuple[Band, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """A size class's rectangle in micrometres as placed on the sheet."""

    size: int
    x_um: int
    y_um: int
    width_um: int
    height_um: int


def items_of(pattern: Pattern) -> Iterator[int]:
    """Every item of the pattern, band by band, column by column."""
    for band in pattern.bands:
        for column in band.columns:
            yield from column.items


def counts_of(frame: Frame, pattern: Pattern, sizes: int) -> tuple[int, ...]:
    """How many flats of each size class the pattern yields."""
    counts = [0] * sizes
    for item in items_of(pattern):
        counts[frame.items[item].size] += 1
    return tuple(counts)


def tidied(frame: Frame, pattern: Pattern) -> Pattern:
    """The same layout with like things side by side: bands, columns and items from large to small."""
    bands = []
    for band in pattern.bands:
        columns = [Column(c.width, tuple(sorted(c.items, key=lambda i: item_rank(frame, i)))) for c in band.columns]
        columns.sort(key=lambda c: (-c.width, [item_rank(frame, i) for i in c.items]))
        bands.append(Band(band.height, tuple(columns)))
    bands.sort(key=lambda b: (-b.height, [(-c.width, [item_rank(frame, i) for i in c.items]) for c in b.columns]))
    return Pattern(pattern.first, tuple(bands))


def item_rank(frame: Frame, item: int) -> tuple[int, int, int]:
    """Sort key that puts wide, then high items first."""
    return -frame.items[item].width, -frame.items[item].height, item


class Scale:
    """Micrometres for one frame: turns grid positions with gutter into real ones, and frame axes into x and y."""

    __slots__ = ("across", "frame", "gutter", "paper_u", "paper_v", "sheet", "steps")

    def __init__(self, job: Job, frame: Frame) -> None:
        problem, waste = job.problem, job.problem.waste
        self.frame, self.gutter = frame, problem.gutter_um
        xs = (-waste.left_um, problem.sheet_width_um + waste.right_um)
        ys = (-waste.top_um, problem.sheet_height_um + waste.bottom_um)
        upright = frame.first == "h"
        self.steps = (job.grid_x, job.grid_y) if upright else (job.grid_y, job.grid_x)
        self.paper_u, self.paper_v = (xs, ys) if upright else (ys, xs)
        self.across: Literal["x", "y"] = "x" if upright else "y"

    def u(self, start: int, length: int) -> Extent:
        """Real ends along a band."""
        return start * self.steps[0], (start + length) * self.steps[0] - self.gutter

    def v(self, start: int, length: int) -> Extent:
        """Real ends across bands."""
        return start * self.steps[1], (start + length) * self.steps[1] - self.gutter

    def placed(self, size: int, u: Extent, v: Extent) -> Placed:
        """The rectangle of these ends on the sheet."""
        x, y = (u, v) if self.across == "x" else (v, u)
        return Placed(size, x[0], y[0], x[1] - x[0], y[1] - y[0])

    def cuts(self, along_v: bool, inside: list[Extent], region: Extent, span: Extent, stage: int) -> Iterator[Cut]:
        """Cuts that free the `inside` extents from `region`; `along_v` for lines that run across the bands."""
        axis: Literal["x", "y"] = self.across if along_v else ("y" if self.across == "x" else "x")
        for at in sorted({end for extent in inside for end in extent}):
            if region[0] < at < region[1]:
                yield Cut(axis, at, span[0], span[1], stage)


def drawn(job: Job, frame: Frame, pattern: Pattern, trim_first: bool) -> tuple[list[Placed], list[Cut]]:
    """Rectangles and cuts of a pattern, stage by stage; trim_first: side waste of all bands goes in one cut before."""
    scale = Scale(job, frame)
    placed: list[Placed] = []
    cuts: list[Cut] = []
    sheet_u, sheet_v = scale.paper_u, scale.paper_v
    if trim_first:
        reach = max(sum(column.width for column in band.columns) for band in pattern.bands)
        used = scale.u(0, reach)
        cuts += scale.cuts(True, [used], sheet_u, sheet_v, 1)
        sheet_u = used
    stage = 2 if trim_first else 1
    bands: list[Extent] = []
    v = 0
    for band in pattern.bands:
        bands.append(scale.v(v, band.height))
        draw_band(scale, band, v, sheet_u, stage + 1, placed, cuts)
        v += band.height
    cuts += scale.cuts(False, bands, sheet_v, sheet_u, stage)
    cuts.sort(key=lambda cut: cut.stage)
    return placed, cuts


def draw_band(
    scale: Scale, band: Band, v: int, sheet_u: Extent, stage: int, placed: list[Placed], cuts: list[Cut]
) -> None:
    """Nothing; adds the band's rectangles and the cuts of its columns, items and trims."""
    band_v = scale.v(v, band.height)
    columns: list[Extent] = []
    u = 0
    for column in band.columns:
        cell_u = scale.u(u, column.width)
        columns.append(cell_u)
        rows: list[Extent] = []
        down = v
        for index in column.items:
            item = scale.frame.items[index]
            row = scale.v(down, item.height)
            own = scale.u(u, item.width)
            rows.append(row)
            placed.append(scale.placed(item.size, own, row))
            cuts += scale.cuts(True, [own], cell_u, row, stage + 2)
            down += item.height
        cuts += scale.cuts(False, rows, band_v, cell_u, stage + 1)
        u += column.width
    cuts += scale.cuts(True, columns, sheet_u, band_v, stage)


def slots_of(job: Job, placed: list[Placed], wanted: list[int]) -> tuple[Slot, ...]:
    """Slots of one sheet: each takes the first part of its class still wanted; lowers `wanted` (by part)."""
    slots = []
    for rect in placed:
        group = job.parts_of[rect.size]
        part = next((index for index in group if wanted[index] > 0), group[0])
        wanted[part] -= 1
        shape = job.problem.parts[part]
        turned = (rect.width_um, rect.height_um) != (shape.width_um, shape.height_um)
        slots.append(Slot(part, rect.x_um, rect.y_um, rect.width_um, rect.height_um, turned))
    return tuple(slots)
