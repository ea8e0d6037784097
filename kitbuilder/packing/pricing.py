"""Pricing: the pattern worth most at given values of the size classes, by dynamic programming on normal positions.

Gilmore and Gomory 1965: columns of items, bands of columns, a sheet of bands. Normal positions (Herz 1972; Christofides
and Whitlock 1977) are the lengths that sums of item sides can reach; no other position needs to be looked at. Both are
cited from memory. All values are whole numbers, so the largest value found is exact.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from kitbuilder.packing.job import Frame
from kitbuilder.packing.pattern import Band, Column, Pattern, tidied

Ints = npt.NDArray[np.int32]
Index = npt.NDArray[np.intp]


def normal_positions(lengths: Sequence[int], capacity: int) -> Index:
    """Every sum of `lengths` (each as often as one likes) up to capacity, 0 first, as an array."""
    limit = (1 << (capacity + 1)) - 1
    reach = 1
    for length in sorted(set(lengths)):
        step = length
        while step <= capacity:  # doubling: after each turn twice as many copies are covered
            reach |= (reach << step) & limit
            step *= 2
    bits = np.frombuffer(reach.to_bytes(capacity // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little"))


MOST_POSITIONS = 3_000  # sizes in tenths of a millimetre on A4 stay below; odd micrometres would not
THINNED = 1_000


class Ruler:
    """Normal positions of one direction, and for each length where one ends up after stepping back by it.

    Where there are too many, most are left out: what is found then still fits, but need not be best (`exact` is false).
    """

    def __init__(self, lengths: Sequence[int], capacity: int) -> None:
        self.at = normal_positions(lengths, capacity)
        self.exact = len(self.at) <= MOST_POSITIONS
        if not self.exact:
            single = {length for length in lengths if length <= capacity}
            pairs = {a + b for a in single for b in single if a + b <= capacity}
            kept = {*self.at[:: len(self.at) // THINNED].tolist(), *single, *pairs, int(self.at[-1])}
            self.at = np.array(sorted(kept), dtype=np.intp)
        self.last = len(self.at) - 1
        self.blocks: dict[int, list[tuple[int, int, Index]]] = {}

    def before(self, position: int) -> int:
        """Index of the largest normal position not beyond `position`."""
        return int(np.searchsorted(self.at, position, side="right")) - 1

    def steps(self, length: int) -> list[tuple[int, int, Index]]:
        """Blocks (from, to, index stepped back to) in which no position depends on another of the same block."""
        if length not in self.blocks:
            ends = np.searchsorted(self.at, np.arange(length, int(self.at[-1]) + 1, length), side="left")
            bounds = [*ends.tolist(), self.last + 1]
            blocks = []
            for low, high in pairwise(bounds):
                back = np.searchsorted(self.at, self.at[low:high] - length, side="right") - 1
                if low < high:
                    blocks.append((low, high, back))
            self.blocks[length] = blocks
        return self.blocks[length]


@dataclass(frozen=True, slots=True)
class Priced:
    """A pattern and what it is worth."""

    worth: int
    pattern: Pattern


class Pricer:
    """Prices the patterns of one frame: two stages (one item in a column) or three (items below each other)."""

    def __init__(self, frame: Frame, stages: int) -> None:
        self.frame, self.stages = frame, stages
        self.items = [
            (index, frame.items[index]) for index in frame.usable if frame.items[index].height <= frame.tallest
        ]
        self.tall = [(index, frame.items[index]) for index in frame.usable if frame.items[index].height > frame.tallest]
        self.widths = sorted({item.width for _, item in self.items})
        self.across = Ruler(self.widths, frame.width)
        self.down = Ruler([frame.items[index].height for index in frame.usable], frame.height)
        if stages == 2:
            rows = sorted({self.down.before(item.height) for _, item in self.items})
        else:
            rows = list(range(1, self.down.before(frame.tallest) + 1))
        self.rows = np.array(rows, dtype=np.intp)
        self.exact = self.across.exact and self.down.exact

    def best(self, values: Sequence[int], wanted: int = 1) -> list[Priced]:
        """Up to `wanted` patterns, the one worth most first; `values` by size class, none negative."""
        columns = self.column_worth(values)
        rows, worth = self.band_worth(columns)
        tall = [(self.down.before(item.height), values[item.size], index) for index, item in self.tall]
        sheet = self.sheet_worth(rows, worth, tall)
        found: dict[Pattern, int] = {}
        seen: set[tuple[int, int]] = set()
        for total, row in self.openers(rows, worth, tall, sheet, 4 * wanted):
            height = int(self.down.at[row])
            if len(found) == wanted or (total, height) in seen:
                continue
            pattern = self.traced(values, columns, rows, worth, tall, sheet, row)
            seen |= {(total, band.height) for band in pattern.bands}
            found.setdefault(pattern, total)
        return [Priced(total, pattern) for pattern, total in found.items()]

    def column_worth(self, values: Sequence[int]) -> Ints:
        """Largest value of a column, by width (rows of the array) and by height at normal positions."""
        worth = np.zeros((len(self.widths), self.down.last + 1), dtype=np.int32)
        for _, item in self.items:
            value = values[item.size]
            if value <= 0:
                continue
            first = self.widths.index(item.width)
            if self.stages == 2:
                np.maximum(
                    worth[first, self.down.before(item.height) :],
                    value,
                    out=worth[first, self.down.before(item.height) :],
                )
                continue
            for low, high, back in self.down.steps(item.height):
                block = worth[first:, low:high]
                np.maximum(block, worth[first:, back] + np.int32(value), out=block)
        return worth

    def band_worth(self, columns: Ints) -> tuple[Index, Ints]:
        """Rows (heights) at which a band is worth more than any lower one, and its worth."""
        rows = self.rows
        if not len(rows):
            return rows, np.zeros(0, dtype=np.int32)
        picked = columns[:, rows]
        rising = np.ones(len(rows), dtype=bool)
        rising[1:] = (picked[:, 1:] != picked[:, :-1]).any(axis=0)
        rising[0] = bool(picked[:, 0].any())
        rows, picked = rows[rising], picked[:, rising]
        worth = np.zeros(len(rows), dtype=np.int32)
        chunk = max(16, 65536 // (self.across.last + 1))  # keeps the table of one chunk inside the processor's cache
        for start in range(0, len(rows), chunk):
            worth[start : start + chunk] = self.knapsack(picked[:, start : start + chunk])[-1]
        rising = np.ones(len(rows), dtype=bool)
        rising[1:] = np.maximum.accumulate(worth)[:-1] < worth[1:]
        return rows[rising], worth[rising]

    def knapsack(self, columns: Ints) -> Ints:
        """Largest value by normal position across (rows) for each band height (columns of the array)."""
        table = np.zeros((self.across.last + 1, columns.shape[1]), dtype=np.int32)
        for which, width in enumerate(self.widths):
            value = columns[which]
            for low, high, back in self.across.steps(width):
                block = table[low:high]
                np.maximum(block, table[back] + value, out=block)
        return table

    def sheet_worth(self, rows: Index, worth: Ints, tall: list[tuple[int, int, int]]) -> Ints:
        """Largest value of the sheet's upper part, by normal position down."""
        table = np.zeros(self.down.last + 1, dtype=np.int32)
        bands = list(zip(rows.tolist(), worth.tolist(), strict=True)) + [(row, value) for row, value, _ in tall]
        for row, value in bands:
            for low, high, back in self.down.steps(int(self.down.at[row])):
                block = table[low:high]
                np.maximum(block, table[back] + np.int32(value), out=block)
        return table

    def openers(
        self, rows: Index, worth: Ints, tall: list[tuple[int, int, int]], sheet: Ints, wanted: int
    ) -> list[tuple[int, int]]:
        """Totals and opening rows of the best sheets that hold a band of that row, best first."""
        every = [*zip(rows.tolist(), worth.tolist(), strict=True), *((row, value) for row, value, _ in tall)]
        totals: dict[int, int] = {}
        for row, value in every:
            rest = int(sheet[self.down.before(self.frame.height - int(self.down.at[row]))])
            totals[row] = max(totals.get(row, 0), value + rest)
        ranked = sorted(((total, -row) for row, total in totals.items()), reverse=True)
        return [(total, -row) for total, row in ranked[:wanted]]

    def traced(
        self,
        values: Sequence[int],
        columns: Ints,
        rows: Index,
        worth: Ints,
        tall: list[tuple[int, int, int]],
        sheet: Ints,
        opener: int,
    ) -> Pattern:
        """The pattern behind the tables, opened by a band of row `opener`."""
        bands = [self.traced_band(values, columns, worth, rows, tall, opener)]
        here = self.down.before(self.frame.height - int(self.down.at[opener]))
        heights = [int(self.down.at[row]) for row in rows.tolist()] + [int(self.down.at[row]) for row, _, _ in tall]
        gains = worth.tolist() + [value for _, value, _ in tall]
        every = rows.tolist() + [row for row, _, _ in tall]
        while sheet[here]:
            for height, gain, row in zip(heights, gains, every, strict=True):
                if height > self.down.at[here]:
                    continue
                back = self.down.before(int(self.down.at[here]) - height)
                if gain and sheet[back] + gain == sheet[here]:
                    bands.append(self.traced_band(values, columns, worth, rows, tall, row))
                    here = back
                    break
        return tidied(self.frame, Pattern(self.frame.first, tuple(bands)))

    def traced_band(
        self,
        values: Sequence[int],
        columns: Ints,
        worth: Ints,
        rows: Index,
        tall: list[tuple[int, int, int]],
        row: int,
    ) -> Band:
        """The band of a row: its columns from the tables, or the one tall item as wide as the sheet."""
        height = int(self.down.at[row])
        if height > self.frame.tallest:
            index = max((value, -index) for own, value, index in tall if own == row)[1]
            return Band(height, (Column(self.frame.width, (-index,)),))
        table = self.knapsack(columns[:, row : row + 1])[:, 0]
        here = self.across.last
        found = []
        while table[here]:
            for which, width in enumerate(self.widths):
                gain = columns[which, row]
                if not gain or width > self.across.at[here]:
                    continue
                back = self.across.before(int(self.across.at[here]) - width)
                if table[back] + gain == table[here]:
                    found.append(self.traced_column(values, columns, which, row))
                    here = back
                    break
        return Band(self.used_height(found), tuple(found))

    def traced_column(self, values: Sequence[int], columns: Ints, which: int, row: int) -> Column:
        """The items of a column; of two items that fit equally the wider one."""
        own = columns[which]
        width = self.widths[which]
        if self.stages == 2:
            fitting = [
                (index,)
                for index, item in self.items
                if item.width == width and item.height <= self.down.at[row] and values[item.size] == own[row]
            ]
            return Column(width, fitting[0])
        found: list[int] = []
        here = row
        fitting_items = sorted(self.items, key=lambda entry: -entry[1].width)
        while own[here]:
            for index, item in fitting_items:
                if item.width > width or item.height > self.down.at[here] or not values[item.size]:
                    continue
                back = self.down.before(int(self.down.at[here]) - item.height)
                if own[back] + values[item.size] == own[here]:
                    found.append(index)
                    here = back
                    break
        return Column(max(self.frame.items[index].width for index in found), tuple(found))

    def used_height(self, columns: list[Column]) -> int:
        """Height of the highest column."""
        return max(sum(self.frame.items[index].height for index in column.items) for column in columns)
