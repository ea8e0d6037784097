"""Strokes of a layout: its cuts read back as a tree of strips, identical strips laid side by side under the blade."""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator, Sequence
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


def strip_tree(cuts: Sequence[Cut], x: tuple[int, int], y: tuple[int, int], depth: int = 0) -> Strip:
    """The strip of these ends with everything that is cut from it; `cuts` in an order that can be carried out."""
    first = next((cut for cut in cuts if spans(cut, x, y)), None)
    if first is None:
        return Strip(x, y, depth, None, (), ())
    axis, from_um, to_um = first.axis, first.from_um, first.to_um
    at_all: set[int] = set()
    rest: list[Cut] = []
    for cut in cuts:
        if cut.axis == axis and cut.from_um == from_um and cut.to_um == to_um:
            at_all.add(cut.at_um)
        else:
            rest.append(cut)
    at = tuple(sorted(at_all))
    low, high = x if axis == "x" else y
    shares: list[list[Cut]] = [[] for _ in range(len(at) + 1)]
    for cut in rest:
        shares[bisect_right(at, cut.at_um if cut.axis == axis else cut.from_um)].append(cut)
    strips = []
    for ends, share in zip(pairwise((low, *at, high)), shares, strict=True):
        part = (ends, y) if first.axis == "x" else (x, ends)
        strips.append(strip_tree(share, *part, depth + 1) if share else Strip(*part, depth + 1, None, (), ()))
    return Strip(x, y, depth, first.axis, at, tuple(strips))


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
