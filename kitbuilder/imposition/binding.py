"""Paper that has to stay free for binding: punched holes, and the hole for a ring in the corner of a card."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from kitbuilder.measure.geometry import Insets, Rect
from kitbuilder.measure.length import Length

KEEP_CLEAR_RADIUS_UM = 10_000  # 6.5 mm hole, 1 mm edge and 0.5 mm spacing tolerance (ISO 838), rounded up
RING_CENTRE_UM = 9_000  # 8 to 10 mm in from both edges; common practice, no source
RING_RADIUS_UM = 6_000  # 6 mm hole, 1 mm either way for its centre, 2 mm for the hand that punches


class Punch(Enum):
    """How pages are punched for a binder."""

    NONE = "none"
    TWO_HOLE = "two-hole"
    THREE_HOLE = "three-hole"


# Distance of hole centres from each other, from the edge, and how many. Two holes: ISO 838 (80 +/- 0.5 mm apart,
# 12 +/- 1 mm from the edge, 6 +/- 0.5 mm across, centred). Three holes: 4.25 in apart, US practice; no standard fixes
# the edge, 11 to 13 mm is common (from memory).
_SPACING_UM = {Punch.TWO_HOLE: 80_000, Punch.THREE_HOLE: 107_950}
_EDGE_UM = 12_000
_COUNT = {Punch.TWO_HOLE: 2, Punch.THREE_HOLE: 3}


@dataclass(frozen=True, slots=True)
class Circle:
    """A round patch to keep clear, by its centre."""

    x_um: int
    y_um: int
    radius_um: int

    def touches(self, box: Rect) -> bool:
        """Return whether any of the box lies inside the circle."""
        dx = self.x_um - min(max(self.x_um, box.x_um), box.right_um)
        dy = self.y_um - min(max(self.y_um, box.y_um), box.bottom_um)
        return dx * dx + dy * dy < self.radius_um * self.radius_um


def mirrored(edge: str) -> str:
    """Return the binding edge as it lies on the back of the leaf, turned about its vertical axis."""
    return {"left": "right", "right": "left"}.get(edge, edge)


def hole_circles(punch: Punch, width_um: int, height_um: int, edge: str) -> tuple[Circle, ...]:
    """Return the circles to keep clear on a page bound at its left, right or top edge; holes off the page are left out.

    Raises:
        ValueError: for another edge.
    """
    if edge not in ("left", "right", "top"):
        raise ValueError(f"pages are punched at the left, the right or the top, not at '{edge}'")
    if punch is Punch.NONE:
        return ()
    count, spacing = _COUNT[punch], _SPACING_UM[punch]
    long = width_um if edge == "top" else height_um
    along = ((long - spacing * (count - 1)) // 2 + spacing * i for i in range(count))
    circles = []
    for at in along:
        if not 0 < at < long:
            continue
        x, y = {"left": (_EDGE_UM, at), "right": (width_um - _EDGE_UM, at), "top": (at, _EDGE_UM)}[edge]
        circles.append(Circle(x, y, KEEP_CLEAR_RADIUS_UM))
    return tuple(circles)


def punch_insets(punch: Punch, edge: str) -> Insets:
    """Return the margin that keeps a page clear of all holes: 22 mm at the binding edge, nothing elsewhere.

    Raises:
        ValueError: for another edge than left, right or top.
    """
    if edge not in ("left", "right", "top"):
        raise ValueError(f"pages are punched at the left, the right or the top, not at '{edge}'")
    zero = Length(0)
    margin = zero if punch is Punch.NONE else Length(_EDGE_UM + KEEP_CLEAR_RADIUS_UM)
    return Insets(
        margin if edge == "left" else zero, margin if edge == "top" else zero, margin if edge == "right" else zero, zero
    )


def wider(one: Insets, other: Insets) -> Insets:
    """Return insets that keep both clear."""
    return Insets(
        max(one.left, other.left), max(one.top, other.top), max(one.right, other.right), max(one.bottom, other.bottom)
    )


def ring_circle(width_um: int, side: str = "front", corner: str = "left") -> Circle:
    """Return the circle to keep clear for a ring in the upper corner of a card, mirrored on its back."""
    at_left = (corner == "left") == (side == "front")
    return Circle(RING_CENTRE_UM if at_left else width_um - RING_CENTRE_UM, RING_CENTRE_UM, RING_RADIUS_UM)


def ring_insets() -> Insets:
    """Return a top margin that clears the ring hole in either corner, on either side."""
    return Insets(Length(0), Length(RING_CENTRE_UM + RING_RADIUS_UM), Length(0), Length(0))
