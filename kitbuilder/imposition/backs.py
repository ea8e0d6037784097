"""Which sheets carry backs: as few as hold all two-sided flats, so that little is put into the printer twice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from kitbuilder.packing.problem import Layout, Solution

MOST_LOOKS = 20_000  # choices looked at; a term needs some hundreds
FED_TWICE = 3  # strokes that take as long as feeding a sheet again by hand, the right way round: our own measure


@dataclass(frozen=True, slots=True)
class BackedSolution:
    """A solution whose first `backed` layouts take all two-sided flats, and its strokes printed and cut that way."""

    solution: Solution
    backed: int
    strokes: int

    @property
    def sheets_with_backs(self) -> int:
        """Sheets that go through the printer twice."""
        return sum(layout.copies for layout in self.solution.layouts[: self.backed])

    @property
    def cost(self) -> tuple[int, int]:
        """Work in strokes, sheets fed twice among it, then these sheets: the less the better."""
        return self.strokes + FED_TWICE * self.sheets_with_backs, self.sheets_with_backs


def with_few_backs(solution: Solution, wanted: Mapping[int, int], passes: Sequence[int], stack: int) -> BackedSolution:
    """Return the solution with the sheets apart that shall carry backs: as few as save more work than they cost.

    `wanted` counts two-sided flats by size (index into Problem.parts), `passes` are the strokes of one stack of each
    layout. Copies of one layout with and without backs are printed, and so cut, apart. With places enough for all
    flats, as in every solution, there are some for the two-sided ones.
    """
    chosen = _Choice(solution.layouts, wanted, passes, stack).best()
    every = list(zip(solution.layouts, chosen, passes, strict=True))
    backed = [replace(layout, copies=n) for layout, n, _ in every if n]
    plain = [replace(layout, copies=layout.copies - n) for layout, n, _ in every if n < layout.copies]
    strokes = sum(each * (-(-n // stack) + -(-(layout.copies - n) // stack)) for layout, n, each in every)
    return BackedSolution(replace(solution, layouts=(*backed, *plain)), len(backed), strokes)


class _Choice:
    """How many copies of each layout carry backs, found by trying the fullest layouts first."""

    def __init__(self, layouts: Sequence[Layout], wanted: Mapping[int, int], passes: Sequence[int], stack: int) -> None:
        self._sizes = sorted(size for size, count in wanted.items() if count)
        self._wanted = tuple(wanted[size] for size in self._sizes)
        holds = [tuple(sum(slot.part == size for slot in layout.slots) for size in self._sizes) for layout in layouts]
        self._order = sorted((i for i, held in enumerate(holds) if any(held)), key=lambda i: (-sum(holds[i]), i))
        self._holds, self._layouts, self._passes, self._stack = holds, layouts, passes, stack
        self._best: tuple[tuple[int, int], tuple[int, ...]] | None = None  # work in strokes and sheets; copies
        self._looks = 0

    def best(self) -> tuple[int, ...]:
        """Return the number of copies with backs, layout by layout."""
        self._look(0, self._wanted, (), 0, 0)
        assert self._best is not None  # the first look takes as many copies as there are
        copies = [0] * len(self._layouts)
        for index, count in zip(self._order, self._best[1], strict=False):
            copies[index] = count
        return tuple(copies)

    def _look(self, at: int, left: tuple[int, ...], taken: tuple[int, ...], sheets: int, strokes: int) -> None:
        if not any(left):
            work = strokes + FED_TWICE * sheets, sheets
            if self._best is None or work < self._best[0]:
                self._best = work, taken
            return
        self._looks += 1
        if at == len(self._order) or (self._best is not None and self._looks > MOST_LOOKS):
            return
        if self._best is not None and strokes + FED_TWICE * (sheets + self._least(at, left)) > self._best[0][0]:
            return
        index = self._order[at]
        held = self._holds[index]
        useful = max(-(-n // each) if each else 0 for n, each in zip(left, held, strict=True))
        for copies in range(min(useful, self._layouts[index].copies), -1, -1):
            rest = tuple(max(0, n - copies * each) for n, each in zip(left, held, strict=True))
            self._look(at + 1, rest, (*taken, copies), sheets + copies, strokes + self._more_strokes(index, copies))

    def _least(self, at: int, left: Sequence[int]) -> int:
        """Return how many sheets the rest takes at the least; more than there are when it finds no place at all."""
        most = [max(self._holds[i][size] for i in self._order[at:]) for size in range(len(left))]
        return max(-(-n // each) if each else len(self._layouts) + n for n, each in zip(left, most, strict=True) if n)

    def _more_strokes(self, index: int, copies: int) -> int:
        every = self._layouts[index].copies
        stacks = -(-copies // self._stack) + -(-(every - copies) // self._stack)
        return self._passes[index] * (stacks - -(-every // self._stack))
