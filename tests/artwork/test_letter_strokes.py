"""Letters as strokes: complete, on their lines, written in the documented directions, and near to Andika's letters."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from string import ascii_letters, ascii_lowercase, digits

import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from kitbuilder.artwork.fonts import font_file
from kitbuilder.artwork.letter_strokes import (
    Leg,
    Point,
    leg_points,
    letter_shape,
    letter_shapes,
    parse_letters,
    text_width,
)

TALL, DEEP, DOTTED = "bdfhkl", "gjpqy", "ij"


def headings(points: tuple[Point, ...]) -> list[float]:
    return [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in pairwise(points)]


def turning(points: tuple[Point, ...]) -> float:
    """Degrees turned with the clock, on paper whose y runs down."""
    return sum((b - a + 180) % 360 - 180 for a, b in pairwise(headings(points)))


def move(points: tuple[Point, ...]) -> Point:
    return points[-1][0] - points[0][0], points[-1][1] - points[0][1]


def leaves(points: tuple[Point, ...], direction: Point) -> bool:
    a, b = points[0], points[min(3, len(points) - 1)]
    return (b[0] - a[0]) * direction[0] + (b[1] - a[1]) * direction[1] > 0


LEFT, UP, DOWN = (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0)


def straight(points: tuple[Point, ...]) -> bool:
    return abs(turning(points)) < 60


MEANS: dict[str, Callable[[tuple[Point, ...]], bool]] = {
    "down": lambda p: straight(p) and move(p)[1] > 4 * abs(move(p)[0]),
    "up": lambda p: straight(p) and -move(p)[1] > 4 * abs(move(p)[0]),
    "across": lambda p: straight(p) and move(p)[0] > 4 * abs(move(p)[1]),
    "slant left": lambda p: straight(p) and move(p)[0] < 0 < move(p)[1],
    "slant right": lambda p: straight(p) and move(p)[0] > 0 < move(p)[1],
    "slant up": lambda p: abs(turning(p)) < 90 and move(p)[0] > 0 > move(p)[1],
    "back round": lambda p: turning(p) < -75 and leaves(p, LEFT),
    "round": lambda p: turning(p) > 90,
    "over": lambda p: turning(p) > 70 and leaves(p, UP),
    "under": lambda p: turning(p) < -120 and leaves(p, DOWN),
    "up round": lambda p: turning(p) < -60 and leaves(p, UP) and move(p)[1] < 0,
    "hook left": lambda p: turning(p) > 45 and leaves(p, DOWN) and move(p)[0] < 0,
    "hook right": lambda p: turning(p) < -45 and leaves(p, DOWN) and move(p)[0] > 0,
    "dot": lambda p: math.dist(p[0], p[-1]) < 1,
}


def test_every_letter_and_numeral_is_there() -> None:
    assert set(letter_shapes()) == set(ascii_letters + digits)


@pytest.mark.parametrize("letter", ascii_letters + digits)
def test_every_leg_runs_in_the_direction_its_words_say(letter: str) -> None:
    shape = letter_shape(letter)
    assert shape is not None
    for stroke in shape.strokes:
        for leg in stroke.legs:
            assert MEANS[leg.words](leg_points(leg, 1.0)), f"{letter}: {leg.words} turns {turning(leg_points(leg)):.0f}"


def test_directions_are_told_apart() -> None:
    leg = Leg("down", (("M", 0.0, 100.0), ("L", 0.0, 0.0)))
    assert not MEANS["down"](leg_points(leg)), "a stroke drawn upwards is noticed"
    backwards = letter_shape("o")
    assert backwards is not None
    assert not MEANS["back round"](tuple(reversed(leg_points(backwards.strokes[0].legs[0])))), "an o with the clock"


@pytest.mark.parametrize("letter", ascii_letters + digits)
def test_a_stroke_begins_above_where_it_ends_or_runs_to_the_right(letter: str) -> None:
    """Top to bottom and left to right: how print script is written (common practice, no source)."""
    shape = letter_shape(letter)
    assert shape is not None
    assert shape.strokes[0].legs[0].words not in ("up", "hook left")
    first = leg_points(shape.strokes[0].legs[0])
    assert first[0][1] < 90, "no letter begins at the baseline"


@pytest.mark.parametrize("letter", ascii_letters + digits)
def test_letters_stand_on_their_lines(letter: str) -> None:
    shape = letter_shape(letter)
    assert shape is not None
    ys = [y for stroke in shape.strokes for leg in stroke.legs if not leg.is_dot for _, y in leg_points(leg, 0.5)]
    small = letter in ascii_lowercase
    # t ends between midline and top line; the tail of Q hangs below the baseline
    top = 0 if not small or letter in TALL else 18 if letter == "t" else 50
    bottom = 150 if small and letter in DEEP else 110 if letter == "Q" else 100
    assert min(ys) == pytest.approx(top, abs=0.6)
    assert max(ys) == pytest.approx(bottom, abs=0.6)


def test_legs_of_a_stroke_join() -> None:
    for shape in letter_shapes().values():
        for stroke in shape.strokes:
            for a, b in pairwise(stroke.legs):
                assert leg_points(a)[-1] == leg_points(b)[0]


def test_how_a_letter_is_written_in_words() -> None:
    shape = letter_shape("t")
    assert shape is not None
    assert shape.words == "down, hook right; across"


def test_a_line_is_as_wide_as_its_letters_and_what_lies_between() -> None:
    assert text_width("l") == 0
    assert text_width("ll") == 18
    assert text_width("") == 0


@pytest.mark.parametrize(
    ("text", "says"),
    [("a\n2 down: M 0 0 L 0 9\n", "follows 0"), ("a\n1 down: M 5 0 L 5 9\n", "x = 0"), ("a\n1 down: M 0 0 X\n", "X")],
)
def test_slips_in_the_data_are_found(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        parse_letters(text)


# --- beside Andika (SIL International, OFL): its letters brought to our lines and widths, in hundredths of our height


def between(a: Point, b: Point, t: float) -> Point:
    return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t


def contours(font: TTFont, letter: str) -> list[list[Point]]:
    pen = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[font.getBestCmap()[ord(letter)]].draw(pen)
    found: list[list[Point]] = []
    for name, points in pen.value:
        if name == "moveTo":
            found.append([points[0]])
        elif name == "lineTo":
            found[-1].append(points[0])
        elif name == "qCurveTo":
            controls, last = points[:-1], points[-1]
            for i, c in enumerate(controls):
                end = last if i == len(controls) - 1 else between(c, controls[i + 1], 0.5)
                start = found[-1][-1]
                for t in (0.25, 0.5, 0.75, 1.0):
                    found[-1].append(between(between(start, c, t), between(c, end, t), t))
    return found


def brought_to_our_lines(letter: str, width: float, font: TTFont) -> list[list[Point]]:
    """The outline, scaled: the middle of its pen (140 units wide) on our lines and at our left and right ends."""
    outline, pen = contours(font, letter), 140 / 2
    xs = [x for part in outline for x, _ in part]
    left, right = min(xs) + pen, max(xs) - pen
    if letter in ascii_lowercase:  # descender, baseline, midline, top line of Andika's small letters
        levels = [(-490 + pen, 150.0), (pen - 25, 100.0), (1020 - pen, 50.0), (1600 - pen, 0.0)]
    else:
        levels = [(pen, 100.0), (1460 - pen, 0.0)]

    def level(y: float) -> float:
        pairs = list(pairwise(levels))
        (a, u), (b, v) = next((p for p in pairs if y <= p[1][0]), pairs[-1])
        return u + (y - a) * (v - u) / (b - a)

    def across(x: float) -> float:
        return (x - left) * width / (right - left) if width else (x - (min(xs) + max(xs)) / 2) * 0.05

    return [[(across(x), level(y)) for x, y in part] for part in outline]


def distance(point: Point, outline: list[list[Point]]) -> float:
    """How far a point lies from the ink: 0 inside."""
    winding, nearest = 0, math.inf
    x, y = point
    for part in outline:
        for (ax, ay), (bx, by) in zip(part, part[1:] + part[:1], strict=True):
            if (ay <= y) != (by <= y) and ax + (y - ay) * (bx - ax) / (by - ay) > x:
                winding += 1 if by > ay else -1
            length = (bx - ax) ** 2 + (by - ay) ** 2
            t = max(0.0, min(1.0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length)) if length else 0.0
            nearest = min(nearest, math.dist(point, (ax + t * (bx - ax), ay + t * (by - ay))))
    return 0.0 if winding else nearest


def andika_beside_ours() -> dict[str, tuple[list[float], list[float]]]:
    """For each letter: how far our strokes lie from its ink, and how far its outline lies from our strokes."""
    font = TTFont(font_file("Andika"))
    found = {}
    for letter, shape in letter_shapes().items():
        outline = brought_to_our_lines(letter, shape.width, font)
        legs = [leg for stroke in shape.strokes for leg in stroke.legs]
        points = [p for leg in legs if not leg.is_dot for p in leg_points(leg, 2.0)]
        everything = [*points, *(p for leg in legs if leg.is_dot for p in leg_points(leg))]
        edges = [min(math.dist(p, q) for q in everything) for part in outline for p in part]
        found[letter] = [distance(p, outline) for p in points], edges
    return found


def test_strokes_lie_in_the_ink_of_andikas_letters_and_leave_none_out() -> None:
    """Hundredths of the height from baseline to top line; the printed pen is 6 of them wide, Andika's is 7 to 10."""
    found = andika_beside_ours()
    ours = [d for strokes, _ in found.values() for d in strokes]
    assert sum(d == 0 for d in ours) / len(ours) > 0.96, "96 points in 100 inside the ink"
    assert sum(ours) / len(ours) < 0.03
    assert max(ours) < 4.5
    assert max(max(edges) for _, edges in found.values()) < 19, "no part of a letter is left out"
