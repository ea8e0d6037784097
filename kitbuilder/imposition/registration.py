"""Backs behind fronts: where the back of a flat lies on its page, and where both sides of a sheet can carry ink.

A sheet is turned about its vertical or its horizontal axis; which of them the long edge means depends on how the page
stands. Sources: IPP `sides` and PDF `/Duplex` (ISO 32000-2, 12.2) name the edge; the rest is geometry.
"""

from __future__ import annotations

from dataclasses import dataclass

from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.measure.geometry import Insets, Rect
from kitbuilder.measure.length import Length

# How far a home printer may put a back beside its front: twice the 1 mm that two makers' service manuals allow.
BACK_ALLOWANCE_UM = 2_000
LARGEST_OFFSET_UM = 10_000  # more than this is a sheet fed crookedly, not a printer's habit
LARGEST_SCALE_PPM = 20_000  # 2 %: more means that the viewer scaled the page
_WHOLE_PPM = 1_000_000


@dataclass(frozen=True, slots=True)
class BackOffset:
    """How far backs are moved: right and down as one looks at the back page; and how much farther from the centre.

    `scale_ppm` 3000 puts backs 0.3 % farther from the sheet's centre. Places are scaled, drawings are not: inside one
    card the difference stays under a tenth of a millimetre.

    Raises:
        ValueError: with a sentence for the user, when an offset or scale is too large to be a measurement.
    """

    dx_um: int = 0
    dy_um: int = 0
    scale_ppm: int = 0

    def __post_init__(self) -> None:
        worst = max(abs(self.dx_um), abs(self.dy_um))
        if worst > LARGEST_OFFSET_UM:
            raise ValueError(
                f"a back offset of {Length(worst).to_mm():g} mm is more than {LARGEST_OFFSET_UM // 1000} mm; "
                "print the test sheet again and measure from cross to cross"
            )
        if abs(self.scale_ppm) > LARGEST_SCALE_PPM:
            raise ValueError(
                f"a back scale that differs by {self.scale_ppm / 10_000:g} % is too large to be the printer's; "
                "print at actual size (100 %) and measure again"
            )


NO_OFFSET = BackOffset()


def turns_about_vertical(two_sided: TwoSided, sheet_width_um: int, sheet_height_um: int) -> bool:
    """Return whether the sheet is turned about its vertical axis (as one turns a leaf of a book), else the horizontal.

    A square sheet counts as portrait.

    Raises:
        ValueError: for one-sided, and for by hand: a by-hand profile first says which edge its backs follow
            (`by_hand.backs_two_sided`).
    """
    if two_sided not in (TwoSided.LONG, TwoSided.SHORT):
        raise ValueError(f"two-sided '{two_sided.value}' names no edge to turn about")
    portrait = sheet_height_um >= sheet_width_um
    return (two_sided is TwoSided.LONG) == portrait


def back_area(
    area: Rect,
    quarter_turns: int,
    sheet_width_um: int,
    sheet_height_um: int,
    two_sided: TwoSided,
    offset: BackOffset = NO_OFFSET,
) -> tuple[Rect, int]:
    """Return the rectangle and quarter turns of a flat's back on the back page, given those of its front.

    The back frame is drawn as seen after turning the flat about its own vertical axis; the rectangle is turned about
    the sheet's centre, its middle scaled from there, then moved by the offset.
    """
    if turns_about_vertical(two_sided, sheet_width_um, sheet_height_um):
        x, y, turns = sheet_width_um - area.right_um, area.y_um, -quarter_turns % 4
    else:
        x, y, turns = area.x_um, sheet_height_um - area.bottom_um, (2 - quarter_turns) % 4
    x += offset.dx_um + _spread(2 * x + area.width_um - sheet_width_um, offset.scale_ppm)
    y += offset.dy_um + _spread(2 * y + area.height_um - sheet_height_um, offset.scale_ppm)
    return Rect(x, y, area.width_um, area.height_um), turns


def _spread(twice_from_centre_um: int, scale_ppm: int) -> int:
    """Return the extra distance from the centre, rounded half away from zero so that both halves move alike."""
    size = (abs(twice_from_centre_um * scale_ppm) + _WHOLE_PPM) // (2 * _WHOLE_PPM)
    return size if twice_from_centre_um * scale_ppm >= 0 else -size


def ink_area(sheet_width_um: int, sheet_height_um: int, edges: Insets, two_sided: TwoSided) -> Rect:
    """Return where a sheet can carry ink, as seen from its front; for two sides, where both can.

    `edges` are what the printer cannot reach on a portrait page, the bottom one leaving the printer last. A duplexer
    may feed the back from either end, so two sides take the worse of top and bottom, and of left and right, for both.
    A landscape page is turned by the printer to one side or the other: each of its edges takes the worse of two.
    """
    left, top, right, bottom = edges.left.um, edges.top.um, edges.right.um, edges.bottom.um
    landscape = sheet_width_um > sheet_height_um
    if landscape or two_sided is not TwoSided.NO:
        left = right = max(left, right)
        top = bottom = max(top, bottom)
    if landscape:
        left, top, right, bottom = top, left, bottom, right
    return Rect(0, 0, sheet_width_um, sheet_height_um).inset(left, top, right, bottom)


def back_keep_clear(keep_clear: Insets) -> Insets:
    """Return the insets a back face needs so that a back printed beside its place still lies on its flat: 2 mm each."""
    least = Length(BACK_ALLOWANCE_UM)
    return Insets(
        max(keep_clear.left, least),
        max(keep_clear.top, least),
        max(keep_clear.right, least),
        max(keep_clear.bottom, least),
    )
