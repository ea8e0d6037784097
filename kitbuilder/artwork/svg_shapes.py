"""SVG's basic shapes and transform lists as paths and matrices. Source: W3C, SVG 2, chapters 8 and 10."""

from __future__ import annotations

import math
import re
from xml.etree.ElementTree import Element

from kitbuilder.artwork.vector_paths import (
    IDENTITY,
    LARGEST,
    Command,
    Matrix,
    ellipse,
    multiplied,
    parse_path,
    rectangle,
)

# Units in user units (CSS pixels), CSS Values and Units 4, section 6.2
_UNITS = {"": 1.0, "px": 1.0, "pt": 4 / 3, "pc": 16.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96.0}
_NUMBER = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(px|pt|pc|mm|cm|in|%)?")
_CALL = re.compile(r"\s*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^)]*)\)[\s,]*")
NO_SHAPE = ("comment", "view", "cursor")


def number(text: str, whole: float) -> float:
    """Return an SVG length in user units; a percentage is of `whole`.

    Raises:
        ValueError: for anything else, or a number too large.
    """
    found = _NUMBER.fullmatch(text.strip())
    if not found or abs(float(found[1])) > LARGEST:
        raise ValueError(f"{text[:20]!r} is not a length")
    return float(found[1]) * (whole / 100 if found[2] == "%" else _UNITS[found[2] or ""])


def shape_path(tag: str, element: Element, size: tuple[float, float]) -> list[Command]:
    """Return the path of one shape element; empty for an element that draws nothing.

    Raises:
        ValueError: for numbers or path data that cannot be read.
    """

    def value(name: str, along: int, otherwise: str = "0") -> float:
        return number(element.get(name, otherwise), size[along])

    if tag == "path":
        return parse_path(element.get("d", ""))
    if tag == "rect":
        return _rectangle(element, size)
    if tag in ("circle", "ellipse"):
        rx, ry = (value("r", 0), value("r", 0)) if tag == "circle" else (value("rx", 0), value("ry", 1))
        return ellipse(value("cx", 0), value("cy", 1), rx, ry) if min(rx, ry) > 0 else []
    if tag == "line":
        return [("M", value("x1", 0), value("y1", 1)), ("L", value("x2", 0), value("y2", 1))]
    if tag in ("polyline", "polygon"):
        points = element.get("points", "").strip()
        return parse_path(f"M{points}{'z' if tag == 'polygon' else ''}") if points else []
    return []


def _rectangle(element: Element, size: tuple[float, float]) -> list[Command]:
    x, y, width, height = (
        number(element.get(n, "0"), size[i % 2]) for i, n in enumerate(("x", "y", "width", "height"))
    )
    round_x, round_y = element.get("rx", "auto"), element.get("ry", "auto")
    round_x, round_y = (round_y if round_x == "auto" else round_x), (round_x if round_y == "auto" else round_y)
    rx, ry = (0.0 if r == "auto" else number(r, size[i]) for i, r in enumerate((round_x, round_y)))
    return rectangle(x, y, width, height, rx, ry) if min(width, height) > 0 else []


def transform(text: str) -> Matrix:
    """Return the matrix of an SVG transform list.

    Raises:
        ValueError: for a list that cannot be read.
    """
    matrix, at = IDENTITY, 0
    while at < len(text.rstrip()):
        found = _CALL.match(text, at)
        if not found:
            raise ValueError(f"{text[at : at + 20]!r} is not a transform")
        numbers = [number(n, 0) for n in re.split(r"[\s,]+", found[2].strip()) if n]
        matrix = multiplied(matrix, _single(found[1], numbers))
        at = found.end()
    return matrix


def _single(name: str, numbers: list[float]) -> Matrix:
    if name == "matrix" and len(numbers) == 6:
        a, b, c, d, e, f = numbers
        return (a, b, c, d, e, f)
    if name == "translate" and len(numbers) in (1, 2):
        return (1, 0, 0, 1, numbers[0], numbers[1] if len(numbers) == 2 else 0)
    if name == "scale" and len(numbers) in (1, 2):
        return (numbers[0], 0, 0, numbers[-1], 0, 0)
    if name == "rotate" and len(numbers) in (1, 3):
        cos, sin = math.cos(math.radians(numbers[0])), math.sin(math.radians(numbers[0]))
        x, y = numbers[1:] if len(numbers) == 3 else (0.0, 0.0)
        return (cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)
    if name in ("skewX", "skewY") and len(numbers) == 1:
        tan = math.tan(math.radians(numbers[0]))
        return (1, 0, tan, 1, 0, 0) if name == "skewX" else (1, tan, 0, 1, 0, 0)
    raise ValueError(f"{name} with {len(numbers)} numbers")
