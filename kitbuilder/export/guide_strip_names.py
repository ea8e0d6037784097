"""Where the names of strips stand in a layout's drawing, so that each is seen to belong to its strip."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from kitbuilder.artwork.frame import Line
from kitbuilder.imposition.sheets import Stroke
from kitbuilder.measure.geometry import Rect

BADGE_UM = 4_400  # across a number's ring or a name's tab
OUT_UM = 2_700  # from the sheet's edge to the middle of a ring or tab outside it
STEP_UM = 700  # from one place that is tried to the next
_NAMES = re.compile(r"\b[A-Z]{1,2}\b")  # of strips, as `imposition.cut_plan` gives them


@dataclass(frozen=True, slots=True)
class NamedStrip:
    """A strip with the cuts made in it, as lines of the drawing. They all run straight across it."""

    name: str
    stage: int
    lines: tuple[Line, ...]

    @property
    def upright(self) -> bool:
        """Tell whether its cuts are upright: the strip lies, then, and its name stands beside the sheet."""
        return self.lines[0].x1_um == self.lines[0].x2_um

    @property
    def span(self) -> tuple[int, int]:
        """Return where the strip begins and ends, along the sheet's edge that its cuts run along."""
        line = self.lines[0]
        return (line.y1_um, line.y2_um) if self.upright else (line.x1_um, line.x2_um)


def named_strips(strokes: Sequence[Stroke], lines: Sequence[Line]) -> tuple[NamedStrip, ...]:
    """Return the strips that have names. Lines of one stroke come in the order of the names it bears."""
    found: dict[str, list[tuple[Stroke, Line]]] = {}
    for _, group in groupby(zip(strokes, lines, strict=True), key=lambda pair: pair[0].number):
        own = list(group)
        for name, pair in zip(_NAMES.findall(own[0][0].strip), own, strict=False):
            found.setdefault(name, []).append(pair)
    return tuple(NamedStrip(name, own[0][0].stage, tuple(line for _, line in own)) for name, own in found.items())


def name_places(strips: Sequence[NamedStrip], sheet: Rect, taken: Sequence[Rect]) -> Iterator[tuple[str, Rect]]:
    """Yield a place for each name: beside the sheet where that can mean one strip only, else on one of its cuts.

    Short strips choose first: a long one has more places. A name that finds none is left out.
    """
    used = list(taken)
    for strip in sorted(strips, key=lambda s: (s.span[1] - s.span[0], s.name)):
        places = [*_on_lines(strip)]
        if not any(_same_level(strip, other) for other in strips if other is not strip):
            places = [*_outside(strip, sheet), *places]
        free = next((p for p in places if not any(p.overlaps(other) for other in used)), None)
        if free is not None:
            used.append(free)
            yield strip.name, free


def _same_level(one: NamedStrip, other: NamedStrip) -> bool:
    """Tell whether two strips of one stage lie behind one another, seen from the edge where their names would stand."""
    if one.upright != other.upright or one.stage != other.stage:
        return False
    return one.span[0] < other.span[1] and other.span[0] < one.span[1]


def _outside(strip: NamedStrip, sheet: Rect) -> Iterator[Rect]:
    """Yield places at the far edge, from the strip's middle outwards, then at the near edge."""
    start, end = strip.span
    middle, room = (start + end) // 2, max(0, (end - start) // 2 - BADGE_UM // 2)
    shifts = [s for d in range(0, room + 1, STEP_UM) for s in ((d, -d) if d else (0,))]
    edges = (sheet.right_um, sheet.x_um) if strip.upright else (sheet.bottom_um, sheet.y_um)
    for at in (edges[0] + OUT_UM, edges[1] - OUT_UM):
        for shift in shifts:
            yield round_rect(at, middle + shift) if strip.upright else round_rect(middle + shift, at)


def _on_lines(strip: NamedStrip) -> Iterator[Rect]:
    """Yield places on the strip's cuts, from their far ends."""
    for line in strip.lines:
        start, end = strip.span
        for along in range(end - BADGE_UM // 2, start + BADGE_UM // 2, -STEP_UM):
            yield round_rect(line.x1_um, along) if strip.upright else round_rect(along, line.y1_um)


def round_rect(x_um: int, y_um: int) -> Rect:
    """Return the square round a ring or tab by its middle."""
    return Rect(x_um - BADGE_UM // 2, y_um - BADGE_UM // 2, BADGE_UM, BADGE_UM)
