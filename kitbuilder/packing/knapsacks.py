"""Sheets built band by band: each band is a bounded knapsack of columns of one size, its gaps filled with what fits."""

from collections.abc import Sequence
from random import Random

import numpy as np
import numpy.typing as npt

from kitbuilder.packing.job import Frame
from kitbuilder.packing.pattern import Band, Column, Pattern
from kitbuilder.packing.pricing import Ruler
from kitbuilder.packing.shelves import fitting

Floats = npt.NDArray[np.float64]
MOST_ROWS = 48  # band heights tried for one band; more cost time and hardly ever win


class BandBuilder:
    """Builds bands for one frame and given values; takes what it uses from the list of what is left."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self.items = [index for index in frame.usable if frame.items[index].height <= frame.tallest]
        self.across = Ruler([frame.items[index].width for index in self.items], frame.width)
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
    ) -> tuple[Floats, list[tuple[int, npt.NDArray[np.bool_]]]]:
        """Largest value by position across and band height, and for each pass (one more column) where it won."""
        heights = np.array(rows)
        table = np.zeros((self.across.last + 1, len(rows)))
        passes: list[tuple[int, npt.NDArray[np.bool_]]] = []
        for index in live:
            item = self.frame.items[index]
            deep = heights // item.height
            back = np.searchsorted(self.across.at, self.across.at - item.width, side="right") - 1
            start = int(np.searchsorted(self.across.at, item.width))
            have = left[item.size]
            for number in range(min(self.frame.width // item.width, have)):
                gain = np.clip(have - number * deep, 0, deep) * values[item.size]
                if not gain.any():
                    break
                other = table[back[start:]] + gain
                won = other > table[start:]
                won[:, gain == 0] = False
                mask = np.zeros(table.shape, dtype=bool)
                mask[start:] = won
                np.copyto(table[start:], other, where=won)
                passes.append((index, mask))
        return table, passes

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
        passes: list[tuple[int, npt.NDArray[np.bool_]]],
        rows: list[int],
        row: int,
        left: list[int],
        order: Sequence[int],
    ) -> Band:
        """The band behind the table: passes read backwards, each column topped up with what fits."""
        here = self.across.last
        leads = []
        for index, mask in reversed(passes):
            if mask[here, row]:
                leads.append(index)
                here = self.across.before(int(self.across.at[here]) - self.frame.items[index].width)
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
