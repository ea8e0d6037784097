"""Where a letter's help marks go: dots along its strokes, an arrow for each leg, a number for each stroke.

All in the units of `artwork.letter_strokes`, before scaling.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import repeat

from kitbuilder.artwork.letter_strokes import BASE, MIDDLE, TOP, LetterShape, Point, leg_points, letter_shape

NUMBER_AWAY = 12.5  # from a stroke's start to the middle of its number
_ARROW = 24.0  # longest arrow
_CLEAR = 6.0  # nearer to another leg an arrow would point along both


@dataclass(frozen=True, slots=True)
class Mark:
    """The number of a stroke and the middle of its place."""

    text: str
    x: float
    y: float


@lru_cache(maxsize=512)
def dots(letter: str, spacing: float) -> tuple[Point, ...]:
    """Return points along the strokes, about `spacing` apart; where a stroke goes back over itself, only once."""
    found: list[Point] = []
    for stroke in _shape(letter).strokes:
        for leg in stroke.legs:
            for x, y in leg_points(leg, spacing):
                if all(math.dist((x, y), other) > 0.62 * spacing for other in found):
                    found.append((x, y))
    return tuple(found)


@lru_cache(maxsize=128)
def arrows(letter: str) -> tuple[tuple[Point, ...], ...]:
    """Return a run of points for each leg that has room for an arrow, in the direction of writing.

    The first leg of a stroke always has one, long enough for it or not beside others: p would else begin with its bowl.
    """
    strokes = [[leg for leg in stroke.legs if not leg.is_dot] for stroke in _shape(letter).strokes]
    legs = [leg for stroke in strokes for leg in stroke]
    begins = {id(stroke[0]) for stroke in strokes if stroke}
    points = [leg_points(leg, 1.0) for leg in legs]
    found = []
    for index, own in enumerate(points):
        others = [p for at, leg in enumerate(points) if at != index for p in leg]
        half = round(min(_ARROW, 0.6 * len(own)) / 2)
        places = range(half, len(own) - half)
        wanted = 0.3 * len(own)  # soon after the start, where a child looks for it
        best = max(places, key=lambda at: _room(own[at], others) - abs(at - wanted) / 20, default=None)
        clear = best is not None and _room(own[best], others) >= _CLEAR
        if best is not None and half >= 4 and (clear or id(legs[index]) in begins):
            found.append(own[best - half : best + half + 1])
    return tuple(found)


@lru_cache(maxsize=128)
def numbers(letter: str) -> tuple[Mark, ...]:
    """Return the numbers of the strokes, each beside its start where the letter leaves most room."""
    shape = _shape(letter)
    ink = [p for stroke in shape.strokes for leg in stroke.legs for p in leg_points(leg, 2.0)]
    found: list[Mark] = []
    for index, stroke in enumerate(shape.strokes):
        taken = [(mark.x, mark.y) for mark in found]
        places = [_beside(stroke.start, turn) for turn in range(24)]
        # a number keeps more away from other numbers than from strokes; left of the start when all else is equal
        best = max(places, key=lambda p: _worth(p, ink, taken))
        found.append(Mark(str(index + 1), *best))
    return tuple(found)


def _worth(place: Point, ink: Sequence[Point], taken: Sequence[Point]) -> float:
    on_a_rule = max(6 - abs(place[1] - level) for level in (TOP, MIDDLE, BASE))
    room = min(_room(place, ink), 0.75 * _room(place, taken), NUMBER_AWAY)
    return room - 0.02 * place[0] + 0.01 * place[1] - 0.3 * max(on_a_rule, 0)


def _beside(start: Point, turn: int) -> Point:
    angle = math.radians(turn * 15)
    return start[0] + NUMBER_AWAY * math.cos(angle), start[1] + NUMBER_AWAY * math.sin(angle)


def _room(place: Point, others: Sequence[Point]) -> float:
    return min(map(math.dist, repeat(place), others), default=40.0)


def _shape(letter: str) -> LetterShape:
    shape = letter_shape(letter)
    if shape is None:
        raise ValueError(f"{letter!r} has no strokes")
    return shape
