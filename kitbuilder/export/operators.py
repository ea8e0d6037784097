"""A frame as PDF drawing operators, in the frame's own coordinates: whole micrometres, y down.

The page's matrix turns micrometres into points and flips once; a placed frame adds its own whole-numbered matrix.
So every coordinate is printed exactly, and a frame's operators are the same bytes wherever it lies and whatever else
is in the file: names of fonts and bitmaps come from their own names, characters are coded by Unicode number, and every
frame sets its own colours and widths.
"""

from __future__ import annotations

import re
from collections import OrderedDict
from functools import lru_cache

from kitbuilder.artwork.frame import Bitmap, Box, Frame, Group, Line, Path, Text
from kitbuilder.export.placing import turning_matrix

REMEMBERED_FRAMES = 64  # a back that is the same for a whole set repeats at once; more would keep old sheets alive
CIRCLE = 0.5522847498  # control point of a quarter circle: 4/3 (sqrt 2 - 1)
DEEPEST_GROUP = 16
_BUTT, _ROUND = "0 J 0 j", "1 J 1 j"


@lru_cache(maxsize=256)
def font_resource(name: str) -> str:
    """Return the resource name of a font: its own name, with everything that PDF names cannot hold written as hex."""
    return "F_" + "".join(c if c.isascii() and (c.isalnum() or c in "-_") else f"_{ord(c):x}_" for c in name)


def bitmap_resource(digest: str) -> str:
    """Return the resource name of a bitmap with this digest."""
    return f"I{digest[:24]}"


def character_code(character: str) -> int:
    """Return the two-byte code of a character: its Unicode number, or for those above U+FFFF a number that means none.

    Readers copy text out right only when codes are two bytes long. Characters of one script lie close together, so two
    characters with the same code (a multiple of 2,048 apart) hardly meet in one file; `embedded_font` refuses them.
    """
    number = ord(character)
    return number if number <= 0xFFFF else 0xD800 + number % 0x800  # D800..DFFF: no character has these numbers


def text_code(text: str) -> str:
    """Return the codes of a text's characters, four hex digits each."""
    units = text.encode("utf-16-be", "surrogatepass")
    if len(units) == 2 * len(text):  # nearly always: no character above U+FFFF
        return units.hex()
    return "".join([f"{character_code(c):04x}" for c in text])


class OperatorWriter:
    """Turns frames into operators and remembers what they used.

    `characters` maps a font's name to the characters drawn with it; `bitmaps` maps digests to formats.
    """

    def __init__(self) -> None:
        self.characters: dict[str, set[str]] = {}
        self.bitmaps: dict[str, str] = {}
        self._remembered: OrderedDict[int, tuple[Frame, str]] = OrderedDict()

    def operators(self, frame: Frame) -> str:
        """Return the frame's operators, the same text for an equal frame at any time."""
        known = self._remembered.get(id(frame))
        if known is not None:  # the entry holds the frame, so its id cannot have been given to another one
            self._remembered.move_to_end(id(frame))
            return known[1]
        made = self._draw(frame, 0)
        self._remembered[id(frame)] = (frame, made)
        if len(self._remembered) > REMEMBERED_FRAMES:
            self._remembered.popitem(last=False)
        return made

    def placed(self, frame: Frame, x_um: int, y_um: int, quarter_turns: int) -> str:
        """Return the operators of a frame moved and turned, with the graphics state put back behind it."""
        matrix = turning_matrix(x_um, y_um, frame.width_um, frame.height_um, quarter_turns)
        return _wrapped(matrix, self.operators(frame))

    def _draw(self, frame: Frame, depth: int) -> str:
        if depth > DEEPEST_GROUP:
            raise ValueError(f"frame {frame.name!r}: frames lie in one another more than {DEEPEST_GROUP} deep")
        out: list[str] = []
        pen = _Pen(out)
        for item in frame.items:
            if isinstance(item, Text):
                self._text(item, pen)
            elif isinstance(item, Path):
                _path(item, pen)
            elif isinstance(item, Line):
                _line(item, pen)
            elif isinstance(item, Box):
                _box(item, pen)
            elif isinstance(item, Group):
                inner = item.frame
                matrix = turning_matrix(item.x_um, item.y_um, inner.width_um, inner.height_um, item.quarter_turns)
                out.append(_wrapped(matrix, self._draw(inner, depth + 1)))
            else:
                self._bitmap(item, out)
        return "\n".join(out)

    def _text(self, item: Text, pen: _Pen) -> None:
        if not item.text:
            return
        characters = self.characters.get(item.font)
        if characters is None:
            characters = self.characters[item.font] = set()
        characters.update(item.text)
        pen.fill(item.colour)
        pen.font(item.font, item.size_um)
        code = text_code(item.text)
        pen.out.append(f"BT 1 0 0 -1 {item.x_um} {item.y_um} Tm <{code}> Tj ET")  # -1: letters stand upright again

    def _bitmap(self, item: Bitmap, out: list[str]) -> None:
        self.bitmaps[item.digest] = item.format
        foot = item.y_um + item.height_um
        name = bitmap_resource(item.digest)
        out.append(f"q {item.width_um} 0 0 {-item.height_um} {item.x_um} {foot} cm /{name} Do Q")


class _Pen:
    """Knows the graphics state set so far in one frame, so that nothing is set twice; at first it knows nothing."""

    def __init__(self, out: list[str]) -> None:
        self.out = out
        self._fill = self._stroke = self._ends = ""
        self._width = -1
        self._dash: tuple[int, ...] | None = None
        self._font: tuple[str, int] | None = None

    def fill(self, colour: str) -> None:
        if colour != self._fill:
            self._fill = colour
            self.out.append(colour_numbers(colour) + (" rg" if " " in colour_numbers(colour) else " g"))

    def stroke(self, colour: str, width_um: int, dash: tuple[int, ...], ends: str) -> None:
        if colour != self._stroke:
            self._stroke = colour
            self.out.append(colour_numbers(colour) + (" RG" if " " in colour_numbers(colour) else " G"))
        if width_um != self._width:
            self._width = width_um
            self.out.append(f"{width_um} w")
        if dash != self._dash:
            self._dash = dash
            self.out.append(f"[{' '.join(map(str, dash))}] 0 d")
        if ends != self._ends:
            self._ends = ends
            self.out.append(ends)

    def font(self, name: str, size_um: int) -> None:
        if (name, size_um) != self._font:
            self._font = (name, size_um)
            self.out.append(f"/{font_resource(name)} {size_um} Tf")


@lru_cache(maxsize=1024)
def colour_numbers(colour: str) -> str:
    """Return one number 0..1 for a grey, three for another colour.

    Raises:
        ValueError: when the colour is not `#rrggbb`.
    """
    if len(colour) != 7 or colour[0] != "#":
        raise ValueError(f"{colour!r} is not a colour; write it as #rrggbb")
    parts = [f"{int(colour[i : i + 2], 16) / 255:.4f}".rstrip("0").rstrip(".") for i in (1, 3, 5)]
    return parts[0] if parts[0] == parts[1] == parts[2] else " ".join(parts)


def _wrapped(matrix: tuple[int, ...], operators: str) -> str:
    return f"q {' '.join(map(str, matrix))} cm\n{operators}\nQ"


def _line(item: Line, pen: _Pen) -> None:
    if item.width_um > 0:  # in PDF a width of 0 is the printer's thinnest line, which nobody asked for
        pen.stroke(item.colour, item.width_um, item.dash, _BUTT)
        pen.out.append(f"{item.x1_um} {item.y1_um} m {item.x2_um} {item.y2_um} l S")


def _box(item: Box, pen: _Pen) -> None:
    paint = _paint(item.fill, item.stroke, item.stroke_um, item.dash, _BUTT, pen)
    if not paint:
        return
    if item.radius_um > 0:
        pen.out.append(f"{_round_box(item)} {paint}")
    else:
        pen.out.append(f"{item.x_um} {item.y_um} {item.width_um} {item.height_um} re {paint}")


def _round_box(item: Box) -> str:
    r = min(item.radius_um, item.width_um // 2, item.height_um // 2)
    k = r - round(r * CIRCLE)
    x, y, right, foot = item.x_um, item.y_um, item.x_um + item.width_um, item.y_um + item.height_um
    return (
        f"{x + r} {y} m {right - r} {y} l {right - k} {y} {right} {y + k} {right} {y + r} c "
        f"{right} {foot - r} l {right} {foot - k} {right - k} {foot} {right - r} {foot} c "
        f"{x + r} {foot} l {x + k} {foot} {x} {foot - k} {x} {foot - r} c "
        f"{x} {y + r} l {x} {y + k} {x + k} {y} {x + r} {y} c h"
    )


_LETTER = re.compile(r" ?([MLCZ]) ?")
_STEPS = {"M": " m", "L": " l", "C": " c", "Z": "h"}


def _path(item: Path, pen: _Pen) -> None:
    paint = _paint(item.fill, item.stroke, item.stroke_um, item.dash, _ROUND, pen)
    if paint and item.outline:
        _, *parts = _LETTER.split(item.outline)  # a letter, its numbers, a letter, ...: in PDF numbers come first
        steps = [numbers + _STEPS[letter] for letter, numbers in zip(parts[::2], parts[1::2], strict=True)]
        pen.out.append(f"{' '.join(steps)} {paint}")


def _paint(fill: str | None, stroke: str | None, stroke_um: int, dash: tuple[int, ...], ends: str, pen: _Pen) -> str:
    """Return the painting operator, having set what it needs; empty when nothing is to be painted."""
    stroked = stroke is not None and stroke_um > 0
    if fill is not None:
        pen.fill(fill)
    if stroke is not None and stroked:
        pen.stroke(stroke, stroke_um, dash, ends)
    if fill is not None:
        return "B" if stroked else "f"
    return "S" if stroked else ""
