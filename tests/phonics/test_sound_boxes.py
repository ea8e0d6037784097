"""Counts of ship, five, stop and stamp: as commonly given for D. B. Elkonin's sound boxes (1963)."""

import pytest

from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.sound_boxes import Box, sound_boxes


@pytest.mark.parametrize(
    ("word", "count"),
    [("ship", 3), ("five", 3), ("stop", 4), ("stamp", 5), ("fox", 4), ("quit", 4), ("car", 2), ("thumb", 3)],
)
def test_there_is_one_box_for_each_sound(course_reader: Reader, word: str, count: int) -> None:
    assert len(sound_boxes(word, course_reader)) == count


@pytest.mark.parametrize(
    "word", ["make", "ship", "stamp", "fox", "knee", "quit", "night", "catch", "used", "five", "apple"]
)
def test_the_letters_of_the_boxes_make_the_word(course_reader: Reader, word: str) -> None:
    boxes = sound_boxes(word, course_reader)
    assert "".join(box.letters + box.behind for box in boxes) == word
    assert sum(box.spans for box in boxes) == len(boxes)


def test_the_e_of_a_split_digraph_stands_behind_the_consonant_and_knows_its_vowel(course_reader: Reader) -> None:
    assert sound_boxes("make", course_reader) == (Box("M", "m"), Box("EY", "a"), Box("K", "k", 1, "e", 1))


def test_a_grapheme_of_two_sounds_lies_across_two_boxes(course_reader: Reader) -> None:
    assert sound_boxes("ox", course_reader)[1:] == (Box("K", "x", 2), Box("S", "", 0))


def test_a_word_that_is_not_known_has_no_boxes(course_reader: Reader) -> None:
    assert sound_boxes("zxq", course_reader) == ()
    assert sound_boxes("zxq", course_reader, 3) == ()
