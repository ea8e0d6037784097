"""The format a piece is composed to: how large it is when cut, and how far its ink stays from the cut."""

from __future__ import annotations

from dataclasses import dataclass

from kitbuilder.measure.geometry import Insets, Size


@dataclass(frozen=True, slots=True)
class Format:
    """Trim size and keep-clear margin. `division` says how a divided sheet is laid: 0 for flats that are packed.

    division 1 is a whole page, 2 a half, 4 a quarter: such flats are laid by dividing the sheet, so that their edges
    are the sheet's own; their keep-clear margin already covers what the printer cannot reach. `ring_um`: how far the
    middle of a hole for a ring lies from both edges of the upper corner, left on fronts and right on backs; 0 for none.
    """

    trim: Size
    keep_clear: Insets
    division: int = 0
    ring_um: int = 0

    def __post_init__(self) -> None:
        if self.trim.width.um <= 0 or self.trim.height.um <= 0:
            raise ValueError(f"a format has a size, not {self.trim}")
