"""Text in a box: fitted, broken into lines, placed by its letters' height; never clipped, never too small."""

from __future__ import annotations

from dataclasses import dataclass, replace

from kitbuilder.artwork.fonts import FontProblem
from kitbuilder.artwork.frame import Line, ReadBy, Text
from kitbuilder.artwork.type_metrics import FontMetrics, unsupported
from kitbuilder.compose.expression_filters import ExpressionError
from kitbuilder.compose.palette import COLOURS
from kitbuilder.compose.pen import Pen
from kitbuilder.compose.text_fitting import EASY_LINES, FEWEST_LINES, FittedText, fit_text, with_line_ends


@dataclass(frozen=True, slots=True)
class TextStyle:
    """How a text is set. Sizes are ems in micrometres; `underline` spans are (start, end) letters, dashed.

    `ticks` are places of spaces in which a thin light stroke stands, `breaks` those where a line may best end. `alike`
    are the texts this one stands among: it is set no larger than any of them could be in the same box. `easy` ends
    lines where the author does, and spends one more than needed where that makes them end better, while there is room.
    """

    font: str
    largest_um: int
    least_um: int
    align: str
    valign: str
    leading: float
    wrap: bool
    colour: str
    read_by: ReadBy
    underline: tuple[tuple[int, int], ...] = ()
    ticks: tuple[int, ...] = ()
    alike: tuple[str, ...] = ()
    breaks: tuple[int, ...] = ()
    easy: bool = False


def draw_text(pen: Pen, text: str, box: tuple[int, int, int, int], style: TextStyle) -> None:
    """Draw the text inside the box, or note a problem at the line that asked for it."""
    try:
        font = pen.workshop.font(style.font)
    except FontProblem as error:
        raise ExpressionError(str(error)) from None
    if not _printable(pen, font, text):
        return
    fitted = _fitted(font, text, box, style)
    for other in style.alike:
        among = _fitted(font, other, box, replace(style, breaks=())) if fitted and other != text else None
        if fitted and among and among.size_um < fitted.size_um:
            fitted = _fitted(font, text, box, replace(style, largest_um=among.size_um))
    _, _, width, height = box
    if fitted is None:
        least = style.least_um * 72 / 25_400
        pen.problem(
            f"{shortened(text)!r} does not fit on {pen.what}, even at {least:.0f} pt in {width / 1000:.0f} x "
            f"{height / 1000:.0f} mm",
            "does-not-fit",
            "shorten the text, or give the kind a larger size under 'materials:' in the unit",
            text,
        )
        return
    _place(pen, font, fitted, box, style)


def _fitted(font: FontMetrics, text: str, box: tuple[int, int, int, int], style: TextStyle) -> FittedText | None:
    least = min(style.least_um, style.largest_um)
    own = with_line_ends(text, style.breaks)
    ways = ((own, (), EASY_LINES), (text, style.breaks, EASY_LINES)) if style.easy else ()
    for lines, breaks, line_cost in (*ways, (text, style.breaks, FEWEST_LINES)):
        fitted = fit_text(
            font, lines, box[2], box[3], style.largest_um, least,
            leading=style.leading, wrap=style.wrap, breaks=breaks, line_cost=line_cost,
        )  # fmt: skip
        if fitted:
            return fitted
    return None


def shortened(text: str, longest: int = 60) -> str:
    return text if len(text) <= longest else text[: longest - 1] + "…"


def _printable(pen: Pen, font: FontMetrics, text: str) -> bool:
    bad = {char: f"the font {font.name} has no such letter" for char in font.missing(text) if char != "\n"}
    bad.update({char: why for char, why in unsupported(text) if char != "\n"})
    if bad:
        shown = ", ".join(f"{char!r} (U+{ord(char):04X})" for char in bad)
        reasons = "; ".join(dict.fromkeys(bad.values()))
        pen.problem(
            f"{shown} in {shortened(text)!r} cannot be printed: {reasons}",
            "unprintable-character",
            "take it out, or put a font that has it into the family's fonts folder",
            text,
        )
    return not bad


def _place(pen: Pen, font: FontMetrics, fitted: FittedText, box: tuple[int, int, int, int], style: TextStyle) -> None:
    x, y, width, height = box
    ascent = font.letter_ascent_um(fitted.size_um)
    spare = height - fitted.height_um
    # a block is centred on its letters' height, so that a "g" card and a "t" card share their baseline
    drop = {"top": 0, "middle": spare // 2, "bottom": spare}.get(style.valign)
    if drop is None:
        raise ExpressionError(f"valign is top, middle or bottom, not {style.valign!r}")
    baseline = y + drop + ascent + pen.dy_um
    start = 0
    for line in fitted.lines:
        wide = font.width_um(line, fitted.size_um)
        shift = {"left": 0, "centre": (width - wide) // 2, "right": width - wide}.get(style.align)
        if shift is None:
            raise ExpressionError(f"align is left, centre or right, not {style.align!r}")
        left = x + shift + pen.dx_um
        if line:
            pen.add(Text(left, baseline, line, style.font, fitted.size_um, style.colour, style.read_by))
        for first, last in style.underline:
            _underline(pen, font, line, (first - start, last - start), (left, baseline), fitted.size_um, style.colour)
        for place in style.ticks:
            _tick(pen, font, line, place - start, (left, baseline), fitted.size_um)
        start += len(line) + 1
        baseline += fitted.leading_um


def _underline(
    pen: Pen, font: FontMetrics, line: str, span: tuple[int, int], at: tuple[int, int], size_um: int, colour: str
) -> None:
    first, last = max(0, span[0]), min(len(line), span[1])
    if first >= last:
        return
    left = at[0] + font.width_um(line[:first], size_um)
    right = at[0] + font.width_um(line[:last], size_um)
    level = at[1] + font.letter_descent_um(size_um) + size_um // 25
    on = max(600, size_um // 14)
    pen.add(Line(left, level, right, level, max(300, size_um // 28), colour, (on, on * 2 // 3)))


def _tick(pen: Pen, font: FontMetrics, line: str, place: int, at: tuple[int, int], size_um: int) -> None:
    """Draw a thin light stroke in the space at `place`; none at the end of a line, which says enough.

    It reaches above the letters and below the baseline: a short one at the top would be read as an apostrophe.
    """
    if not 0 < place < len(line):
        return
    x = at[0] + (font.width_um(line[:place], size_um) + font.width_um(line[: place + 1], size_um)) // 2
    top, foot = at[1] - font.letter_ascent_um(size_um), at[1] + font.letter_descent_um(size_um)
    pen.add(Line(x, top - size_um // 12, x, foot, 300, COLOURS["rule"]))
