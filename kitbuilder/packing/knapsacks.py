"""Sheets built band by band: each band is a bounded knapsack of columns of one size, its gaps filled with what fits."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np
import numpy.typing as npt

from kitbuilder.packing.job import Frame
from kitbuilder.packing.pattern import Band, Column, Pattern
from kitbuilder.packing.pricing import Ruler
from kitbuilder.packing.shelves import fitting

Floats = npt.NDArray[np.float64]
MOST_ROWS = 24  # band heights tried for one band; more cost time and hardly ever win


@dataclass(frozen=True, slots=True)
class Pass:
    """One item offered in so many columns: where, from position `start` on and by band height, it was worth taking."""

    item: int
    times: int
    start: int
    won: npt.NDArray[np.bool_]


class BandBuilder:
    """Builds bands for one frame and given values; takes what it uses from the list of what is left."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self.items = [index for index in frame.usable if frame.items[index].height <= frame.tallest]
        self.across = Ruler([frame.items[index].width for index in self.items], frame.width)
        self.backs: dict[int, tuple[int, npt.NDArray[np.intp]]] = {}
        sums = {frame.items[a].height + frame.items[b].height for a in self.items for b in self.items}
        self.single = sorted({frame.items[index].height for index in self.items})
        self.double = sorted(height for height in sums if height <= frame.tallest and height not in self.single)

    def sheet(self, left: list[int], values: Sequence[float], chance: Random) -> Pattern:
        """One sheet, never more of a size than is left; `left` is lowered."""
        order = sorted(self.frame.usable, key=lambda i: (-self.density(i, values), i))
        bands: list[Band] = []
        room = self.frame.height
        while True:
            band = self.band(left, values, room, order, chance)
            if band is None:
                return Pattern(self.frame.first, tuple(bands))
            bands.append(band)
            room -= band.height

    def density(self, index: int, values: Sequence[float]) -> float:
        """Value by area of an item."""
        item = self.frame.items[index]
        return values[item.size] / (item.width * item.height)

    def band(
        self, left: list[int], values: Sequence[float], room: int, order: Sequence[int], chance: Random
    ) -> Band | None:
        """The band that promises most for the room that is left, or None when nothing fits."""
        tall = next((i for i in order if self.frame.items[i].height > self.frame.tallest), None)
        if tall is not None and left[self.frame.items[tall].size] and self.frame.items[tall].height <= room:
            left[self.frame.items[tall].size] -= 1
            return Band(self.frame.items[tall].height, (Column(self.frame.width, (tall,)),))
        live = [i for i in self.items if left[self.frame.items[i].size] and self.frame.items[i].height <= room]
        if not live:
            return None
        rows = self.rows(live, room, chance)
        table, passes = self.knapsack(live, left, values, rows)
        row = self.promising(table[-1], rows, room, min(self.frame.items[i].height for i in live))
        return self.traced(passes, rows, row, left, order)

    def rows(self, live: list[int], room: int, chance: Random) -> list[int]:
        """Band heights to try: of single items still wanted, and some of two below each other."""
        single = sorted({self.frame.items[i].height for i in live})
        double = [height for height in self.double if height <= room]
        if len(single) > MOST_ROWS // 2:
            single = sorted(chance.sample(single, MOST_ROWS // 2))
        spare = MOST_ROWS - len(single)
        return sorted({*single, *(double if len(double) <= spare else chance.sample(double, spare))})

    def knapsack(
        self, live: list[int], left: Sequence[int], values: Sequence[float], rows: list[int]
    ) -> tuple[Floats, list[Pass]]:
        """Largest value by position across and band height, and the passes: one for 1, 2, 4, ... columns of an item."""
        heights = np.array(rows)
        table = np.zeros((self.across.last + 1, len(rows)))
        passes: list[Pass] = []
        for index in live:
            item = self.frame.items[index]
            deep = heights // item.height
            have = left[item.size]
            most = min(self.frame.width // item.width, have)
            number, times = 0, 1
            while number < most:
                times = min(times, most - number)
                gain = np.minimum(np.maximum(have - number * deep, 0), times * deep) * values[item.size]
                if not gain.any():
                    break
                start, back = self.stepped(times * item.width)
                other = table[back]
                other += gain
                won = other > table[start:]
                np.maximum(table[start:], other, out=table[start:])
                passes.append(Pass(index, times, start, won))
                number, times = number + times, 2 * times
        return table, passes

    def stepped(self, length: int) -> tuple[int, npt.NDArray[np.intp]]:
        """The first position at least this far, and for it and each later one the position stepped back to."""
        if length not in self.backs:
            at = self.across.at
            start = int(np.searchsorted(at, length))
            self.backs[length] = start, np.searchsorted(at, at[start:] - length, side="right") - 1
        return self.backs[length]

    def promising(self, worth: Floats, rows: list[int], room: int, lowest: int) -> int:
        """Index of the row with the best value, the room below it reckoned at the best value per height."""
        heights = np.array(rows, dtype=np.float64)
        rate = float((worth / heights).max())
        rest = room - heights
        promise = worth + np.where(rest >= lowest, rest * rate * 0.95, 0.0)
        promise[worth <= 0] = -1.0  # a height made of sizes that are used up
        return int(promise.argmax())

    def traced(
        self,
        passes: list[Pass],
        rows: list[int],
        row: int,
        left: list[int],
        order: Sequence[int],
    ) -> Band:
        """The band behind the table: passes read backwards, each column topped up with what fits."""
        here = self.across.last
        leads = []
        for step in reversed(passes):
            if here >= step.start and step.won[here - step.start, row]:
                leads += [step.item] * step.times
                width = step.times * self.frame.items[step.item].width
                here = self.across.before(int(self.across.at[here]) - width)
        return self.topped_up(leads, rows[row], left, order)

    def topped_up(self, leads: list[int], height: int, left: list[int], order: Sequence[int]) -> Band:
        """Columns of the leads first, then whatever fits below and beside them."""
        frame = self.frame
        columns: list[tuple[int, list[int], int]] = []
        for index in leads:
            item = frame.items[index]
            count = min(left[item.size], height // item.height)
            if count:
                left[item.size] -= count
                columns.append((item.width, [index] * count, height - count * item.height))
        room = frame.width - sum(width for width, _, _ in columns)
        full: list[Column] = []
        used = 0
        while columns:
            width, items, rest = columns.pop(0)
            more = fitting(frame, order, left, width, rest)
            while more is not None:
                items.append(more)
                left[frame.items[more].size] -= 1
                rest -= frame.items[more].height
                more = fitting(frame, order, left, width, rest)
            full.append(Column(width, tuple(items)))
            used = max(used, height - rest)
            beside = fitting(frame, order, left, room, height)
            if beside is not None:
                left[frame.items[beside].size] -= 1
                columns.append((frame.items[beside].width, [beside], height - frame.items[beside].height))
                room -= frame.items[beside].width
        return Band(used, tuple(full))
