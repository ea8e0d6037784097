"""Letters as the strokes of a pen: the project's own print script, in the order and direction of writing.

Units are hundredths of the height from baseline to top line: top line y = 0, midline 50, baseline 100, descender line
150. So small letters are half as high as tall ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path

from kitbuilder.artwork.path_shape import bounds
from kitbuilder.artwork.vector_paths import Command, parse_path

TOP, MIDDLE, BASE, DESCENDER = 0, 50, 100, 150
BEARING = 9.0  # free on each side of a letter
SPACE = 34.0  # between words
_DATA = Path(__file__).parent / "data" / "letter_strokes.txt"
_STEPS = 24  # points along one curve

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Leg:
    """A part of a stroke without a turning back: its direction in words, and its path from where the pen stands."""

    words: str
    commands: tuple[Command, ...]

    @property
    def is_dot(self) -> bool:
        return self.words == "dot"


@dataclass(frozen=True, slots=True)
class Stroke:
    """What is drawn without lifting the pen."""

    legs: tuple[Leg, ...]

    @property
    def start(self) -> Point:
        first = self.legs[0].commands[0]
        return float(first[1]), float(first[2])


@dataclass(frozen=True, slots=True)
class LetterShape:
    """A letter's strokes in the order of writing; its leftmost point is at x = 0, `width` is that of the pen's path."""

    letter: str
    width: float
    strokes: tuple[Stroke, ...]

    @property
    def words(self) -> str:
        """How it is written, in words: legs divided by commas, strokes by semicolons."""
        return "; ".join(", ".join(leg.words for leg in stroke.legs) for stroke in self.strokes)


def letter_shape(letter: str) -> LetterShape | None:
    """Return the strokes of one of a-z, A-Z, 0-9; None for any other character."""
    return letter_shapes().get(letter)


def how_written(letter: str) -> str:
    """Return how a letter and its capital are written, a line each, one line where both are written alike.

    Nothing for what is no single letter.
    """
    small, capital = letter_shape(letter), letter_shape(letter.upper())
    if small is None or capital is None:
        return ""
    if small.words == capital.words:
        return f"{small.letter} and {capital.letter}: {small.words}"
    return f"{small.letter}: {small.words}\n{capital.letter}: {capital.words}"


@cache
def letter_shapes() -> dict[str, LetterShape]:
    """Return all letters, in the order of the data."""
    return parse_letters(_DATA.read_text("utf-8"))


def parse_letters(text: str) -> dict[str, LetterShape]:
    """Return the letters written in `text`, in the form the data file explains; raises ValueError for a slip."""
    shapes: dict[str, LetterShape] = {}
    letter, strokes = "", list[list[Leg]]()
    for line in [*text.splitlines(), "end"]:
        if not line or line.startswith("#"):
            continue
        head, colon, data = line.partition(":")
        if not colon:
            if letter:
                shapes[letter] = _shape(letter, strokes)
            letter, strokes = line.strip(), []
            continue
        number, words = head.split(maxsplit=1)
        if number == "-":
            strokes[-1].append(_leg(words, data, strokes[-1][-1]))
        elif number == str(len(strokes) + 1):
            strokes.append([_leg(words, data, None)])
        else:
            raise ValueError(f"{letter}: stroke {number} follows {len(strokes)}")
    return shapes


def _leg(words: str, data: str, before: Leg | None) -> Leg:
    here = "" if before is None else "M {} {} ".format(*before.commands[-1][-2:])
    return Leg(words, tuple(parse_path(here + data)))


def _shape(letter: str, strokes: list[list[Leg]]) -> LetterShape:
    made = tuple(Stroke(tuple(legs)) for legs in strokes)
    box = bounds([command for stroke in made for leg in stroke.legs for command in leg.commands])
    if box is None or abs(box[0]) > 0.5:
        raise ValueError(f"{letter}: the strokes do not begin at x = 0 ({box})")
    return LetterShape(letter, box[2], made)


def leg_points(leg: Leg, step: float = 2.0) -> tuple[Point, ...]:
    """Return points along the leg, about `step` apart, both ends among them."""
    fine: list[Point] = []
    here = (0.0, 0.0)
    for letter, *values in leg.commands:
        numbers = [float(v) for v in values]
        if letter == "M":
            fine.append((numbers[0], numbers[1]))
        elif letter == "L":
            fine += [_between(here, (numbers[0], numbers[1]), i / _STEPS) for i in range(1, _STEPS + 1)]
        else:
            fine += [_on_curve(here, numbers, i / _STEPS) for i in range(1, _STEPS + 1)]
        here = fine[-1]
    return _evenly(fine, step)


def _between(a: Point, b: Point, t: float) -> Point:
    return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t


def _on_curve(start: Point, v: list[float], t: float) -> Point:
    s = 1 - t
    x, y = (s**3 * p + 3 * s * s * t * v[i] + 3 * s * t * t * v[i + 2] + t**3 * v[i + 4] for i, p in enumerate(start))
    return x, y


def _evenly(fine: list[Point], step: float) -> tuple[Point, ...]:
    far = [0.0]
    for a, b in pairwise(fine):
        far.append(far[-1] + ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5)
    parts = max(1, round(far[-1] / step))
    found, at = [fine[0]], 0
    for i in range(1, parts):
        wanted = far[-1] * i / parts
        while far[at + 1] < wanted:
            at += 1
        gap = far[at + 1] - far[at]
        found.append(_between(fine[at], fine[at + 1], (wanted - far[at]) / gap if gap else 0.0))
    return (*found, fine[-1])


def text_width(text: str) -> float:
    """Return how wide a line of letters is, bearings at both ends left out; characters without strokes are spaces."""
    total = -2 * BEARING
    for char in text:
        shape = letter_shape(char)
        total += shape.width + 2 * BEARING if shape else SPACE
    return max(total, 0.0)
