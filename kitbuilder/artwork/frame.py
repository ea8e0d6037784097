"""A Frame: a size plus a few kinds of items at fixed places. The only language between composing and export.

All numbers are whole micrometres from the frame's upper left corner, y down. Colours are `#rrggbb`. Nothing here is
decided again later: a writer draws exactly these items, in this order.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class ReadBy(Enum):
    """Who reads a text: only what a child reads is checked for decodability."""

    CHILD = "child"
    ADULT = "adult"
    MARK = "mark"  # ids, rulers, fold marks: read by nobody while learning


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text. x is its left end, y its baseline, size the em; no kerning, no ligatures."""

    x_um: int
    y_um: int
    text: str
    font: str
    size_um: int
    colour: str = "#000000"
    read_by: ReadBy = ReadBy.ADULT


@dataclass(frozen=True, slots=True)
class Line:
    """A straight stroke. `dash` is (on, off) lengths, empty for a solid line; caps are butt."""

    x1_um: int
    y1_um: int
    x2_um: int
    y2_um: int
    width_um: int
    colour: str = "#000000"
    dash: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, round-cornered when radius is not 0. The stroke is centred on the edge."""

    x_um: int
    y_um: int
    width_um: int
    height_um: int
    fill: str | None = None
    stroke: str | None = None
    stroke_um: int = 0
    radius_um: int = 0
    dash: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Path:
    """An outline in frame coordinates; filled by the nonzero rule, stroked with round joins and caps."""

    outline: str  # as `outlines.outline_of` writes it
    fill: str | None = "#000000"
    stroke: str | None = None
    stroke_um: int = 0
    dash: tuple[int, ...] = ()
    name: str = ""  # of the picture it came from, for readers of the preview


@dataclass(frozen=True, slots=True)
class Bitmap:
    """A PNG or JPEG of the family's own, by the SHA-256 of its bytes, fitted by whoever composed it."""

    x_um: int
    y_um: int
    width_um: int
    height_um: int
    digest: str
    format: str  # "png" | "jpeg"


@dataclass(frozen=True, slots=True)
class Group:
    """A whole frame placed in another one: turned counter-clockwise, its turned box's upper left corner at x, y.

    A point of the inner frame lies at (x, y) + `geometry.turn_point(point, frame size, quarter_turns)`. Not clipped.
    """

    x_um: int
    y_um: int
    quarter_turns: int
    frame: Frame


Item = Text | Line | Box | Path | Bitmap | Group


@dataclass(frozen=True, slots=True)
class Frame:
    """A face: its trim size and its items, back to front. `name` is the face it came from."""

    width_um: int
    height_um: int
    items: tuple[Item, ...]
    name: str = ""


def texts_of(frame: Frame, *who: ReadBy) -> tuple[str, ...]:
    """Return the frame's strings in drawing order, groups included; only those read by `who`, when given."""
    found: list[str] = []
    for item in frame.items:
        if isinstance(item, Group):
            found += texts_of(item.frame, *who)
        elif isinstance(item, Text) and (not who or item.read_by in who):
            found.append(item.text)
    return tuple(found)
