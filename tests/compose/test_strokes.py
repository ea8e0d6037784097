"""Letters drawn as strokes in a box: to scale, on the rules, with their help marks."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import combinations
from string import ascii_letters, digits

import pytest

from kitbuilder.artwork.frame import Frame, Line, Path, ReadBy, Text
from kitbuilder.artwork.letter_strokes import leg_points, letter_shape
from kitbuilder.artwork.outlines import commands_of
from kitbuilder.compose.pen import Workshop
from kitbuilder.compose.ruling import ruling_mm
from kitbuilder.compose.stroke_marks import arrows, dots, numbers
from kitbuilder.diagnostics import ProblemsFound

Draw = Callable[..., Frame]
FACE = "draw:\n  - strokes: {}\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n    rule-height: 20 mm\n"


def test_letters_stand_on_the_rules_of_the_same_height(draw: Draw) -> None:
    rules = draw("draw:\n  - rules: [5 mm, 5 mm, 50 mm, 30 mm]\n    rule-height: 20 mm\n")
    top, middle, base, descender = (i.y1_um for i in rules.items if isinstance(i, Line))
    for letter, highest, lowest in (("l", top, base), ("x", middle, base), ("p", middle, descender)):
        (path,) = draw(FACE.format(letter)).items
        assert isinstance(path, Path)
        ys = [int(v) for command in commands_of(path.outline) for v in command[2::2]]
        assert (min(ys), max(ys)) == (highest, lowest)


def test_small_letters_are_half_as_high_as_tall_ones_and_descenders_hang_as_far() -> None:
    """The stated ratio: 1 to 2, with descender room half of the height."""
    tall, small, deep = (
        [y for s in letter_shape(c).strokes for leg in s.legs for _, y in leg_points(leg)]
        for c in "lxp"  # type: ignore[union-attr]
    )
    assert (max(small) - min(small)) * 2 == max(tall) - min(tall)
    assert (max(deep) - max(tall)) * 2 == max(tall) - min(tall)


@pytest.mark.parametrize(("age", "least", "most"), [(4, 20, 25), (5, 16, 16), (6, 12, 12), (8, 9, 10), (None, 16, 16)])
def test_ruling_follows_the_childs_age(age: int | None, least: float, most: float) -> None:
    """Baseline to top line (common practice, no source)."""
    assert least <= ruling_mm(age) <= most


def test_a_model_is_one_path_and_help_marks_come_on_request(draw: Draw) -> None:
    assert [type(i) for i in draw(FACE.format("d")).items] == [Path]
    items = draw(FACE.format("t") + "    look: road\n    starts: yes\n    numbers: yes\n    arrows: yes\n").items
    marks = [i for i in items if isinstance(i, Text)]
    assert [m.text for m in marks] == ["1", "2"]
    assert all(m.read_by is ReadBy.MARK for m in marks)


def test_a_line_of_letters_is_aligned_and_too_long_a_line_is_a_problem(draw: Draw, workshop: Workshop) -> None:
    (path,) = draw(FACE.format("l") + "    align: right\n").items
    assert isinstance(path, Path)
    assert commands_of(path.outline)[0][1] == 55_000
    assert draw(FACE.format("mmmmmmm")).items == ()
    assert [p.code for p in workshop.log.problems] == ["does-not-fit"]
    with pytest.raises(ProblemsFound, match="solid, road, dotted"):
        draw(FACE.format("a") + "    look: sketchy\n")


def test_letters_fill_the_box_when_no_height_is_asked_for(draw: Draw) -> None:
    (path,) = draw("draw:\n  - strokes: l\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n").items
    assert isinstance(path, Path)
    assert [int(c[2]) for c in commands_of(path.outline)] == [5_000, 25_000]


@pytest.mark.parametrize("letter", ascii_letters + digits)
def test_help_marks_of_every_letter(letter: str) -> None:
    """Every stroke has a number, no two on the same place; arrows point as the pen goes; no dot is drawn twice."""
    shape = letter_shape(letter)
    assert shape is not None
    marks = numbers(letter)
    assert [m.text for m in marks] == [str(i + 1) for i in range(len(shape.strokes))]
    assert all(math.dist((a.x, a.y), (b.x, b.y)) > 8 for a, b in combinations(marks, 2))
    assert arrows(letter), "at least one leg has an arrow"
    paths = [leg_points(leg, 1.0) for stroke in shape.strokes for leg in stroke.legs]
    for run in arrows(letter):
        leg = next(p for p in paths if run[0] in p and run[-1] in p and p.index(run[0]) < p.index(run[-1]))
        assert set(run) <= set(leg)
    assert min(math.dist(a, b) for a, b in combinations(dots(letter, 10), 2)) > 6


@pytest.mark.parametrize("letter", "abdghmnopqrtuABDEPR")
def test_the_first_leg_of_every_stroke_has_an_arrow(letter: str) -> None:
    """Without it p would seem to begin with its bowl; a dot needs none."""
    shape = letter_shape(letter)
    assert shape is not None
    begun = [stroke.legs[0] for stroke in shape.strokes if not stroke.legs[0].is_dot]
    runs = [set(run) for run in arrows(letter)]
    for leg in begun:
        points = set(leg_points(leg, 1.0))
        assert any(run <= points for run in runs), letter
