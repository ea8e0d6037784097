"""Shipped pictures by name, as outlines: one colour, no font needed to draw them.

The names are Unicode's, in lower case, without colour or tone; a list of everyday words stands beside them. Reading a
name takes the two lists; the outlines are unpacked when the first picture is drawn, and read one by one.
"""

from __future__ import annotations

import gzip
import re
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from kitbuilder.artwork.frame import Path
from kitbuilder.artwork.outlines import PathCommand, outline_of
from kitbuilder.artwork.shipped import shipped
from kitbuilder.remembering import remembered

BLACK, WHITE = "#000000", "#ffffff"
_COLOURS = frozenset(
    ("black", "white", "red", "green", "blue", "orange", "yellow", "purple", "brown", "pink", "grey", "gray")
)
_TOKEN = re.compile(r"[mlqz]|-?\d+")


class PictureProblem(Exception):
    """A picture the user asked for cannot be used. `message` says what was found, `hint` what to do."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Layer:
    """One outline of a picture, black, or white to hide what lies behind it.

    `fill`: filled by the nonzero rule. `stroke_width`: when not 0, also drawn as a line that wide along the outline,
    with round joins and caps. Commands are absolute; a closed contour ends in ("Z",).
    """

    commands: tuple[PathCommand, ...]
    fill: bool = True
    stroke_width: int = 0
    white: bool = False


@dataclass(frozen=True, slots=True)
class PictureOutline:
    """A picture in whole units of its own, from the upper left corner of its box, y down; layers back to front.

    The box holds all ink: 0 <= x <= width and 0 <= y <= height for every point that is drawn. (Control points of
    curves may lie outside.) Shipped pictures have one filled black layer and about 2,048 units to their em.
    """

    name: str
    width: int
    height: int
    layers: tuple[Layer, ...]


def find_picture(name: str) -> PictureOutline | None:
    """Return the shipped picture called `name`, or None; capitals, hyphens and colour words do not count."""
    found = _index().get(_key(name)) or _index().get(_without_colour(_key(name)))
    return _outline(found) if found else None


def picture_names() -> tuple[str, ...]:
    """Return the names of all shipped pictures, in alphabetical order, without the everyday words."""
    return tuple(_codes())


def everyday_words() -> tuple[tuple[str, str], ...]:
    """Return the everyday words in alphabetical order, each with the name of its picture."""
    return tuple(_table("aliases.txt").items())


@cache
def unclear_words() -> frozenset[str]:
    """Return words whose picture has another name as well: it alone does not tell a child which word is meant."""
    text = (shipped("fonts") / "pictures" / "unclear.txt").read_text(encoding="utf-8")
    return frozenset(line for line in text.splitlines() if line and not line.startswith("#"))


def nearest_names(name: str, n: int = 3) -> tuple[str, ...]:
    """Return up to `n` names or everyday words like `name`: those with that word in them, then those spelled alike."""
    key = _key(name)
    spelled = {_key(each): each for each in (*_codes(), *_table("aliases.txt"))}
    same_word = sorted((each for each in spelled if key in each.split()), key=lambda each: (len(each), each))
    alike = get_close_matches(key, sorted(spelled), n=n, cutoff=0.7)
    return tuple(dict.fromkeys(spelled[each] for each in (*same_word, *alike)))[:n]


def placed(picture: PictureOutline, x_um: int, y_um: int, width_um: int, height_um: int) -> tuple[Path, ...]:
    """Return the picture as frame items, in its own proportions, as large as fits the rectangle, in its middle."""
    if width_um * picture.height <= height_um * picture.width:
        times, parts = width_um, picture.width
    else:
        times, parts = height_um, picture.height
    left = x_um + (width_um - picture.width * times // parts) // 2
    top = y_um + (height_um - picture.height * times // parts) // 2

    paths = []
    for layer in picture.layers:
        colour = WHITE if layer.white else BLACK
        width = max(1, layer.stroke_width * times // parts) if layer.stroke_width else 0
        outline = _moved(layer.commands, left, top, times, parts)
        paths.append(Path(outline, colour if layer.fill else None, colour if width else None, width, name=picture.name))
    return tuple(paths)


def _moved(commands: tuple[PathCommand, ...], left: int, top: int, times: int, parts: int) -> str:
    """Return the outline scaled by times / parts, rounded to the nearest whole number, and moved."""
    ways = _Scaled(left, times, parts), _Scaled(top, times, parts)
    return outline_of([(letter, *[ways[i % 2][v] for i, v in enumerate(values)]) for letter, *values in commands])


class _Scaled(dict[str | int, int]):
    """Coordinates along one axis, each worked out once: outlines repeat theirs."""

    def __init__(self, start: int, times: int, parts: int) -> None:
        super().__init__()
        self._start, self._twice, self._parts = start, 2 * times, parts

    def __missing__(self, value: str | int) -> int:
        self[value] = moved = self._start + (int(value) * self._twice + self._parts) // (2 * self._parts)
        return moved


def _key(name: str) -> str:
    return " ".join(re.sub(r"[-_]", " ", re.sub(r"['’]", "", name.lower())).split())


def _without_colour(key: str) -> str:
    return " ".join(word for word in key.split() if word not in _COLOURS)


@remembered()
def _table(file_name: str) -> dict[str, str]:
    text = (shipped("fonts") / "pictures" / file_name).read_text(encoding="utf-8")
    rows = (line.split("\t") for line in text.splitlines() if line and not line.startswith("#"))
    return {row[0]: row[1] for row in rows}


def _codes() -> dict[str, str]:
    return _table("names.txt")


@remembered()
def _index() -> dict[str, str]:
    """Return every way to ask for a picture, as a key, with the picture's name."""
    keys = {_key(word): name for word, name in _table("aliases.txt").items()}
    return keys | {_key(name): name for name in _codes()}


@remembered()
def _outlines() -> dict[str, str]:
    packed = (shipped("fonts") / "pictures" / "outlines.txt.gz").read_bytes()
    lines = gzip.decompress(packed).decode("ascii").splitlines()
    return {codes: rest for codes, _, rest in (line.partition("\t") for line in lines)}


@remembered()
def _outline(name: str) -> PictureOutline:
    width, height, path = _outlines()[_codes()[name]].split("\t")
    return PictureOutline(name, int(width), int(height), (Layer(_commands(path)),))


def _commands(path: str) -> tuple[PathCommand, ...]:
    """Return absolute cubic commands for TrueType path data (see build_pictures.py for how it is written)."""
    commands: list[PathCommand] = []
    numbers: list[int] = []
    letter, here, start = "", (0, 0), (0, 0)
    for token in (*_TOKEN.findall(path), "m"):
        if token not in "mlqz":
            numbers.append(int(token))
            continue
        points, before = [], here
        for dx, dy in zip(numbers[::2], numbers[1::2], strict=True):
            here = (here[0] + dx, here[1] + dy)
            points.append(here)
        if letter == "q":
            commands.extend(_cubics(before, points))
        elif letter == "z":
            commands.append(("Z",))
            here = start
        elif letter:
            start = here if letter == "m" else start
            commands.append((letter.upper(), *here))
        letter, numbers = token, []
    return tuple(commands)


def _cubics(begin: tuple[int, int], points: list[tuple[int, int]]) -> list[PathCommand]:
    """Return quadratic curves as cubic ones: same curve, control points two thirds of the way to the quadratic's."""
    (x0, y0), controls, end = begin, points[:-1], points[-1]
    curves: list[PathCommand] = []
    for i, (x1, y1) in enumerate(controls):
        last = i == len(controls) - 1
        x2, y2 = end if last else ((x1 + controls[i + 1][0]) // 2, (y1 + controls[i + 1][1]) // 2)
        curves.append(("C", *(_third(v) for v in (x0 + 2 * x1, y0 + 2 * y1, x2 + 2 * x1, y2 + 2 * y1)), x2, y2))
        x0, y0 = x2, y2
    return curves


def _third(value: int) -> int:
    return (2 * value + 3) // 6
