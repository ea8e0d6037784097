"""Marks on a sheet's front: the 100 mm ruler, its name and stack, cut lines. In waste only; cut lines also on edges."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from kitbuilder.artwork.fonts import DEFAULT_FONT
from kitbuilder.artwork.frame import Frame, Group, Item, Line, ReadBy, Text
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.measure.geometry import Rect, turned_size

MARK_FONT = DEFAULT_FONT
RULER_UM = 100_000
RULER_TEXT = "100 mm – if it measures more or less, print again at actual size (100 %)"
_GREY = "#c0c0c0"
_DARK = "#606060"
_HAIR_UM = 200
_TICK_UM = 5_000
_AIR_UM = 500  # between a mark and the flats and cuts beside it
_ASIDE_UM = 1_000  # from a strip's beginning to a mark, where there is room
_TEXT_UM = 2_400
_SMALL_UM, _SMALL_AIR_UM = 1_764, 200  # 5 pt, as ids: for a name that finds no other place
_LEAST_WASTE_UM = 2_300  # narrower strips hold no mark


class CutStyle(Enum):
    """How cuts are shown on the front."""

    PRINTED = "printed"
    TICKS = "ticks"
    NONE = "none"


class Segment(Protocol):
    """A cut, whether planned or already a stroke of the blade."""

    @property
    def axis(self) -> str: ...
    @property
    def at_um(self) -> int: ...
    @property
    def from_um(self) -> int: ...
    @property
    def to_um(self) -> int: ...


@dataclass(frozen=True, slots=True)
class SheetMarks:
    """The marks of one sheet's front as a frame of the sheet's size, and which of them found a place."""

    frame: Frame
    has_ruler: bool
    has_name: bool


def sheet_marks(
    sheet_width_um: int,
    sheet_height_um: int,
    areas: Sequence[Rect],
    ink: Rect,
    cuts: Sequence[Segment],
    style: CutStyle,
    names: Sequence[str],
    *,
    across: bool = False,
) -> SheetMarks:
    """Return cut lines, ruler and name for a sheet whose flats cover `areas`.

    `names` are ways to say which sheet and stack this is, best first; the first that fits is printed, the last one in
    small type where none does. Both lie between the cuts; `across`: where there is no room for it there, the ruler may
    be crossed by cuts.
    """
    items = list(cut_marks(areas, ink, cuts, style))
    taken = list(areas)
    ruler = _first_fit((ruler_frame(),), taken, ink, cuts)
    if ruler is None and across:
        ruler = _first_fit((ruler_frame(),), taken, ink, ())
    if ruler:
        items.append(ruler)
        taken.append(_covered(ruler))
    name = _first_fit(tuple(name_frame(text) for text in names), taken, ink, cuts)
    if name is None and names:
        name = _first_fit((name_frame(names[-1], _SMALL_UM),), taken, ink, cuts, _SMALL_AIR_UM)
    if name:
        items.append(name)
    frame = Frame(sheet_width_um, sheet_height_um, tuple(items), "marks")
    return SheetMarks(frame, ruler is not None, name is not None)


def waste_rects(areas: Sequence[Rect], ink: Rect, cuts: Iterable[Segment] = ()) -> tuple[Rect, ...]:
    """Return the largest empty rectangles inside the ink area, smallest first; they may overlap one another.

    Cuts, when given, bound the rectangles too. Strips narrower than 2.3 mm are left out.
    """
    blocks = [*areas, *(_line_rect(cut) for cut in cuts)]
    # an empty rectangle that cannot grow begins where a block ends, and ends where one begins
    lefts = sorted({ink.x_um, *(b.right_um for b in blocks if ink.x_um < b.right_um < ink.right_um)})
    rights = sorted({ink.right_um, *(b.x_um for b in blocks if ink.x_um < b.x_um < ink.right_um)})
    found: set[Rect] = set()
    for left in lefts:
        for right in rights:
            if right - left >= _LEAST_WASTE_UM:
                found.update(_gaps(left, right, ink, blocks))
    whole = [r for r in found if not any(o != r and o.contains(r) for o in found)]
    return tuple(sorted(whole, key=lambda r: (r.width_um * r.height_um, r)))


def ruler_in(waste: Sequence[Rect]) -> tuple[Item, ...] | None:
    """Return the ruler in the first waste rectangle it fits, lying or standing; None when there is none."""
    placed = _place(ruler_frame(), waste)
    return (placed,) if placed else None


def ruler_frame() -> Frame:
    """Return the ruler: a line of exactly 100 mm with a tick every 10 mm and the sentence above it."""
    left, base = 2_000, 4_700
    ticks = tuple(
        Line(x, base - (3_000 if x in (left, left + RULER_UM) else 1_200), x, base, _HAIR_UM, _DARK)
        for x in range(left, left + RULER_UM + 1, RULER_UM // 10)
    )
    line = Line(left, base, left + RULER_UM, base, _HAIR_UM, _DARK)
    text = Text(left + 1_500, 2_400, RULER_TEXT, MARK_FONT, _TEXT_UM, _DARK, ReadBy.MARK)
    return Frame(RULER_UM + 2 * left, 5_200, (text, *ticks, line), "ruler")


def name_frame(text: str, size_um: int = _TEXT_UM) -> Frame:
    """Return one line of small grey type in a frame that just holds it."""
    font = metrics(MARK_FONT)
    ascent, descent = font.letter_ascent_um(size_um), font.letter_descent_um(size_um)
    line = Text(0, ascent, text, MARK_FONT, size_um, _DARK, ReadBy.MARK)
    return Frame(font.width_um(text, size_um), ascent + descent, (line,), "name")


def cut_marks(areas: Sequence[Rect], ink: Rect, cuts: Iterable[Segment], style: CutStyle) -> tuple[Item, ...]:
    """Return hairlines along the cuts, or ticks at their ends, clipped to the ink area.

    Ticks lie in waste; where a cut ends between flats they lie on the common edge, half as long.
    """
    if style is CutStyle.NONE:
        return ()
    lines: list[tuple[str, int, int, int]] = []
    for cut in cuts:
        across, along = ((ink.x_um, ink.right_um), (ink.y_um, ink.bottom_um))
        if cut.axis == "y":
            across, along = along, across
        start, end = max(cut.from_um, along[0]), min(cut.to_um, along[1])
        if not across[0] <= cut.at_um <= across[1] or end <= start:
            continue
        if style is CutStyle.PRINTED:
            lines.append((cut.axis, cut.at_um, start, end))
        else:
            lines += [(cut.axis, cut.at_um, a, b) for a, b in _ticks(cut, start, end, areas)]
    return tuple(_hairline(*line) for line in lines)


def _ticks(cut: Segment, start: int, end: int, areas: Sequence[Rect]) -> tuple[tuple[int, int], ...]:
    touching = [a for a in areas if _meets(cut, a)]
    first = min((_along(cut, a)[0] for a in touching), default=end)
    last = max((_along(cut, a)[1] for a in touching), default=start)
    head = max(first - start, _TICK_UM // 2)
    foot = max(end - last, _TICK_UM // 2)
    length = end - start
    return (start, start + min(head, _TICK_UM, length)), (end - min(foot, _TICK_UM, length), end)


def _meets(cut: Segment, area: Rect) -> bool:
    near, far = (area.x_um, area.right_um) if cut.axis == "x" else (area.y_um, area.bottom_um)
    start, end = _along(cut, area)
    return near <= cut.at_um <= far and start < cut.to_um and end > cut.from_um


def _along(cut: Segment, area: Rect) -> tuple[int, int]:
    return (area.y_um, area.bottom_um) if cut.axis == "x" else (area.x_um, area.right_um)


def _hairline(axis: str, at: int, start: int, end: int) -> Line:
    if axis == "x":
        return Line(at, start, at, end, _HAIR_UM, _GREY)
    return Line(start, at, end, at, _HAIR_UM, _GREY)


def _line_rect(cut: Segment) -> Rect:
    length = cut.to_um - cut.from_um
    return Rect(cut.at_um, cut.from_um, 0, length) if cut.axis == "x" else Rect(cut.from_um, cut.at_um, length, 0)


def _gaps(left: int, right: int, ink: Rect, blocks: Sequence[Rect]) -> list[Rect]:
    """Return the empty stretches, top to bottom, of the strip between two verticals."""
    inside = sorted((b.y_um, b.bottom_um) for b in blocks if b.x_um < right and b.right_um > left)
    gaps, at = [], ink.y_um
    for top, bottom in [*inside, (ink.bottom_um, ink.bottom_um)]:
        top = min(top, ink.bottom_um)
        if top - at >= _LEAST_WASTE_UM:
            gaps.append(Rect(left, at, right - left, top - at))
        at = max(at, bottom)
    return gaps


def _first_fit(
    frames: Sequence[Frame], taken: Sequence[Rect], ink: Rect, cuts: Sequence[Segment], air_um: int = _AIR_UM
) -> Group | None:
    """Return the first frame that finds a place between flats, other marks and cuts, there."""
    wastes = waste_rects(taken, ink, cuts)
    placed = (_place(frame, wastes, air_um) for frame in frames)
    return next((group for group in placed if group), None)


def _place(frame: Frame, waste: Sequence[Rect], air_um: int = _AIR_UM) -> Group | None:
    for rect in waste:
        free = rect.inset(air_um, air_um, air_um, air_um)
        for turns in (0, 1):
            width, height = turned_size(frame.width_um, frame.height_um, turns)
            if width <= free.width_um and height <= free.height_um:
                # in the middle of a strip, so that a stroke a little off leaves nothing of the mark on a flat
                lies = free.width_um >= free.height_um
                # and a little away from the cut at which the strip begins
                along = min(_ASIDE_UM, (free.width_um - width) if lies else (free.height_um - height))
                right, down = (along, (free.height_um - height) // 2) if lies else ((free.width_um - width) // 2, along)
                return Group(free.x_um + right, free.y_um + down, turns, frame)
    return None


def _covered(group: Group) -> Rect:
    return Rect(group.x_um, group.y_um, *turned_size(group.frame.width_um, group.frame.height_um, group.quarter_turns))
