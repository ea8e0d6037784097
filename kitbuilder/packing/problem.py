"""The packing problem and its answer as plain whole micrometres, origin upper left, y down."""

from dataclasses import dataclass, replace
from typing import Literal

ANY = "any layout, guillotine or not"  # what the simplest bounds hold for


class PackingError(ValueError):
    """A problem that cannot be packed: `what` says why in plain words, `part` is an index into Problem.parts."""

    def __init__(self, what: str, part: int | None = None) -> None:
        super().__init__(what)
        self.what = what
        self.part = part


class ZeroSizeError(PackingError):
    """A sheet or part without area, or a negative number where a size or a count is meant."""


class PartTooLargeError(PackingError):
    """A part that lies on the sheet in no permitted way; the excess is that of the way that comes closest."""

    def __init__(self, what: str, part: int, over_width_um: int, over_height_um: int) -> None:
        super().__init__(what, part)
        self.over_width_um = over_width_um
        self.over_height_um = over_height_um


class BladeTooShortError(PackingError):
    """No order of cuts the blade can make frees this part; `short_um` is how much longer the blade would have to be."""

    def __init__(self, what: str, part: int | None, short_um: int) -> None:
        super().__init__(what, part)
        self.short_um = short_um


class StackError(PackingError):
    """A stack of no sheets."""


def size_text(width_um: int, height_um: int) -> str:
    """A size for a message, such as "62 by 87.5 mm"."""
    return f"{width_um / 1000:.7g} by {height_um / 1000:.7g} mm"


@dataclass(frozen=True, slots=True)
class Part:
    """A rectangle wanted `demand` times."""

    width_um: int
    height_um: int
    demand: int
    may_turn: bool = True


@dataclass(frozen=True, slots=True)
class Waste:
    """Paper around the sheet's area that must be cut off: where it is not 0, that edge of the area needs a cut."""

    left_um: int = 0
    top_um: int = 0
    right_um: int = 0
    bottom_um: int = 0


@dataclass(frozen=True, slots=True)
class Problem:
    """What to lay out. `blade_um` None: the blade is as long as the paper's longer side."""

    sheet_width_um: int
    sheet_height_um: int
    parts: tuple[Part, ...]
    gutter_um: int = 0
    blade_um: int | None = None
    stack: int = 1
    extra_sheets: int = 0
    seed: int = 1
    waste: Waste = Waste()


@dataclass(frozen=True, slots=True)
class Slot:
    """A place on the sheet for one flat of a part; width and height as placed."""

    part: int
    x_um: int
    y_um: int
    width_um: int
    height_um: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut: axis "x" is a vertical line at x = at_um, from and to are its ends along the other axis."""

    axis: Literal["x", "y"]
    at_um: int
    from_um: int
    to_um: int
    stage: int


@dataclass(frozen=True, slots=True)
class Layout:
    """How flats lie on `copies` equal sheets, and the cuts that free them, in an order that can be carried out."""

    copies: int
    slots: tuple[Slot, ...]
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True)
class Solution:
    """Layouts, the proved bound with the class it holds for, and the strokes of all stacks.

    `strokes` counts identical strips laid side by side under the blade as one; `strokes_singly` cuts each strip alone.
    `trade` lists (sheets, strokes) of the alternatives looked at, fewest sheets first. `first_strokes` are those of the
    first answer on the fewest sheets, before strokes were looked at.
    """

    layouts: tuple[Layout, ...]
    lower_bound: int
    bound: str
    strokes: int
    trade: tuple[tuple[int, int], ...]
    strokes_singly: int = 0
    first_strokes: int = 0

    @property
    def sheets(self) -> int:
        """Sheets of all layouts together."""
        return sum(layout.copies for layout in self.layouts)


def moved(layout: Layout, right_um: int, down_um: int) -> Layout:
    """The layout moved on the paper, cuts with it."""
    slots = tuple(replace(slot, x_um=slot.x_um + right_um, y_um=slot.y_um + down_um) for slot in layout.slots)
    cuts = []
    for cut in layout.cuts:
        across, along = (right_um, down_um) if cut.axis == "x" else (down_um, right_um)
        cuts.append(replace(cut, at_um=cut.at_um + across, from_um=cut.from_um + along, to_um=cut.to_um + along))
    return Layout(layout.copies, slots, tuple(cuts))
