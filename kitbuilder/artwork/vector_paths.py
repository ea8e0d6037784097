"""Outlines as path commands in floating point: SVG path data and shapes in, straight lines and cubic curves out.

A path is a list of ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y) and ("Z",), all absolute, y down. Source of
the grammar and of the arc formulas: W3C, Scalable Vector Graphics (SVG) 2, chapter 9 and appendix B.2.4.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

Command = tuple[str | float, ...]
Matrix = tuple[float, float, float, float, float, float]  # a b c d e f, as SVG writes them
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
LARGEST = 1e7  # beyond this a number is a slip, and sums stay exact enough

_GAP = re.compile(r"[\s,]*")
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_FLAG = re.compile(r"[01]")
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_CIRCLE = 0.5522847498307936  # (4/3)(sqrt 2 - 1): a cubic quarter circle, wrong by 0.03 % of the radius


def parse_path(data: str) -> list[Command]:
    """Return the commands of SVG path data.

    Raises:
        ValueError: at the first character that is not path data, or for a number out of range.
    """
    out: list[Command] = []
    here = start = reflected = (0.0, 0.0)
    last = ""
    for letter, numbers in _instructions(data):
        kind = letter.upper()
        if not out and kind != "M":
            raise ValueError("a path must begin with M")
        base = here if letter.islower() else (0.0, 0.0)
        if kind == "Z":
            out.append(("Z",))
            here, last = start, kind
            continue
        if out[-1:] == [("Z",)] and kind != "M":
            out.append(("M", *start))
        if kind == "A":
            end = (numbers[5] + base[0], numbers[6] + base[1])
            out.extend(_arc(here, end, numbers[0], numbers[1], numbers[2], numbers[3] != 0, numbers[4] != 0))
        elif kind in "HV":
            end = (numbers[0] + base[0], here[1]) if kind == "H" else (here[0], numbers[0] + base[1])
            out.append(("L", *end))
        else:
            points = [(x + base[0], y + base[1]) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
            if kind in "ST":
                same = last in ("CS" if kind == "S" else "QT")
                points.insert(0, (2 * here[0] - reflected[0], 2 * here[1] - reflected[1]) if same else here)
            end = points[-1]
            reflected = points[-2] if len(points) > 1 else end
            out.append(_drawn(kind, here, points))
        here, last = end, kind
        start = here if kind == "M" else start
    return out


def _drawn(kind: str, here: tuple[float, float], points: list[tuple[float, float]]) -> Command:
    if kind in "ML":
        return (kind, *points[0])
    if kind in "CS":
        return ("C", *points[0], *points[1], *points[2])
    (x0, y0), (x1, y1), (x2, y2) = here, *points
    return ("C", x0 + (x1 - x0) * 2 / 3, y0 + (y1 - y0) * 2 / 3, x2 + (x1 - x2) * 2 / 3, y2 + (y1 - y2) * 2 / 3, x2, y2)


def _instructions(data: str) -> Iterator[tuple[str, tuple[float, ...]]]:
    """Yield each letter with one set of numbers; a letter left out is repeated, M as L."""
    at, letter = _skip(data, 0), ""
    while at < len(data):
        if data[at].upper() in _COUNTS:
            letter, at = data[at], at + 1
        elif not letter or letter in "Zz":
            raise ValueError(f"{data[at : at + 10]!r} is not path data")
        numbers = []
        for i in range(_COUNTS[letter.upper()]):
            at = _skip(data, at)
            found = (_FLAG if letter in "Aa" and i in (3, 4) else _NUMBER).match(data, at)
            if not found or not abs(float(found[0])) <= LARGEST:
                raise ValueError(f"a number is missing or too large at {data[at : at + 10]!r}")
            numbers.append(float(found[0]))
            at = found.end()
        yield letter, tuple(numbers)
        letter = {"M": "L", "m": "l"}.get(letter, letter)
        at = _skip(data, at)


def _skip(data: str, at: int) -> int:
    gap = _GAP.match(data, at)
    return gap.end() if gap else at


def _arc(
    begin: tuple[float, float], end: tuple[float, float], rx: float, ry: float, degrees: float, large: bool, sweep: bool
) -> Iterator[Command]:
    """Yield cubic curves for an elliptical arc, at most a quarter turn each."""
    rx, ry = abs(rx), abs(ry)
    if begin == end:
        return
    if rx == 0 or ry == 0:
        yield ("L", *end)
        return
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    half_x, half_y = (begin[0] - end[0]) / 2, (begin[1] - end[1]) / 2
    x, y = cos * half_x + sin * half_y, cos * half_y - sin * half_x
    grow = math.sqrt(max(1.0, (x / rx) ** 2 + (y / ry) ** 2))
    rx, ry = rx * grow, ry * grow
    rest = (rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2
    root = math.sqrt(max(0.0, rest / ((rx * y) ** 2 + (ry * x) ** 2))) * (-1 if large == sweep else 1)
    cx, cy = root * rx * y / ry, -root * ry * x / rx
    first = math.atan2((y - cy) / ry, (x - cx) / rx)
    turn = math.atan2((-y - cy) / ry, (-x - cx) / rx) - first
    turn += 2 * math.pi if sweep and turn < 0 else -2 * math.pi if not sweep and turn > 0 else 0
    middle = (begin[0] + end[0]) / 2, (begin[1] + end[1]) / 2
    place = (cos * rx, sin * rx, -sin * ry, cos * ry, middle[0] + cos * cx - sin * cy, middle[1] + sin * cx + cos * cy)
    parts = max(1, math.ceil(abs(turn) / (math.pi / 2) - 1e-9))
    for i in range(parts):
        a, b = first + turn * i / parts, first + turn * (i + 1) / parts
        k = 4 / 3 * math.tan((b - a) / 4)
        curve = ("C", math.cos(a) - k * math.sin(a), math.sin(a) + k * math.cos(a),
                 math.cos(b) + k * math.sin(b), math.sin(b) - k * math.cos(b), math.cos(b), math.sin(b))  # fmt: skip
        moved = transformed([curve], place)[0]
        yield (*moved[:5], *end) if i == parts - 1 else moved


def ellipse(cx: float, cy: float, rx: float, ry: float) -> list[Command]:
    """Return a closed ellipse of four curves."""
    kx, ky = rx * _CIRCLE, ry * _CIRCLE
    return [
        ("M", cx + rx, cy),
        ("C", cx + rx, cy + ky, cx + kx, cy + ry, cx, cy + ry),
        ("C", cx - kx, cy + ry, cx - rx, cy + ky, cx - rx, cy),
        ("C", cx - rx, cy - ky, cx - kx, cy - ry, cx, cy - ry),
        ("C", cx + kx, cy - ry, cx + rx, cy - ky, cx + rx, cy),
        ("Z",),
    ]


def rectangle(x: float, y: float, width: float, height: float, rx: float, ry: float) -> list[Command]:
    """Return a closed rectangle, its corners rounded by quarter ellipses when rx and ry are not 0."""
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    right, bottom = x + width, y + height
    if rx <= 0 or ry <= 0:
        return [("M", x, y), ("L", right, y), ("L", right, bottom), ("L", x, bottom), ("Z",)]
    kx, ky = rx * (1 - _CIRCLE), ry * (1 - _CIRCLE)
    return [
        ("M", x + rx, y), ("L", right - rx, y), ("C", right - kx, y, right, y + ky, right, y + ry),
        ("L", right, bottom - ry), ("C", right, bottom - ky, right - kx, bottom, right - rx, bottom),
        ("L", x + rx, bottom), ("C", x + kx, bottom, x, bottom - ky, x, bottom - ry),
        ("L", x, y + ry), ("C", x, y + ky, x + kx, y, x + rx, y), ("Z",),
    ]  # fmt: skip


def transformed(path: list[Command], matrix: Matrix) -> list[Command]:
    """Return the path moved by an SVG matrix."""
    a, b, c, d, e, f = matrix
    out: list[Command] = []
    for letter, *numbers in path:
        pairs = zip(map(float, numbers[::2]), map(float, numbers[1::2]), strict=True)
        out.append((letter, *(v for x, y in pairs for v in (a * x + c * y + e, b * x + d * y + f))))
    return out


def multiplied(outer: Matrix, inner: Matrix) -> Matrix:
    """Return the matrix that applies `inner` first, then `outer`."""
    a, b, c, d, e, f = outer
    g, h, i, j, k, m = inner
    return (a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * m + e, b * k + d * m + f)
