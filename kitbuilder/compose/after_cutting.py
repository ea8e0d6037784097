"""What is done to a piece after cutting, as far as its faces show it: a hole for a ring, and the edge that is bound."""

from __future__ import annotations

from dataclasses import replace

from kitbuilder.artwork.frame import Box, Frame
from kitbuilder.measure.format import Format
from kitbuilder.model.learners import Learner

RING_HOLE_UM = 6_000  # across: what a paper punch makes
_FAINT = "#c8c8c8"
_HAIR_UM = 150


def with_ring_hole(frame: Frame, page: Format, *, back: bool) -> Frame:
    """Return the frame with a faint circle where the hole for a ring is punched; unchanged when there is none."""
    if not page.ring_um:
        return frame
    x = frame.width_um - page.ring_um if back else page.ring_um
    half = RING_HOLE_UM // 2
    circle = Box(x - half, page.ring_um - half, RING_HOLE_UM, RING_HOLE_UM, None, _FAINT, _HAIR_UM, half)
    return replace(frame, items=(*frame.items, circle))


def bound_edge(binding: str, learner: Learner | None) -> str:
    """Return the edge that is bound: for a left-handed child the right one instead of the left."""
    return "right" if binding == "left" and learner is not None and learner.left_handed else binding
