"""Layouts built greedily in bands and columns from a priority order, never more of a size than is wanted."""

from collections.abc import Sequence
from random import Random

from kitbuilder.packing.job import Frame
from kitbuilder.packing.pattern import Band, Column, Pattern


def priority(frame: Frame, values: Sequence[float], chance: Random, noise: float) -> list[int]:
    """Usable items, most urgent first: by a power of height, width and value drawn by `chance`, blurred by `noise`."""
    tall, wide, dear = chance.choice(MIXES)
    keys = {}
    for index in frame.usable:
        item = frame.items[index]
        height, width = item.height / frame.height, item.width / frame.width
        blur = 1 + noise * (chance.random() - 0.5)
        keys[index] = height**tall * width**wide * max(values[item.size], 1e-9) ** dear * blur
    return sorted(frame.usable, key=lambda index: (-keys[index], index))


# Exponents of height, width and value: highest first, widest first, largest first, dearest first, and between.
MIXES = ((1.0, 0.0, 0.0), (1.0, 0.3, 0.0), (1.0, 1.0, 0.0), (0.3, 1.0, 0.0), (0.0, 0.0, 1.0), (-0.5, -0.5, 1.0))


def filled(frame: Frame, order: Sequence[int], wanted: Sequence[int], stretch: int = 0) -> Pattern:
    """One sheet filled by the first item of `order` that fits, again and again.

    Bands are as high as their opener; the first `stretch` bands are as high as their opener and the next fitting item.
    """
    left = list(wanted)
    bands: list[Band] = []
    room = frame.height
    while True:
        opener = fitting(frame, order, left, frame.width, room)
        if opener is None:
            return Pattern(frame.first, tuple(bands))
        height = frame.items[opener].height
        if height <= frame.tallest and len(bands) < stretch:
            left[frame.items[opener].size] -= 1
            second = fitting(frame, order, left, frame.width, min(room, frame.tallest) - height)
            left[frame.items[opener].size] += 1
            height += frame.items[second].height if second is not None else 0
        bands.append(filled_band(frame, order, left, opener, height))
        room -= bands[-1].height


def fitting(frame: Frame, order: Sequence[int], left: Sequence[int], width: int, height: int) -> int | None:
    """The first item of the order that is still wanted and no larger than this."""
    items = frame.items
    for index in order:
        item = items[index]
        if item.height <= height and item.width <= width and left[item.size] > 0:
            return index
    return None


def filled_band(frame: Frame, order: Sequence[int], left: list[int], opener: int, height: int) -> Band:
    """A band of at most this height; takes what it uses from `left`."""
    if frame.items[opener].height > frame.tallest:
        left[frame.items[opener].size] -= 1
        return Band(height, (Column(frame.width, (opener,)),))
    columns = []
    used = 0
    room = frame.width
    lead: int | None = opener
    while lead is not None:
        column, depth = filled_column(frame, order, left, lead, height)
        columns.append(column)
        used = max(used, depth)
        room -= column.width
        lead = fitting(frame, order, left, room, height)
    return Band(used, tuple(columns))


def filled_column(frame: Frame, order: Sequence[int], left: list[int], lead: int, height: int) -> tuple[Column, int]:
    """A column as wide as its lead, filled downwards with items no wider, and its depth; takes from `left`."""
    width = frame.items[lead].width
    items: list[int] = []
    room = height
    taken: int | None = lead
    while taken is not None:
        item = frame.items[taken]
        count = min(left[item.size], room // item.height)
        items += [taken] * count
        left[item.size] -= count
        room -= count * item.height
        taken = fitting(frame, order, left, width, room)
    return Column(width, tuple(items)), height - room
