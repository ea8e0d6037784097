"""Strokes of a layout: its cuts read back as a tree of strips, identical strips laid side by side under the blade."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from kitbuilder.packing.problem import Cut


@dataclass(frozen=True, slots=True)
class Strip:
    """A rectangle of paper and the parallel cuts made in it; without cuts it is a flat or waste."""

    x: tuple[int, int]
    y: tuple[int, int]
    depth: int
    axis: Literal["x", "y"] | None
    at: tuple[int, ...]
    strips: tuple["Strip", ...]

    @property
    def along(self) -> tuple[int, int]:
        """Ends in the direction in which the cuts follow each other."""
        return self.x if self.axis == "x" else self.y

    @property
    def blade_length(self) -> int:
        """Length of each of its cuts."""
        low, high = self.y if self.axis == "x" else self.x
        return high - low

    @property
    def shape(self) -> tuple[int, int, str, tuple[int, ...]]:
        """Size and cuts, wherever it lies: strips of equal shape can be cut side by side."""
        start = self.along[0]
        return (
            self.x[1] - self.x[0],
            self.y[1] - self.y[0],
            self.axis or "",
            tuple(at - start for at in self.at),
        )


def strip_tree(cuts: Iterable[Cut], x: tuple[int, int], y: tuple[int, int], depth: int = 0) -> Strip:
    """The strip of these ends with everything that is cut from it; `cuts` in an order that can be carried out."""
    mine = [cut for cut in cuts if lies_in(cut, x, y)]
    first = next((cut for cut in mine if spans(cut, x, y)), None)
    if first is None:
        return Strip(x, y, depth, None, (), ())
    at = tuple(sorted({cut.at_um for cut in mine if cut.axis == first.axis and spans(cut, x, y)}))
    low, high = x if first.axis == "x" else y
    ends = (low, *at, high)
    strips = []
    for start, end in pairwise(ends):
        part = ((start, end), y) if first.axis == "x" else (x, (start, end))
        strips.append(strip_tree(mine, *part, depth + 1))
    return Strip(x, y, depth, first.axis, at, tuple(strips))


def lies_in(cut: Cut, x: tuple[int, int], y: tuple[int, int]) -> bool:
    """Whether the cut runs through the inside of the rectangle and no farther than its edges."""
    across, along = (x, y) if cut.axis == "x" else (y, x)
    return across[0] < cut.at_um < across[1] and along[0] <= cut.from_um and cut.to_um <= along[1]


def spans(cut: Cut, x: tuple[int, int], y: tuple[int, int]) -> bool:
    """Whether the cut goes from edge to edge of the rectangle."""
    return (cut.from_um, cut.to_um) == (y if cut.axis == "x" else x)


def strips_with_cuts(strip: Strip) -> Iterator[Strip]:
    """The strip and all strips from it that are cut further, outermost first."""
    if strip.axis is not None:
        yield strip
    for part in strip.strips:
        yield from strips_with_cuts(part)


def side_by_side(strip: Strip, blade_um: int) -> int:
    """How many strips of this shape one stroke takes."""
    return max(1, blade_um // strip.blade_length)


def count_strokes(root: Strip, blade_um: int) -> tuple[int, int]:
    """Strokes for one stack: with identical strips side by side under the blade, and with each strip cut alone."""
    alike: dict[tuple[int, tuple[int, int, str, tuple[int, ...]]], list[Strip]] = defaultdict(list)
    for strip in strips_with_cuts(root):
        alike[strip.depth, strip.shape].append(strip)
    together = singly = 0
    for strips in alike.values():
        cuts = len(strips[0].at)
        together += cuts * -(-len(strips) // side_by_side(strips[0], blade_um))
        singly += cuts * len(strips)
    return together, singly


def fence_settings(root: Strip) -> int:
    """Different distances the edge stop is set to for the whole layout."""
    return len({(strip.depth, at - strip.along[0]) for strip in strips_with_cuts(root) for at in strip.at})
