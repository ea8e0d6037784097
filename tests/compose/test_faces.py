"""Faces become frames: positions to the micrometre, text fitted, everything else a problem where it was asked for."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from kitbuilder.artwork.frame import Box, Frame, Group, Line, Path, ReadBy, Text
from kitbuilder.artwork.outlines import commands_of
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.pen import Workshop
from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.measure.geometry import turn_point

Draw = Callable[..., Frame]


def test_a_rectangle_lies_where_the_face_says(draw: Draw) -> None:
    frame = draw('draw:\n  - rect: ["{{ left }}", 6 mm, "{{ clear_width }}", 0.5 in]\n    fill: "#ABCDEF"\n')
    assert frame.items == (Box(5_000, 6_000, 50_000, 12_700, "#abcdef"),)
    assert (frame.width_um, frame.height_um) == (60_000, 40_000)


def test_a_group_repeats_in_rows_and_columns(draw: Draw) -> None:
    frame = draw(
        "draw:\n  - group:\n      - rect: [0, 0, 1 mm, 1 mm]\n        fill: ink\n"
        '    repeat: "{{ words }}"\n    across: "{{ 2 }}"\n    at: [10 mm, 10 mm]\n    step: [5 mm, 3 mm]\n',
        words=("a", "b", "c"),
    )
    corners = [(i.x_um, i.y_um) for i in frame.items if isinstance(i, Box)]
    assert corners == [(10_000, 10_000), (15_000, 10_000), (10_000, 13_000)]


def test_centred_text_has_the_same_air_on_both_sides(draw: Draw) -> None:
    frame = draw("draw:\n  - text: otter\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n    size: 24 pt\n    read-by: child\n")
    (text,) = [i for i in frame.items if isinstance(i, Text)]
    width = metrics("Andika").width_um("otter", text.size_um)
    assert text.read_by is ReadBy.CHILD
    assert text.size_um == pytest.approx(24 * 25_400 / 72, abs=1)
    assert abs((text.x_um - 5_000) - (55_000 - text.x_um - width)) <= 1


def test_text_is_made_smaller_until_it_fits_and_no_smaller_than_declared(draw: Draw, workshop: Workshop) -> None:
    lines = "draw:\n  - text: a long word here\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n    size: 60 pt\n    least: {}\n"
    lines += "    wrap: no\n"
    frame = draw(lines.format("10 pt"))
    (text,) = frame.items
    assert isinstance(text, Text)
    assert metrics("Andika").width_um("a long word here", text.size_um) <= 50_000
    assert metrics("Andika").width_um("a long word here", text.size_um * 108 // 100) > 50_000, "needlessly small"
    assert draw(lines.format("40 pt")).items == ()
    (problem,) = workshop.log.problems
    assert problem.code == "does-not-fit"
    assert str(problem.location) == "units/07.yaml:3:5"


def test_a_word_of_sixty_letters_does_not_fit_and_is_not_clipped(draw: Draw, workshop: Workshop) -> None:
    draw(f"draw:\n  - text: {'m' * 60}\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n    size: 20 pt\n    least: 12 pt\n")
    assert [p.code for p in workshop.log.problems] == ["does-not-fit"]


@pytest.mark.parametrize("text", ["otter \U0001f9a6", "שלום", "e\u0301a", "中"])
def test_text_that_the_font_cannot_set_is_a_problem(draw: Draw, workshop: Workshop, text: str) -> None:
    assert draw(f'draw:\n  - text: "{text}"\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n    size: 12 pt\n').items == ()
    assert {p.code for p in workshop.log.problems} == {"unprintable-character"}


def test_a_picture_fills_its_box_and_an_unknown_one_offers_near_names(draw: Draw, workshop: Workshop) -> None:
    face = 'draw:\n  - picture: "{{ name }}"\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n'
    (path,) = draw(face, name="otter").items
    assert isinstance(path, Path)
    xs = [v for c in commands_of(path.outline) for v in c[1::2]]
    ys = [v for c in commands_of(path.outline) for v in c[2::2]]
    assert min(xs) >= 5_000 - 200  # control points may lie a little outside
    assert max(xs) <= 55_000 + 200
    assert max(ys) - min(ys) == pytest.approx(30_000, rel=0.03)
    draw(face, name="oter")
    (problem,) = workshop.log.problems
    assert problem.code == "unknown-picture"
    assert "'otter'" in problem.hint


def test_no_picture_is_a_frame_to_draw_in(draw: Draw) -> None:
    (frame,) = draw('draw:\n  - picture: ""\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n').items
    assert isinstance(frame, Box)
    assert frame.stroke


def test_marked_letters_are_underlined_by_dashes_under_just_those_letters(draw: Draw) -> None:
    frame = draw(
        'draw:\n  - text: said\n    box: [5 mm, 5 mm, 50 mm, 30 mm]\n    size: 24 pt\n    underline: "{{ [[1, 3]] }}"\n'
    )
    text, line = frame.items
    assert isinstance(text, Text)
    assert isinstance(line, Line)
    font = metrics("Andika")
    assert line.x1_um - text.x_um == font.width_um("s", text.size_um)
    assert line.x2_um - text.x_um == font.width_um("sai", text.size_um)
    assert line.dash
    assert line.y1_um > text.y_um


def test_rules_are_spaced_as_asked(draw: Draw) -> None:
    frame = draw("draw:\n  - rules: [5 mm, 5 mm, 50 mm, 30 mm]\n    rule-height: 10 mm\n    gap: 2 mm\n")
    levels = [i.y1_um for i in frame.items if isinstance(i, Line)]
    assert levels == [5_000, 10_000, 15_000, 20_000], "top line, midline, baseline, descender line; no half set"


@pytest.mark.parametrize(
    ("face", "says"),
    [
        ("draw:\n  - circle: [0, 0, 1 mm, 1 mm]\n", "cannot be drawn"),
        ("draw:\n  - rect: [0, 0, 1, 1 mm]\n", "no unit"),
        ("draw:\n  - rect: [0, 0, 1 mm]\n", "x, y, width, height"),
        ("draw:\n  - rect: [0, 0, 1 mm, 1 mm]\n    fil: ink\n", "unknown key 'fil'"),
        ("draw:\n  - rect: [0, 0, 1 mm, 1 mm]\n    fill: mauve\n", "not a colour"),
        ('draw:\n  - text: "{{ nobody }}"\n    box: [0, 0, 9 mm, 9 mm]\n    size: 9 pt\n', "there is no 'nobody'"),
        ("draw:\n  - text: a\n    box: [0, 0, 9 mm, 9 mm]\n", "'size' is missing"),
        ('draw:\n  - group:\n      - rect: [0, 0, 1 mm, 1 mm]\n    repeat: "{{ 2000 | count }}"\n', "600"),
        ("draw:\n  - just text\n", "written like"),
        ("draw:\n  - text: a\n    box: [0, 0, 9 mm, 9 mm]\n    size: 9 pt\n    font: Nowhere\n", "Nowhere"),
    ],
)
def test_mistakes_in_a_face_are_named_at_their_line(draw: Draw, face: str, says: str) -> None:
    with pytest.raises(ProblemsFound) as caught:
        draw(face)
    (problem,) = caught.value.problems
    assert says in problem.message
    assert problem.location is not None
    assert problem.location.file == "templates/faces/typed.yaml"


def test_a_face_cannot_grow_without_end(draw: Draw) -> None:
    inner = '      - group:\n          - rect: [0, 0, 1 mm, 1 mm]\n        repeat: "{{ 600 | count }}"\n'
    with pytest.raises(ProblemsFound, match="6000"):
        draw(f'draw:\n  - group:\n{inner}    repeat: "{{{{ 600 | count }}}}"\n')


def test_texts_that_stand_together_have_one_size(draw: Draw) -> None:
    lines = (
        "draw:\n  - group:\n      - text: '{{ item }}'\n        box: [0, 0, 24 mm, 10 mm]\n        size: 24 pt\n"
        "        least: 8 pt\n        wrap: no\n%s    repeat: '{{ words }}'\n    step: [0, 10 mm]\n"
    )
    words = ("on", "swimming", "hopping")
    apart = draw(lines % "", words=words)
    together = draw(lines % "        alike: '{{ words }}'\n", words=words)
    sizes = [i.size_um for i in apart.items if isinstance(i, Text)]
    assert len(set(sizes)) > 1
    assert [i.size_um for i in together.items if isinstance(i, Text)] == [min(sizes)] * 3


def test_a_turned_group_stands_on_its_head_at_the_other_end(draw: Draw) -> None:
    """Written as seen from the other side: 4 mm from the left and 3 mm from the top are so far from right and foot."""
    frame = draw("draw:\n  - group:\n      - rect: [4 mm, 3 mm, 10 mm, 2 mm]\n        fill: ink\n    turned: yes\n")
    (group,) = frame.items
    assert isinstance(group, Group)
    (box,) = group.frame.items
    assert isinstance(box, Box)
    size = group.frame.width_um, group.frame.height_um
    assert size == (frame.width_um, frame.height_um)
    x, y = turn_point(box.x_um, box.y_um, *size, group.quarter_turns)
    assert (x + group.x_um, y + group.y_um) == (60_000 - 4_000, 40_000 - 3_000)


def test_easy_lines_are_given_up_where_there_is_no_room_for_one_more(draw: Draw, workshop: Workshop) -> None:
    face = (
        "draw:\n  - text: “No,” said Gub. “It is the hill!” And Don hid in a tub.\n"
        "    box: [5 mm, 2 mm, 50 mm, {}]\n    size: 15 pt\n    least: 15 pt\n    easy: yes\n"
    )
    free, tight = (
        [i.text for i in draw(face.format(high)).items if isinstance(i, Text)] for high in ("30 mm", "22 mm")
    )
    assert free == ["“No,” said Gub.", "“It is the hill!”", "And Don hid", "in a tub."]
    assert tight == ["“No,” said Gub. “It", "is the hill!” And Don", "hid in a tub."]
    assert not workshop.log.problems
