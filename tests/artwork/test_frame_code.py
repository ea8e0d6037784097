"""A frame written and read again is the same frame; what nobody wrote is refused."""

from __future__ import annotations

import copy
import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.artwork.frame import Bitmap, Box, Frame, Group, Line, Path, ReadBy, Text
from kitbuilder.artwork.frame_code import (
    CHECK_LETTERS,
    check_letter,
    frame_digest,
    frame_row,
    frame_text,
    read_frame,
)
from kitbuilder.artwork.outlines import commands_of, outline_of

place = st.integers(-10_000_000, 10_000_000)
length = st.integers(0, 10_000_000)
colour = st.integers(0, 0xFFFFFF).map("#{:06x}".format)
dash = st.lists(st.integers(1, 50_000), max_size=4).map(tuple)
words = st.text(max_size=30)
command = st.one_of(
    st.tuples(st.just("M"), place, place),
    st.tuples(st.just("L"), place, place),
    st.tuples(st.just("C"), place, place, place, place, place, place),
    st.just(("Z",)),
)
item = st.one_of(
    st.builds(Text, place, place, words, words, length, colour, st.sampled_from(ReadBy)),
    st.builds(Line, place, place, place, place, length, colour, dash),
    st.builds(Box, place, place, length, length, st.none() | colour, st.none() | colour, length, length, dash),
    st.builds(
        Path, st.lists(command, max_size=6).map(outline_of), st.none() | colour, st.none() | colour, length, dash, words
    ),
    st.builds(
        Bitmap, place, place, length, length, st.sampled_from(["ab" * 32, "0" * 64]), st.sampled_from(["png", "jpeg"])
    ),
)
plain = st.builds(Frame, length, length, st.lists(item, max_size=5).map(tuple), words)
nested = st.builds(
    lambda frame, inner, x, y, turns: replace(frame, items=(*frame.items, Group(x, y, turns, inner))),
    plain, plain, place, place, st.integers(0, 3),
)  # fmt: skip

SAMPLE = Frame(
    62_000,
    87_000,
    (
        Text(1, 2, "d", "Andika", 9_000),
        Line(0, 0, 9, 9, 100),
        Box(0, 0, 9, 9, "#ffffff"),
        Path("M 0 0 C 1 2 3 4 5 6 Z"),
        Bitmap(0, 0, 9, 9, "ab" * 32, "png"),
        Group(1, 1, 3, Frame(5, 5, (Text(1, 2, "in", "Andika", 9_000),))),
    ),
    "letter card",
)


@given(st.lists(command, max_size=20).map(tuple))
def test_an_outline_says_its_commands_again(commands):
    assert commands_of(outline_of(commands)) == commands


@given(plain | nested)
@settings(max_examples=200, deadline=None)
def test_a_frame_read_back_is_equal_in_every_field(frame):
    assert read_frame(json.loads(frame_text(frame))) == frame


def test_equal_frames_have_equal_digests_and_any_change_another_one():
    assert frame_digest(SAMPLE) == frame_digest(copy.deepcopy(SAMPLE))
    first = SAMPLE.items[0]
    changed = [
        replace(first, x_um=3),
        replace(first, text="b"),
        replace(first, colour="#000001"),
        replace(first, size_um=1),
    ]
    frames = [replace(SAMPLE, items=(each, *SAMPLE.items[1:])) for each in changed] + [
        replace(SAMPLE, items=SAMPLE.items[::-1])
    ]
    assert len({frame_digest(f) for f in (SAMPLE, *frames)}) == 1 + len(frames)


def test_a_digest_stays_what_it_was():
    """Packs on a family's shelf carry these digests: a new spelling would call every old card foreign."""
    assert frame_digest(SAMPLE) == "0c7525b52246902b2f9d73963bbf7d10"


def test_check_letters_are_readable_and_evenly_used():
    assert len(set(CHECK_LETTERS)) == 23
    assert not set("IOQ") & set(CHECK_LETTERS)
    drawn = [check_letter(frame_digest(replace(SAMPLE, width_um=n))) for n in range(2_300)]
    assert all(60 < drawn.count(letter) < 150 for letter in CHECK_LETTERS)  # 100 each, give or take five deviations


def broken(path: tuple[int, ...], value: object) -> object:
    row = json.loads(frame_text(SAMPLE))
    part = row
    for step in path[:-1]:
        part = part[step]
    part[path[-1]] = value
    return row


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ((0,), -1), ((0,), 1.5), ((0,), True), ((0,), "62000"), ((0,), 10**30), ((2,), None), ((3,), {}), ((3,), 7),
        ((3, 0), []), ((3, 0), "t"), ((3, 0), ["x", 1]), ((3, 0, 0), ["t"]), ((3, 0, 1), 10**8), ((3, 0, 3), 5),
        ((3, 0, 3), "a" * 200_000), ((3, 0, 6), "red"), ((3, 0, 6), None), ((3, 0, 7), "everyone"), ((3, 0, 7), []),
        ((3, 1, 7), [1] * 99), ((3, 1, 7), [-1]), ((3, 1, 7), "1"), ((3, 2, 5), 3), ((3, 3, 1), "M 1"),
        ((3, 3, 1), "M 1 2 Q 3 4"),
        ((3, 3, 1), "M 1 x"), ((3, 3, 1), "M 1 1e5"), ((3, 3, 1), "M 1 ²"), ((3, 3, 1), "M  1 2"),
        ((3, 3, 1), None), ((3, 3, 1), "M 1 999999999"), ((3, 4, 5), "../../etc"), ((3, 4, 6), "svg"), ((3, 5, 3), 4),
        ((3, 5, 4), None), ((3, 5, 4), [1, 1, ""]),
    ],
)  # fmt: skip
def test_what_no_frame_says_is_refused_in_plain_words(path, value):
    with pytest.raises(ValueError, match=r"[a-z]+ [a-z]+") as raised:
        read_frame(broken(path, value))
    assert len(str(raised.value)) < 150


@pytest.mark.parametrize("row", [None, {}, [], "frame", 7, [1, 2, 3], [[[[[]]]]]])
def test_what_is_no_frame_at_all_is_refused(row):
    with pytest.raises(ValueError, match="a frame has"):
        read_frame(row)


def test_frames_without_end_are_refused():
    row = frame_row(SAMPLE)
    for _ in range(20):
        row = [1, 1, "", [["g", 0, 0, 0, row]]]
    with pytest.raises(ValueError, match="deep"):
        read_frame(row)
    wide = [1, 1, "", [["g", 0, 0, 0, [1, 1, "", [["l", 0, 0, 0, 0, 1, "#000000", []]] * 60_000]]] * 4]
    with pytest.raises(ValueError, match="more than 200,000 items"):
        read_frame(wide)
