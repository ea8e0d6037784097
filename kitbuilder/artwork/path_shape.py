"""What a path covers: its bounding box, and the same picture under the nonzero rule when it was meant even-odd."""

from __future__ import annotations

import math
from collections.abc import Iterator

from kitbuilder.artwork.vector_paths import Command

Point = tuple[float, float]


def bounds(path: list[Command]) -> tuple[float, float, float, float] | None:
    """Return left, top, right, bottom of the drawn path (not of its control points); None when nothing is drawn."""
    points: list[Point] = []
    here = (0.0, 0.0)
    for letter, *numbers in path:
        values = [float(n) for n in numbers]
        if letter == "C":
            xs = _reach(here[0], *values[0::2])
            ys = _reach(here[1], *values[1::2])
            points += [here, (min(xs), min(ys)), (max(xs), max(ys))]
        elif letter == "L":
            points += [here, (values[0], values[1])]
        here = (values[-2], values[-1]) if values else here
    if not points:
        return None
    return (
        min(x for x, _ in points),
        min(y for _, y in points),
        max(x for x, _ in points),
        max(y for _, y in points),
    )


def _reach(p0: float, p1: float, p2: float, p3: float) -> list[float]:
    """Return the ends of one coordinate of a cubic curve and its values where it turns."""
    a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0
    if abs(a) < 1e-12:
        turns = [-c / b] if abs(b) > 1e-12 else []
    else:
        root = b * b - 4 * a * c
        turns = [(-b + s * math.sqrt(root)) / (2 * a) for s in (1, -1)] if root >= 0 else []
    return [p0, p3, *(_at(t, p0, p1, p2, p3) for t in turns if 0 < t < 1)]


def _at(t: float, p0: float, p1: float, p2: float, p3: float) -> float:
    u = 1 - t
    return u * u * u * p0 + 3 * u * u * t * p1 + 3 * u * t * t * p2 + t * t * t * p3


def contours(path: list[Command]) -> Iterator[list[Command]]:
    """Yield the path's contours, each beginning with its M."""
    contour: list[Command] = []
    for command in path:
        if command[0] == "M" and contour:
            yield contour
            contour = []
        contour.append(command)
    if contour:
        yield contour


def nonzero_from_even_odd(path: list[Command]) -> list[Command]:
    """Return the path with its contours turned so that the nonzero rule fills what the even-odd rule filled.

    Exact where contours do not cross each other or themselves, as in letters and holes; elsewhere an overlap of two
    contours comes out filled.
    """
    parts = [c for c in contours(path) if len(c) > 1]
    polygons = [_polygon(c) for c in parts]
    out: list[Command] = []
    for i, (contour, polygon) in enumerate(zip(parts, polygons, strict=True)):
        depth = sum(_inside(polygon[0], other) for j, other in enumerate(polygons) if j != i)
        wanted = 1 if depth % 2 == 0 else -1
        out += contour if _area(polygon) * wanted >= 0 else _backwards(contour)
    return out


def _polygon(contour: list[Command], steps: int = 8) -> list[Point]:
    points: list[Point] = []
    for letter, *numbers in contour:
        values = [float(n) for n in numbers]
        if letter == "C":
            x0, y0 = points[-1]
            times = [step / steps for step in range(1, steps + 1)]
            points.extend((_at(t, x0, *values[0::2]), _at(t, y0, *values[1::2])) for t in times)
        elif values:
            points.append((values[0], values[1]))
    return points


def _area(polygon: list[Point]) -> float:
    pairs = zip(polygon, polygon[1:] + polygon[:1], strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) / 2


def _inside(point: Point, polygon: list[Point]) -> bool:
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def _backwards(contour: list[Command]) -> list[Command]:
    ends = [(float(c[-2]), float(c[-1])) for c in contour if len(c) > 1]
    out: list[Command] = [("M", *ends[-1])]
    drawn = [c for c in contour[1:] if len(c) > 1]
    for command, before in zip(reversed(drawn), reversed(ends[:-1]), strict=True):
        out.append(("C", *command[3:5], *command[1:3], *before) if command[0] == "C" else ("L", *before))
    if contour[-1][0] == "Z":
        out.append(("Z",))
    return out
