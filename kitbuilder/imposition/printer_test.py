"""Pages that show what a printer does: letters and arrows for the reload, a scale and a cross for the offset, rulers.

The back carries a scale about the sheet's centre, the front a cross there: held against a window, the front's line
is read off on the back's scale. The centre is the one point that every way of turning a sheet leaves where it is.
"""

from __future__ import annotations

from collections.abc import Sequence

from kitbuilder.artwork.fonts import BOLD_FONT, DEFAULT_FONT
from kitbuilder.artwork.frame import Frame, Item, Line, Path, ReadBy, Text
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.measure.geometry import Insets

RULER_UM = 100_000
_CLEAR_UM = 6_000  # from what the printer cannot reach to the rulers
_LEAST_WITH_TEXT_UM = 140_000  # narrower sheets carry letters and rulers only
_APART_UM = 18_000  # between the ruler down the side and the one along the foot
_HAIR_UM, _THIN_UM = 120, 250
_CROSS_UM = 20_000  # half a cross
_SCALE_UM, _STEP_UM = 6_000, 500  # the scale reaches 6 mm each way, in half millimetres
_FROM_CENTRE_UM = 14_000  # on the arms of the cross, so that the two scales keep apart


def front_page(name: str, width_um: int, height_um: int, edges: Insets, texts: tuple[Sequence[str], ...]) -> Frame:
    """Return a front: its name, an arrow, the cross, both rulers; `texts` stand above and below the cross."""
    items = [*_name_and_arrow(name, width_um, height_um, edges), *_cross(width_um // 2, height_um // 2)]
    items += _rulers(width_um, height_um, edges)
    if min(width_um, height_um) >= _LEAST_WITH_TEXT_UM:
        above = height_um // 2 - _CROSS_UM - 3_000
        for lines, bottom in zip(texts, (above, None), strict=False):
            items += _paragraph(lines, width_um, height_um, edges, bottom)
    return Frame(width_um, height_um, tuple(items), name)


def back_page(name: str, width_um: int, height_um: int, edges: Insets, lines: Sequence[str] = ()) -> Frame:
    """Return a back: its name, an arrow, and the scale about the centre."""
    items = [*_name_and_arrow(name, width_um, height_um, edges), *_scale(width_um // 2, height_um // 2)]
    if min(width_um, height_um) >= _LEAST_WITH_TEXT_UM:
        items += _paragraph(lines, width_um, height_um, edges, None)
    return Frame(width_um, height_um, tuple(items), name)


def long_ruler_um(height_um: int, edges: Insets) -> int:
    """Return how long the ruler down the page is: as many whole centimetres as there is room for."""
    return (height_um - edges.top.um - edges.bottom.um - 2 * _CLEAR_UM - 8_000) // 10_000 * 10_000


def _inner(width_um: int, height_um: int, edges: Insets) -> tuple[int, int, int, int]:
    """Return left, top, right and bottom of the room for ink, clear on either side of a turned sheet."""
    side = max(edges.left.um, edges.right.um) + _CLEAR_UM
    end = max(edges.top.um, edges.bottom.um) + _CLEAR_UM
    return side, end, width_um - side, height_um - end


def _name_and_arrow(name: str, width_um: int, height_um: int, edges: Insets) -> list[Item]:
    _, top, _, _ = _inner(width_um, height_um, edges)
    size = min(26_000, height_um // 11)
    wide = metrics(BOLD_FONT).width_um(name, size)
    rise = metrics(BOLD_FONT).letter_ascent_um(size)
    left = (width_um - wide - size) // 2
    text = Text(left, top + rise, name, BOLD_FONT, size, "#000000", ReadBy.MARK)
    return [text, _arrow(left + wide + size * 2 // 3, top, size // 2, rise)]


def _arrow(x_um: int, y_um: int, width_um: int, height_um: int) -> Path:
    """Return an arrow that points to the head of the page, in the box given by its upper left corner and size."""
    middle, shaft, neck = x_um + width_um // 2, width_um // 6, y_um + height_um // 2
    corners = (
        (middle, y_um),
        (x_um + width_um, neck),
        (middle + shaft, neck),
        (middle + shaft, y_um + height_um),
        (middle - shaft, y_um + height_um),
        (middle - shaft, neck),
        (x_um, neck),
    )
    return Path(f"M {' L '.join(f'{x} {y}' for x, y in corners)} Z")


def _cross(x_um: int, y_um: int) -> list[Item]:
    return [
        Line(x_um - _CROSS_UM, y_um, x_um + _CROSS_UM, y_um, _THIN_UM),
        Line(x_um, y_um - _CROSS_UM, x_um, y_um + _CROSS_UM, _THIN_UM),
    ]


def _scale(x_um: int, y_um: int) -> list[Item]:
    """Return a scale across, above the centre, and one down, right of it: each meets one line of the front's cross."""
    above, beside = y_um - _FROM_CENTRE_UM, x_um + _FROM_CENTRE_UM
    items: list[Item] = [
        Line(x_um - _SCALE_UM, above, x_um + _SCALE_UM, above, _HAIR_UM),
        Line(beside, y_um - _SCALE_UM, beside, y_um + _SCALE_UM, _HAIR_UM),
        _centred("left", x_um - _SCALE_UM - 6_000, above + 600, 3_200),
        _centred("right", x_um + _SCALE_UM + 6_500, above + 600, 3_200),
        _centred("up", beside, y_um - _SCALE_UM - 2_000, 3_200),
        _centred("down", beside, y_um + _SCALE_UM + 4_000, 3_200),
    ]
    for step in range(-_SCALE_UM, _SCALE_UM + 1, _STEP_UM):
        tick = 3_600 if step == 0 else 2_400 if step % 1_000 == 0 else 1_200
        items.append(Line(x_um + step, above - tick, x_um + step, above, _HAIR_UM))
        items.append(Line(beside, y_um + step, beside + tick, y_um + step, _HAIR_UM))
    for number in range(0, _SCALE_UM // 1_000 + 1, 2):
        for sign in (-1, 1) if number else (1,):
            at = sign * number * 1_000
            items.append(_centred(str(number), x_um + at, above - 4_200, 1_900))
            digit = Text(beside + 4_200, y_um + at + 650, str(number), DEFAULT_FONT, 1_900, "#000000", ReadBy.MARK)
            items.append(digit)
    return items


def _centred(text: str, x_um: int, y_um: int, size_um: int) -> Text:
    wide = metrics(DEFAULT_FONT).width_um(text, size_um)
    return Text(x_um - wide // 2, y_um, text, DEFAULT_FONT, size_um, "#000000", ReadBy.MARK)


def _rulers(width_um: int, height_um: int, edges: Insets) -> list[Item]:
    """Return a ruler along the foot and one down the left side, each with its first 100 mm marked."""
    left, _, right, bottom = _inner(width_um, height_um, edges)
    down = long_ruler_um(height_um, edges)
    start, head = left + _APART_UM, (height_um - down) // 2
    across = (right - start) // 10_000 * 10_000
    items: list[Item] = [
        Line(start, bottom, start + across, bottom, _HAIR_UM),
        Line(left, head, left, head + down, _HAIR_UM),
    ]
    for at in range(0, across + 1, 5_000):
        items += [Line(start + at, bottom - _tick(at, across), start + at, bottom, _HAIR_UM)]
    for at in range(0, down + 1, 5_000):
        items += [Line(left, head + at, left + _tick(at, down), head + at, _HAIR_UM)]
    items += [_centred(f"{at // 1000} mm", start + at, bottom - 7_000, 2_600) for at in (RULER_UM,) if at <= across]
    items += [
        Text(left + 7_000, head + at + 900, f"{at // 1000} mm", DEFAULT_FONT, 2_600, "#000000", ReadBy.MARK)
        for at in sorted({RULER_UM, down})
        if 0 < at <= down
    ]
    return items


def _tick(at_um: int, whole_um: int) -> int:
    if at_um in (0, RULER_UM, whole_um):
        return 6_000
    return 3_000 if at_um % 10_000 == 0 else 1_500


def _paragraph(lines: Sequence[str], width_um: int, height_um: int, edges: Insets, bottom_um: int | None) -> list[Item]:
    """Return lines of type between the cross and the rulers: ending at `bottom_um`, or starting below the cross."""
    if not lines:
        return []
    left, _, right, _ = _inner(width_um, height_um, edges)
    room = right - left - 2 * 20_000
    font = metrics(DEFAULT_FONT)
    size = min(3_900, *(3_900 * room // max(1, font.width_um(line, 3_900)) for line in lines))
    step = size * 3 // 2
    above = bottom_um - step * (len(lines) - 1) if bottom_um is not None else height_um // 2 + _CROSS_UM + 8_000
    longest = max(font.width_um(line, size) for line in lines)
    x = (width_um - longest) // 2
    items: list[Item] = [Text(x, above + step * i, line, DEFAULT_FONT, size, "#202020") for i, line in enumerate(lines)]
    return items
