"""One layout as a small drawing: the sheet from its front, flats with their piles, cut lines with stroke numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from kitbuilder.artwork.frame import Box, Frame, Item, Line, Text
from kitbuilder.export.guide_strip_names import BADGE_UM, OUT_UM, STEP_UM, name_places, named_strips, round_rect
from kitbuilder.export.guide_type import ACCENT, INK, SHADE, SOFT, Style, Type, style
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.sheets import Placement, SheetLayout, Stroke
from kitbuilder.measure.geometry import Rect

_EDGE_UM = 5_400  # round the sheet, for numbers of strokes that run to its edge and for names of strips
_PILE = style(8, 10, bold=True)
_NAME = style(6, 7.5, colour=SOFT)
_TAB = style(7, 9, bold=True, colour="#ffffff")
_NUMBER = style(7, 9, bold=True, colour=ACCENT)


@dataclass(frozen=True, slots=True)
class _Scale:
    """Micrometres of the sheet to micrometres of the drawing."""

    numerator: int
    denominator: int

    def __call__(self, length_um: int) -> int:
        return length_um * self.numerator // self.denominator

    def area(self, rect: Rect) -> Rect:
        x, y = self(rect.x_um), self(rect.y_um)
        return Rect(_EDGE_UM + x, _EDGE_UM + y, self(rect.right_um) - x, self(rect.bottom_um) - y)


def layout_picture(plan: PackPlan, layout: SheetLayout, width_um: int, height_um: int, kind: Type) -> Frame:
    """Return the drawing of a layout, no wider and no higher than asked for."""
    sheet_w, sheet_h = layout.setup.width_um, layout.setup.height_um
    inner_w, inner_h = width_um - 2 * _EDGE_UM, height_um - 2 * _EDGE_UM
    wide = inner_w * sheet_h <= inner_h * sheet_w
    scale = _Scale(inner_w, sheet_w) if wide else _Scale(inner_h, sheet_h)
    sheet = scale.area(Rect(0, 0, sheet_w, sheet_h))
    items: list[Item] = []
    taken: list[Rect] = []
    for top, titles in _places(plan, layout):
        area = scale.area(top.area)
        items.append(Box(area.x_um, area.y_um, area.width_um, area.height_um, SHADE))
        for text, label_area in _labels(top.pile, titles, area, kind):
            items.append(text)
            taken.append(label_area)
    items.append(Box(sheet.x_um, sheet.y_um, sheet.width_um, sheet.height_um, None, INK, 300))
    lines = [_line(stroke, scale) for stroke in layout.strokes]
    items += lines
    for stroke, line in zip(layout.strokes, lines, strict=True):
        badge = _badge_place(line, sheet, taken)
        taken.append(badge)
        items += _badge(badge, str(stroke.number), kind)
    for name, tab in name_places(named_strips(layout.strokes, lines), sheet, taken):
        taken.append(tab)
        items += _tab(tab, name, kind)
    return Frame(sheet.width_um + 2 * _EDGE_UM, sheet.height_um + 2 * _EDGE_UM, tuple(items), f"layout {layout.id}")


def _places(plan: PackPlan, layout: SheetLayout) -> Iterator[tuple[Placement, tuple[str, ...]]]:
    """Yield each place once: its topmost flat, and the titles of all that lie there."""
    tops: dict[str, Placement] = {}
    titles: dict[str, list[str]] = {}
    for _, _, sheet in plan.sheets():
        if sheet.layout.id == layout.id:
            for placement in sheet.placements:
                tops.setdefault(placement.pile, placement)
                titles.setdefault(placement.pile, []).append(placement.flat.title)
    for pile, placement in tops.items():
        yield placement, tuple(dict.fromkeys(t for t in titles[pile] if t))


def _labels(pile: str, titles: Sequence[str], area: Rect, kind: Type) -> Iterator[tuple[Text, Rect]]:
    """Yield the pile's name and, where there is room, what is in it, centred on the flat."""
    title = ", ".join(titles[:3]) + (", …" if len(titles) > 3 else "")
    room = area.width_um - 1_000
    title = kind.fitted(title, room, _NAME) if area.height_um > _PILE.leading_um + _NAME.leading_um else ""
    height = _PILE.leading_um + (_NAME.leading_um if title else 0)
    top = area.y_um + (area.height_um - height) // 2
    yield _centred(pile, area, top, _PILE, kind)
    if title:
        yield _centred(title, area, top + _PILE.leading_um, _NAME, kind)


def _centred(text: str, area: Rect, top_um: int, how: Style, kind: Type) -> tuple[Text, Rect]:
    width = kind.width_um(text, how)
    x = area.x_um + (area.width_um - width) // 2
    item = Text(x, top_um + how.leading_um * 3 // 4, text, how.font, how.size_um, how.colour)
    return item, Rect(x, top_um, width, how.leading_um)


def _line(stroke: Stroke, scale: _Scale) -> Line:
    at, start, end = (_EDGE_UM + scale(v) for v in (stroke.at_um, stroke.from_um, stroke.to_um))
    if stroke.axis == "x":
        return Line(at, start, at, end, 300, ACCENT)
    return Line(start, at, end, at, 300, ACCENT)


def _badge_place(line: Line, sheet: Rect, taken: Sequence[Rect]) -> Rect:
    """Return where the stroke's number stands: outside the sheet if the line ends at its edge, else on the line."""
    places = [round_rect(x, y) for x, y in _centres(line, sheet)]
    free = [place for place in places if not any(place.overlaps(other) for other in taken)]
    return free[0] if free else places[0]


def _centres(line: Line, sheet: Rect) -> Iterator[tuple[int, int]]:
    upright = line.x1_um == line.x2_um
    start, end = (line.y1_um, line.y2_um) if upright else (line.x1_um, line.x2_um)
    low, high = (sheet.y_um, sheet.bottom_um) if upright else (sheet.x_um, sheet.right_um)
    along = [low - OUT_UM] if start <= low else []
    along += [high + OUT_UM] if end >= high else []
    along += range(start + BADGE_UM // 2, max(start + BADGE_UM // 2 + 1, end - BADGE_UM // 2), STEP_UM)
    for place in along:
        yield (line.x1_um, place) if upright else (place, line.y1_um)


def _badge(place: Rect, number: str, kind: Type) -> tuple[Item, ...]:
    circle = Box(
        place.x_um + 150, place.y_um + 150, BADGE_UM - 300, BADGE_UM - 300, "#ffffff", ACCENT, 250, BADGE_UM // 2
    )
    x = place.x_um + (BADGE_UM - kind.width_um(number, _NUMBER)) // 2
    base = place.y_um + (BADGE_UM + kind.plain.cap_height_um(_NUMBER.size_um)) // 2
    return circle, Text(x, base, number, _NUMBER.font, _NUMBER.size_um, _NUMBER.colour)


def _tab(place: Rect, name: str, kind: Type) -> tuple[Item, ...]:
    """Return a strip's name, white on a dark tab: not to be taken for a pile or a stroke."""
    box = Box(place.x_um + 300, place.y_um + 300, BADGE_UM - 600, BADGE_UM - 600, ACCENT, None, 0, 500)
    x = place.x_um + (BADGE_UM - kind.width_um(name, _TAB)) // 2
    base = place.y_um + (BADGE_UM + kind.plain.cap_height_um(_TAB.size_um)) // 2
    return box, Text(x, base, name, _TAB.font, _TAB.size_um, _TAB.colour)
