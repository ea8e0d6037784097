"""Rectangles in whole micrometres and what turning does to them. Origin upper left, y down, everywhere.

Coordinates are plain integers here (names end in `_um`): a term has a hundred thousand of them, and a class costs ten
times an integer for every addition. What people write and what a format is made of is a `Length`.
"""

from __future__ import annotations

from dataclasses import dataclass

from kitbuilder.measure.length import Length


@dataclass(frozen=True, slots=True, order=True)
class Size:
    """Width and height of something lying flat."""

    width: Length
    height: Length

    def turned(self) -> Size:
        return Size(self.height, self.width)

    def __str__(self) -> str:
        return f"{self.width.to_mm():g} x {self.height.to_mm():g} mm"


@dataclass(frozen=True, slots=True)
class Insets:
    """Distances from the four edges, inward."""

    left: Length
    top: Length
    right: Length
    bottom: Length

    @staticmethod
    def even(length: Length) -> Insets:
        return Insets(length, length, length, length)


@dataclass(frozen=True, slots=True, order=True)
class Rect:
    """A rectangle: upper left corner, width and height."""

    x_um: int
    y_um: int
    width_um: int
    height_um: int

    @property
    def right_um(self) -> int:
        return self.x_um + self.width_um

    @property
    def bottom_um(self) -> int:
        return self.y_um + self.height_um

    def inset(self, left: int, top: int, right: int, bottom: int) -> Rect:
        return Rect(self.x_um + left, self.y_um + top, self.width_um - left - right, self.height_um - top - bottom)

    def moved(self, dx_um: int, dy_um: int) -> Rect:
        return Rect(self.x_um + dx_um, self.y_um + dy_um, self.width_um, self.height_um)

    def contains(self, other: Rect, slack_um: int = 0) -> bool:
        return (
            other.x_um >= self.x_um - slack_um
            and other.y_um >= self.y_um - slack_um
            and other.right_um <= self.right_um + slack_um
            and other.bottom_um <= self.bottom_um + slack_um
        )

    def overlaps(self, other: Rect) -> bool:
        return (
            self.x_um < other.right_um
            and other.x_um < self.right_um
            and self.y_um < other.bottom_um
            and other.y_um < self.bottom_um
        )


def turned_size(width_um: int, height_um: int, quarter_turns: int) -> tuple[int, int]:
    """Return the width and height a box covers after quarter turns."""
    return (height_um, width_um) if quarter_turns % 2 else (width_um, height_um)


def turn_point(x_um: int, y_um: int, width_um: int, height_um: int, quarter_turns: int) -> tuple[int, int]:
    """Return where a point of a width x height box lies after counter-clockwise quarter turns.

    The turned box has its upper left corner at the origin again. Seen with y down, one counter-clockwise quarter turn
    takes the upper right corner to the upper left.
    """
    turns = quarter_turns % 4
    if turns == 1:
        return y_um, width_um - x_um
    if turns == 2:
        return width_um - x_um, height_um - y_um
    if turns == 3:
        return height_um - y_um, x_um
    return x_um, y_um
