"""What to measure on a file whose sheets have no room for a ruler: two printed lines and how far they are apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from kitbuilder.artwork.frame import Box, Frame, Group, Line
from kitbuilder.measure.geometry import turn_point

if TYPE_CHECKING:
    from kitbuilder.imposition.print_files import PrintedSide

LEAST_APART_UM = 40_000  # nearer lines tell a wrong scale from a wrong eye no more
LEAST_LONG_UM = 4_000  # shorter strokes are overlooked
_WIDEST_UM = 3_000  # a wider stroke is no line to measure from

Stroke = tuple[int, int, int, int]  # x1, y1, x2, y2 on the page


def ruler_sentence(pages: Sequence[PrintedSide]) -> str:
    """Return what to measure on the fronts of a file; empty when one of its sheets carries the ruler.

    Without lines that are far enough apart the sentence says where else to measure.
    """
    fronts = [page for page in pages if page.side == "front"]
    if fronts and fronts[0].sheet.layout.ready_cut:
        return "Print one sheet on plain paper first, at actual size (100 %), and hold it against a label sheet."
    if any(page.sheet.has_ruler for page in fronts) or not fronts:
        return ""
    for look in (_farthest, _longest):
        for number, page in enumerate(fronts, 1):
            found = look(tuple(_strokes(page)))
            if found:
                return (
                    f"There is no room for a ruler here. On sheet {number}, {found}: if it measures more or less, "
                    "print again at actual size (100 %)."
                )
    return (
        "There is no room for a ruler here, and no lines to measure: print at actual size (100 %), as with the other "
        "files, or measure on a sheet of: kitbuilder calibrate."
    )


def _longest(strokes: Sequence[Stroke]) -> str:
    """Return how long the longest straight line is; empty when it is too short to tell."""
    straight = [s for s in strokes if s[0] == s[2] or s[1] == s[3]]
    found = max(((abs(s[2] - s[0]) + abs(s[3] - s[1]), s[0] == s[2]) for s in straight), default=(0, False))
    if found[0] < LEAST_APART_UM:
        return ""
    return f"the longest {'upright' if found[1] else 'level'} line is {found[0] / 1000:.4g} mm long"


def _farthest(strokes: Sequence[Stroke]) -> str:
    """Return how far the outermost parallel lines are apart, across or down, the larger; empty when there are none."""
    best: tuple[str, int] | None = None
    strokes = [s for s in strokes if s[0] == s[2] or s[1] == s[3]]
    upright = sorted(s[0] for s in strokes if s[0] == s[2] and abs(s[3] - s[1]) >= LEAST_LONG_UM)
    lying = sorted(s[1] for s in strokes if s[1] == s[3] and abs(s[2] - s[0]) >= LEAST_LONG_UM)
    for at, names in (
        (upright, "the upright lines farthest left and farthest right"),
        (lying, "the level lines nearest the top and nearest the bottom"),
    ):
        if at and at[-1] - at[0] >= LEAST_APART_UM and (best is None or at[-1] - at[0] > best[1]):
            best = (names, at[-1] - at[0])
    return f"{best[0]} are {best[1] / 1000:.4g} mm apart" if best else ""


def _strokes(page: PrintedSide) -> Iterator[Stroke]:
    if page.marks is not None:
        yield from _of_frame(page.marks)
    for flat in page.flats:
        if flat.frame is not None:
            yield from _of_group(Group(flat.area.x_um, flat.area.y_um, flat.quarter_turns, flat.frame))


def _of_group(group: Group) -> Iterator[Stroke]:
    frame = group.frame
    for x1, y1, x2, y2 in _of_frame(frame):
        ends = (turn_point(x, y, frame.width_um, frame.height_um, group.quarter_turns) for x, y in ((x1, y1), (x2, y2)))
        (a, b), (c, d) = ends
        yield a + group.x_um, b + group.y_um, c + group.x_um, d + group.y_um


def _of_frame(frame: Frame) -> Iterator[Stroke]:
    for item in frame.items:
        if isinstance(item, Group):
            yield from _of_group(item)
        elif isinstance(item, Line) and item.width_um <= _WIDEST_UM:
            yield item.x1_um, item.y1_um, item.x2_um, item.y2_um
        elif isinstance(item, Box) and item.stroke and item.stroke_um <= _WIDEST_UM:
            left, top = item.x_um, item.y_um
            right, bottom = left + item.width_um, top + item.height_um
            yield left, top, left, bottom
            yield right, top, right, bottom
            yield left, top, right, top
            yield left, bottom, right, bottom
