"""The pen that draws a face: it turns millimetres into micrometres, keeps count, and notes what does not fit."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from kitbuilder.artwork.frame import Frame, Item, ReadBy, Text
from kitbuilder.artwork.type_metrics import FontMetrics
from kitbuilder.compose.expression_filters import ExpressionError
from kitbuilder.compose.picture_book import PictureBook
from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.measure.length import parse_length

MOST_ITEMS = 6_000  # of one frame: a full page of small text has a few hundred
ID_MARK = "\u2039id\u203a"  # stands for the id until the piece is numbered
ID_SIZE_UM = 1_764  # 5 pt


@dataclass(slots=True)
class Workshop:
    """What every face needs: fonts, pictures and the problem log. Made once a run."""

    font: Callable[[str], FontMetrics]
    pictures: PictureBook
    log: ProblemLog


@dataclass(slots=True)
class Pen:
    """Collects the items of one frame. Origin of `at` is the frame's upper left corner."""

    workshop: Workshop
    asked_at: Location | None
    what: str  # how an adult calls the piece: "the letter card for d"
    items: list[Item] = field(default_factory=list)
    dx_um: int = 0
    dy_um: int = 0

    def add(self, item: Item) -> None:
        if len(self.items) >= MOST_ITEMS:
            raise ExpressionError(f"a face may not draw more than {MOST_ITEMS} things")
        self.items.append(item)

    def problem(self, message: str, code: str, hint: str, text: str = "") -> None:
        """Note a problem at the text's own place, when it carries one, else at the line that asked for the face."""
        self.workshop.log.add(message, code, hint, getattr(text, "location", None) or self.asked_at)


def to_um(value: Any) -> int:
    """Return micrometres: a number is millimetres (what expressions give), text carries its unit."""
    if isinstance(value, bool) or value is None:
        raise ExpressionError(f"{value!r} is not a length")
    if isinstance(value, int | float):
        return round(value * 1000)
    text = str(value).strip()
    if text in ("0", "-0"):
        return 0
    try:
        return -parse_length(text[1:]).um if text.startswith("-") else parse_length(text).um
    except ValueError as error:
        raise ExpressionError(str(error)) from None


def stamped(frame: Frame, piece_id: str, font: Callable[[str], FontMetrics]) -> Frame:
    """Return the frame with its id marks replaced by the piece's id; right-aligned marks end where they ended."""
    if not any(isinstance(i, Text) and ID_MARK in i.text for i in frame.items):
        return frame
    items: list[Item] = []
    for item in frame.items:
        if isinstance(item, Text) and ID_MARK in item.text:
            anchor, shift = item.text.replace(ID_MARK, ""), 0
            if anchor:
                width = font(item.font).width_um(piece_id, item.size_um)
                shift = width if anchor == "right" else width // 2
            items.append(replace(item, text=piece_id, x_um=item.x_um - shift))
        else:
            items.append(item)
    return replace(frame, items=tuple(items))


def has_id_mark(frame: Frame) -> bool:
    return any(isinstance(i, Text) and ID_MARK in i.text for i in frame.items)


def id_mark(x_um: int, y_um: int, align: str, colour: str, font: str = "Andika") -> Text:
    """Return the stand-in for the id at its left end, its right end or its middle."""
    anchor = "" if align == "left" else align
    return Text(x_um, y_um, ID_MARK + anchor, font, ID_SIZE_UM, colour, ReadBy.MARK)


def number_scope(width_um: int, height_um: int, clear: tuple[int, int, int, int]) -> Mapping[str, float]:
    """Return the millimetre names every face knows; `clear` is (left, top, right, bottom) keep-clear margins in um."""
    left, top, right, bottom = (v / 1000 for v in clear)
    width, height = width_um / 1000, height_um / 1000
    return {
        "width": width,
        "height": height,
        "left": left,
        "top": top,
        "right": width - right,
        "bottom": height - bottom,
        "clear_width": width - left - right,
        "clear_height": height - top - bottom,
    }
