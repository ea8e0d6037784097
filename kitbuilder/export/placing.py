"""Frames placed on a page, and the matrix that puts a turned frame there. Shared by the PDF and SVG writers."""

from __future__ import annotations

from dataclasses import dataclass

from kitbuilder.artwork.frame import Frame

# (a, b, c, d, e, f): x' = a x + c y + e, y' = b x + d y + f, with y down; whole numbers only, so nothing is rounded
Matrix = tuple[int, int, int, int, int, int]


@dataclass(frozen=True, slots=True)
class Placed:
    """A frame on a page: x, y is the upper left corner of the rectangle it covers after turning counter-clockwise."""

    frame: Frame
    x_um: int
    y_um: int
    quarter_turns: int = 0


def turning_matrix(x_um: int, y_um: int, width_um: int, height_um: int, quarter_turns: int) -> Matrix:
    """Return the matrix from a frame's own coordinates to the page's; agrees with `geometry.turn_point`."""
    turns = quarter_turns % 4
    if turns == 1:
        return 0, -1, 1, 0, x_um, y_um + width_um
    if turns == 2:
        return -1, 0, 0, -1, x_um + width_um, y_um + height_um
    if turns == 3:
        return 0, 1, -1, 0, x_um + height_um, y_um
    return 1, 0, 0, 1, x_um, y_um
