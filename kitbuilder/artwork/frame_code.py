"""Frames as text and back, and the digest of a drawing. One frame has one spelling, so equal frames have equal digests.

An item is a row whose first member is its kind: `["t", x, y, text, font, size, colour, read by]`. Rows hold every
field, in the order of the dataclass; What is read back is checked as what a stranger
wrote: a damaged or hostile file ends in a ValueError with plain words, not in a crash or a full memory.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable
from typing import Any

from kitbuilder.artwork.frame import Bitmap, Box, Frame, Group, Item, Line, Path, ReadBy, Text
from kitbuilder.artwork.outlines import NUMBERS_BEHIND

LONGEST_UM = 10_000_000  # as in measure/length.py: ten metres
DEEPEST = 16
MOST_ITEMS = 200_000  # of one frame, groups included
LONGEST_TEXT = 100_000
LONGEST_PATH = 4_000_000  # characters; the largest shipped picture has some 30,000

# The letters a child or an adult reads back without doubt: I looks like 1 and l, O and Q look like 0 and each other.
# 23 is a prime, so the remainder mixes all bits of the digest.
CHECK_LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"


def frame_text(frame: Frame) -> str:
    """Return the frame's one spelling: compact JSON."""
    return json.dumps(frame_row(frame), ensure_ascii=False, separators=(",", ":"))


def frame_digest(frame: Frame) -> str:
    """Return 32 hex digits that differ for different drawings: BLAKE2b of the frame's spelling."""
    return text_digest(frame_text(frame))


def text_digest(text: str) -> str:
    """Return the digest of a frame's spelling."""
    return hashlib.blake2b(text.encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def check_letter(digest: str) -> str:
    """Return one of 23 letters made from a digest in hex: an id read from another pack's card fails 22 times in 23."""
    return CHECK_LETTERS[int(digest, 16) % len(CHECK_LETTERS)]


def frame_row(frame: Frame) -> list[Any]:
    """Return `[width, height, name, items]`, ready for JSON."""
    return [frame.width_um, frame.height_um, frame.name, [_item_row(item) for item in frame.items]]


def _item_row(item: Item) -> list[Any]:
    if isinstance(item, Text):
        return ["t", item.x_um, item.y_um, item.text, item.font, item.size_um, item.colour, item.read_by.value]
    if isinstance(item, Line):
        return ["l", item.x1_um, item.y1_um, item.x2_um, item.y2_um, item.width_um, item.colour, item.dash]
    if isinstance(item, Box):
        place = (item.x_um, item.y_um, item.width_um, item.height_um)
        return ["b", *place, item.fill, item.stroke, item.stroke_um, item.radius_um, item.dash]
    if isinstance(item, Path):
        return ["p", item.outline, item.fill, item.stroke, item.stroke_um, item.dash, item.name]
    if isinstance(item, Bitmap):
        return ["i", item.x_um, item.y_um, item.width_um, item.height_um, item.digest, item.format]
    return ["g", item.x_um, item.y_um, item.quarter_turns, frame_row(item.frame)]


def read_frame(row: object) -> Frame:
    """Return the frame that `frame_row` wrote, equal in every field.

    Raises:
        ValueError: when the row is not what `frame_row` writes, or larger than any drawing is.
    """
    return _Reader().frame(row, 0)


class _Reader:
    """Reads one frame and counts its items, those in groups included."""

    def __init__(self) -> None:
        self._left = MOST_ITEMS
        self._kinds: dict[object, tuple[int, Callable[[list[Any], int], Item]]] = {
            "t": (8, _read_text),
            "l": (8, _read_line),
            "b": (10, _read_box),
            "p": (7, _read_path),
            "i": (7, _read_bitmap),
            "g": (5, self._group),
        }

    def frame(self, row: object, depth: int) -> Frame:
        if depth > DEEPEST:
            raise ValueError(f"frames lie in one another more than {DEEPEST} deep")
        width, height, name, items = _row(row, 4, "a frame")
        if not isinstance(items, list):
            raise ValueError("a frame's items are not a list")
        self._left -= len(items)
        if self._left < 0:
            raise ValueError(f"a drawing of more than {MOST_ITEMS:,} items")
        return Frame(_length(width), _length(height), tuple([self._item(item, depth) for item in items]), _text(name))

    def _item(self, row: object, depth: int) -> Item:
        kind = row[0] if isinstance(row, list) and row else None
        known = self._kinds.get(kind) if isinstance(kind, str) else None
        if known is None:
            raise ValueError(f"an unknown kind of item: {str(kind)[:20]!r}")
        size, read = known
        return read(_row(row, size, f"an item of kind {kind!r}"), depth)

    def _group(self, row: list[Any], depth: int) -> Item:
        return Group(_place(row[1]), _place(row[2]), _count(row[3], 3), self.frame(row[4], depth + 1))


def _read_text(row: list[Any], _depth: int) -> Item:
    _, x, y, text, font, size, colour, read_by = row
    if read_by not in ("child", "adult", "mark"):
        raise ValueError(f"nobody reads as {str(read_by)[:20]!r}")
    return Text(_place(x), _place(y), _text(text), _text(font), _length(size), _colour(colour), ReadBy(read_by))


def _read_line(row: list[Any], _depth: int) -> Item:
    _, x1, y1, x2, y2, width, colour, dash = row
    return Line(_place(x1), _place(y1), _place(x2), _place(y2), _length(width), _colour(colour), _dash(dash))


def _read_box(row: list[Any], _depth: int) -> Item:
    _, x, y, width, height, fill, stroke, stroke_um, radius, dash = row
    paint = (_colour_or_none(fill), _colour_or_none(stroke), _length(stroke_um), _length(radius), _dash(dash))
    return Box(_place(x), _place(y), _length(width), _length(height), *paint)


def _read_path(row: list[Any], _depth: int) -> Item:
    _, outline, fill, stroke, stroke_um, dash, name = row
    paint = (_colour_or_none(fill), _colour_or_none(stroke), _length(stroke_um), _dash(dash))
    return Path(_outline(outline), *paint, _text(name))


def _read_bitmap(row: list[Any], _depth: int) -> Item:
    _, x, y, width, height, digest, format_name = row
    if not (isinstance(digest, str) and re.fullmatch(r"[0-9a-f]{64}", digest)) or format_name not in ("png", "jpeg"):
        raise ValueError("a picture is named in a way no picture is")
    return Bitmap(_place(x), _place(y), _length(width), _length(height), digest, format_name)


def _outline(text: object) -> str:
    if not isinstance(text, str) or len(text) > LONGEST_PATH:
        raise ValueError("a path's outline is missing or far too long")
    words = text.split(" ") if text else []
    at = 0
    while at < len(words):
        count = NUMBERS_BEHIND.get(words[at])
        if count is None or at + count >= len(words) + (count == 0):
            raise ValueError(f"a path's outline breaks off or holds {words[at][:20]!r}")
        for word in words[at + 1 : at + 1 + count]:
            _check_path_number(word)
        at += 1 + count
    return text


def _check_path_number(word: str) -> None:
    # a number has one spelling: 007 and -0 would be other drawings with the same look
    if not (len(word) <= 9 and word.isascii() and word.removeprefix("-").isdigit() and str(int(word)) == word):
        raise ValueError(f"a path's outline holds {word[:20]!r} where a number belongs")
    _place(int(word))


def _row(row: object, size: int, what: str) -> list[Any]:
    if not isinstance(row, list) or len(row) != size:
        raise ValueError(f"{what} has {len(row) if isinstance(row, list) else 'no'} members, not {size}")
    return row


def _place(value: object) -> int:
    if type(value) is not int or not -LONGEST_UM <= value <= LONGEST_UM:
        raise ValueError(f"{str(value)[:30]} is no place on a sheet")
    return value


def _length(value: object) -> int:
    return _count(value, LONGEST_UM)


def _count(value: object, most: int) -> int:
    if type(value) is not int or not 0 <= value <= most:
        raise ValueError(f"{str(value)[:30]} where a whole number from 0 to {most} belongs")
    return value


def _text(value: object) -> str:
    if not isinstance(value, str) or len(value) > LONGEST_TEXT:
        raise ValueError("text is missing or far too long")
    return value


def _colour(value: object) -> str:
    if not (isinstance(value, str) and re.fullmatch(r"#[0-9a-fA-F]{6}", value)):
        raise ValueError(f"{str(value)[:20]!r} is not a colour")
    return value


def _colour_or_none(value: object) -> str | None:
    return None if value is None else _colour(value)


def _dash(value: object) -> tuple[int, ...]:
    if not isinstance(value, list) or len(value) > 16:
        raise ValueError("a dash is not a short list of lengths")
    return tuple([_length(v) for v in value])
