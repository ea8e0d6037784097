"""Letters drawn as strokes: as a model, as a pale road with start dots, numbers and arrows, or dotted to trace."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from kitbuilder.artwork.frame import Path, ReadBy, Text
from kitbuilder.artwork.letter_strokes import BEARING, SPACE, LetterShape, Point, letter_shape, text_width
from kitbuilder.artwork.outlines import PathCommand, outline_of
from kitbuilder.compose.expression_filters import ExpressionError
from kitbuilder.compose.pen import Pen
from kitbuilder.compose.stroke_marks import arrows, dots, numbers

LOOKS = ("solid", "road", "dotted")
_PEN, _ROAD, _DOT = 6.0, 11.0, 4.4  # widths in hundredths of the height
_LEAST_NUMBER_UM = 1_760  # 5 pt
_NUMBER = 13.0  # em of a number, in hundredths of the height

ToFrame = Callable[[Point], tuple[int, int]]


@dataclass(frozen=True, slots=True)
class StrokeLook:
    """How letters are drawn. `height_um` is from baseline to top line; 0: as large as the box allows."""

    look: str = "solid"
    colour: str = "#111111"
    height_um: int = 0
    align: str = "left"
    starts: bool = False
    numbers: bool = False
    arrows: bool = False


def draw_strokes(pen: Pen, text: str, box: tuple[int, int, int, int], look: StrokeLook) -> None:
    """Draw the text so that its top line is the box's top, the box's height leaving room for the descender line."""
    if look.look not in LOOKS:
        raise ExpressionError(f"strokes are drawn {', '.join(LOOKS)}, not {look.look!r}")
    x, y, width, height = box
    units = text_width(text)
    tall = look.height_um or round(min(height / 1.5, width * 100 / (units + _ROAD)))
    wide = round(units * tall / 100)
    if wide > width or tall * 3 // 2 > height + 10:
        pen.problem(
            f"{text!r} does not fit on {pen.what} at {tall / 1000:.0f} mm from baseline to top line",
            "does-not-fit",
            "shorten the text, or give the kind a smaller height under 'materials:' in the unit",
        )
        return
    shift = {"left": 0, "centre": (width - wide) // 2, "right": width - wide}.get(look.align)
    if shift is None:
        raise ExpressionError(f"align is left, centre or right, not {look.align!r}")
    at, left, top = 0.0, x + shift + pen.dx_um, y + pen.dy_um
    letters: list[tuple[LetterShape, ToFrame]] = []
    for char in text:
        shape = letter_shape(char)
        if shape:
            letters.append((shape, _placing(left + round(at * tall / 100), top, tall)))
        at += shape.width + 2 * BEARING if shape else SPACE
    for shape, place in letters:
        _letter(pen, shape, place, tall, look)
    for shape, place in letters:  # marks last: the next letter's road would lie over them
        _marks(pen, shape, place, tall, look)


def _placing(left: int, top: int, tall: int) -> ToFrame:
    return lambda point: (left + round(point[0] * tall / 100), top + round(point[1] * tall / 100))


def _letter(pen: Pen, shape: LetterShape, place: ToFrame, tall: int, look: StrokeLook) -> None:
    if look.look == "dotted":
        size = _DOT * tall / 100
        width = round(min(max(size, 450), 900))
        points = [place(p) for p in dots(shape.letter, 2.3 * _DOT)]
        pen.add(_dots(points, width, look.colour, shape.letter))
        above = [place(s.start) for s in shape.strokes if s.legs[0].is_dot]
        if above:  # the dot of i and j is one to write, not one to join with others
            pen.add(_dots(above, 9 * width // 5, look.colour, ""))
    else:
        width = round((_ROAD if look.look == "road" else _PEN) * tall / 100)
        colour = "#d4d4d4" if look.look == "road" else look.colour
        pen.add(Path(_outline(shape, place), None, colour, width, (), shape.letter))
        points = [place(s.start) for s in shape.strokes if s.legs[0].is_dot]
        if points:
            pen.add(_dots(points, width * 5 // 4, colour, shape.letter))


def _marks(pen: Pen, shape: LetterShape, place: ToFrame, tall: int, look: StrokeLook) -> None:
    if look.starts:
        pen.add(_dots([place(s.start) for s in shape.strokes], max(700, round(tall * 0.065)), look.colour, ""))
    if look.arrows:
        for run in arrows(shape.letter):
            _arrow(pen, [place(p) for p in run], tall, look.colour)
    if look.numbers:
        _numbers(pen, shape, place, tall, look.colour)


def _outline(shape: LetterShape, place: ToFrame) -> str:
    commands: list[PathCommand] = []
    for stroke in shape.strokes:
        for index, leg in enumerate(stroke.legs):
            if leg.is_dot:
                continue
            for letter, *values in leg.commands[1 if index else 0 :]:
                pairs = zip(map(float, values[::2]), map(float, values[1::2]), strict=True)
                commands.append((str(letter), *(v for pair in pairs for v in place(pair))))
    return outline_of(commands)


def _dots(points: list[tuple[int, int]], size: int, colour: str, name: str) -> Path:
    # a line of a hundredth of a millimetre with round ends is a dot in every reader; one of no length is not
    outline = " ".join([f"M {x} {y} L {x + 10} {y}" for x, y in points])
    return Path(outline, None, colour, size, (), name)


def _arrow(pen: Pen, run: list[tuple[int, int]], tall: int, colour: str) -> None:
    (x, y), before = run[-1], run[-4]
    angle = math.atan2(y - before[1], x - before[0])
    head = max(900, round(tall * 0.062))
    wings = [(round(x - head * math.cos(angle + s)), round(y - head * math.sin(angle + s))) for s in (0.5, -0.5)]
    shaft = tuple((("L" if i else "M"), *point) for i, point in enumerate(run))
    tip = (("M", *wings[0]), ("L", x, y), ("L", *wings[1]))
    pen.add(Path(outline_of((*shaft, *tip)), None, colour, max(220, round(tall * 0.014))))


def _numbers(pen: Pen, shape: LetterShape, place: ToFrame, tall: int, colour: str) -> None:
    font = pen.workshop.font("Andika")
    size = max(_LEAST_NUMBER_UM, round(tall * _NUMBER / 100))
    for mark in numbers(shape.letter):
        x, y = place((mark.x, mark.y))
        width = font.width_um(mark.text, size)
        pen.add(Text(x - width // 2, y + font.cap_height_um(size) // 2, mark.text, "Andika", size, colour, ReadBy.MARK))
