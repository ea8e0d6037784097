"""Rectangles on sheets, sheets turned over, sheets cut: with points as complex numbers, y down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

TURN = -1j  # a quarter turn counter-clockwise when y points down


@dataclass(frozen=True)
class Area:
    left: float
    top: float
    right: float
    bottom: float

    def holds(self, other: Any, slack: float) -> bool:
        """Whether something with left, top, right and bottom lies in here."""
        return (
            other.left >= self.left - slack
            and other.top >= self.top - slack
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )

    def shared(self, other: Any) -> float:
        """The smaller side of what both cover; 0 or less when they do not overlap."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return min(across, down)


def covered(width: float, height: float, place: dict[str, Any]) -> Area:
    """Return what a width x height rectangle covers at its place, after turning."""
    across, down = (height, width) if place["quarter_turns"] % 2 else (width, height)
    x, y = place["x_um"], place["y_um"]
    return Area(x, y, x + across, y + down)


def point_on_page(u: float, v: float, width: float, height: float, place: dict[str, Any]) -> complex:
    """Return where the point (u, v) of a rectangle lies on the page."""
    area = covered(width, height, place)
    middle = complex((area.left + area.right) / 2, (area.top + area.bottom) / 2)
    return middle + complex(u - width / 2, v - height / 2) * TURN ** place["quarter_turns"]


def back_error(row: dict[str, Any], sheet: dict[str, Any], vertical: bool, moved: complex, scale_ppm: int) -> float:
    """Return how far the worst corner of a flat's back lies from the place behind its front, in micrometres.

    `vertical`: the sheet is turned about its vertical axis, else about the horizontal one. Looked at from behind, the
    flat itself was turned about its own vertical axis: the point behind (u, v) of the front is (width - u, v).
    """
    width, height = row["width_um"], row["height_um"]
    wide, high = sheet["width_um"], sheet["height_um"]
    middle = complex(wide / 2, high / 2)

    def turned_over(p: complex) -> complex:
        return complex(wide - p.real, p.imag) if vertical else complex(p.real, high - p.imag)

    centre = turned_over(point_on_page(width / 2, height / 2, width, height, row["front"]))
    spread = (centre - middle) * scale_ppm / 1e6
    worst = 0.0
    for u, v in ((0, 0), (width, 0), (0, height)):
        wanted = turned_over(point_on_page(u, v, width, height, row["front"])) + moved + spread
        worst = max(worst, abs(point_on_page(width - u, v, width, height, row["back"]) - wanted))
    return worst


def long_edge_is_vertical(sheet: dict[str, Any]) -> bool:
    """Whether turning about the long edge is turning like the leaf of a book; a square sheet counts as portrait."""
    return bool(sheet["height_um"] >= sheet["width_um"])


def replay(cuts: Sequence[dict[str, Any]], sheet: dict[str, Any]) -> tuple[list[Area], list[str]]:
    """Return the rectangles that the strokes leave, in their order, and what went wrong on the way.

    A stroke goes through every part that it meets, and has to go through it from edge to edge.
    """
    parts = [Area(0, 0, sheet["width_um"], sheet["height_um"])]
    wrong: list[str] = []
    for cut in sorted(cuts, key=lambda c: c["stroke"]):
        left: list[Area] = []
        met = 0
        for part in parts:
            halves = list(_halves(part, cut, wrong))
            met += len(halves) == 2
            left += halves
        parts = left
        if not met:
            wrong.append(f"stroke {cut['stroke']} at {cut['axis']} = {cut['at_um']} cuts nothing")
    return parts, wrong


def _halves(part: Area, cut: dict[str, Any], wrong: list[str]) -> Iterator[Area]:
    at, start, end = cut["at_um"], cut["from_um"], cut["to_um"]
    upright = cut["axis"] == "x"
    low, high = (part.left, part.right) if upright else (part.top, part.bottom)
    first, last = (part.top, part.bottom) if upright else (part.left, part.right)
    if not low < at < high or min(last, end) - max(first, start) <= 0:
        yield part
        return
    if start > first or end < last:
        wrong.append(f"stroke {cut['stroke']} at {cut['axis']} = {at} stops inside a part: no blade can do that")
    if upright:
        yield Area(part.left, part.top, at, part.bottom)
        yield Area(at, part.top, part.right, part.bottom)
    else:
        yield Area(part.left, part.top, part.right, at)
        yield Area(part.left, at, part.right, part.bottom)
