"""Layouts built greedily in bands and columns from a priority order, never more of a size than is wanted."""

from collections.abc import Sequence

from kitbuilder.packing.job import Frame
from kitbuilder.packing.pattern import Band, Column, Pattern


def filled(frame: Frame, order: Sequence[int], wanted: Sequence[int]) -> Pattern:
    """One sheet filled by the first item of `order` that fits, again and again; bands are as high as their opener."""
    left = list(wanted)
    bands: list[Band] = []
    room = frame.height
    while True:
        opener = next(
            (i for i in order if left[frame.items[i].size] and frame.items[i].height <= room),
            None,
        )
        if opener is None:
            return Pattern(frame.first, tuple(bands))
        band = filled_band(frame, order, left, opener)
        bands.append(band)
        room -= band.height


def filled_band(frame: Frame, order: Sequence[int], left: list[int], opener: int) -> Band:
    """A band as high as its opener; takes what it uses from `left`."""
    height = frame.items[opener].height
    if height > frame.tallest:
        left[frame.items[opener].size] -= 1
        return Band(height, (Column(frame.width, (opener,)),))
    columns = []
    room = frame.width
    lead: int | None = opener
    while lead is not None:
        column = filled_column(frame, order, left, lead, height)
        columns.append(column)
        room -= column.width
        lead = next(
            (
                i
                for i in order
                if left[frame.items[i].size] and frame.items[i].width <= room and frame.items[i].height <= height
            ),
            None,
        )
    return Band(height, tuple(columns))


def filled_column(frame: Frame, order: Sequence[int], left: list[int], lead: int, height: int) -> Column:
    """A column as wide as its lead, filled downwards with items no wider; takes what it uses from `left`."""
    width = frame.items[lead].width
    items = []
    taken: int | None = lead
    while taken is not None:
        items.append(taken)
        left[frame.items[taken].size] -= 1
        height -= frame.items[taken].height
        taken = next(
            (
                i
                for i in [lead, *order]
                if left[frame.items[i].size] and frame.items[i].width <= width and frame.items[i].height <= height
            ),
            None,
        )
    return Column(width, tuple(items))
