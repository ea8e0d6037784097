"""Sheets: which flat lies where on which side, and the cuts that free it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from kitbuilder.artwork.frame import Frame
from kitbuilder.imposition.flats import Flat
from kitbuilder.measure.geometry import Rect


class TwoSided(Enum):
    """How the back of a sheet gets printed."""

    NO = "no"
    LONG = "long"  # the printer turns about the long edge
    SHORT = "short"  # the printer turns about the short edge
    BY_HAND = "by-hand"


@dataclass(frozen=True, slots=True)
class PrintSetup:
    """What has to be the same for sheets to share a print file."""

    stock: str
    two_sided: TwoSided
    paper: str
    width_um: int
    height_um: int


@dataclass(frozen=True, slots=True)
class Placement:
    """A flat on a sheet's front: what it covers after `quarter_turns` counter-clockwise; its pile and depth."""

    flat: Flat
    area: Rect
    quarter_turns: int
    pile: str = ""
    depth: int = 1  # 1 is the top of the pile


@dataclass(frozen=True, slots=True)
class Stroke:
    """One pass of the blade on a stack. `axis` "x" is a vertical line at x = at_um."""

    number: int
    axis: str
    at_um: int
    from_um: int
    to_um: int
    stage: int
    fence_um: int
    turn: int = 0
    strip: str = "whole sheet"
    regrouped: int = 1


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """How flats lie on one or more sheets, and the strokes that cut them. id is "A", "B", ... within a pack.

    `ready_cut`: label sheets, whose labels are cut by their maker: there are no strokes.
    """

    id: str
    setup: PrintSetup
    strokes: tuple[Stroke, ...]
    copies: int
    ready_cut: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its flats as seen from the front. `marks` are drawn on the front only, over the whole sheet.

    `has_ruler`: there was room for the 100 mm ruler among them.
    """

    layout: SheetLayout
    placements: tuple[Placement, ...]
    stack: int  # the stack it is cut in, from 1
    position_in_stack: int  # 1 is the top
    front_marks: Frame | None = None
    back_marks: Frame | None = None
    has_ruler: bool = False

    @property
    def has_back(self) -> bool:
        return any(p.flat.two_sided for p in self.placements)


@dataclass(frozen=True, slots=True)
class Pile:
    """What comes off the trimmer at one place of a layout."""

    id: str
    layout: str
    holds: tuple[str, ...]  # set ids, top first
    envelope: str


@dataclass(frozen=True, slots=True)
class Run:
    """All sheets of one print set-up, with what is known about their number."""

    setup: PrintSetup
    sheets: tuple[Sheet, ...]
    layouts: tuple[SheetLayout, ...]
    piles: tuple[Pile, ...]
    lower_bound: int
    bound: str
    strokes: int
    trade: tuple[tuple[int, int], ...] = ()
