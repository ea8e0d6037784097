"""Rules and exception words are those of the National Curriculum in England, English Appendix 1 (2013), year 1."""

import pytest

from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.spelling import spellable, spellable_words
from kitbuilder.phonics.teaching import Teaching
from kitbuilder.phonics.word_choice import decodable_words


@pytest.mark.parametrize(
    "word",
    ["off", "well", "miss", "buzz", "back", "catch", "fetch", "notch", "bank", "think", "honk", "sunk", "kit", "skin"],
)
def test_words_that_follow_the_rules_are_spellable(course_reader: Reader, word: str) -> None:
    assert spellable(word, course_reader, 14)


@pytest.mark.parametrize("word", ["if", "pal", "us", "bus", "yes", "rich", "much", "such"])
def test_the_exceptions_printed_with_the_rules_are_not_spellable(course_reader: Reader, word: str) -> None:
    assert course_reader.verdict(word, 14).verdict == "decodable"
    assert not spellable(word, course_reader, 14)


def test_an_exception_is_spellable_before_its_rival_is_taught(course_reader: Reader) -> None:
    assert spellable("us", course_reader, 5)  # ss comes in unit 9
    assert not spellable("us", course_reader, 9)


@pytest.mark.parametrize(("word", "other"), [("rain", "lane"), ("boat", "home"), ("turn", "term")])
def test_sounds_with_two_taught_spellings_are_read_but_not_spelled(
    course_reader: Reader, word: str, other: str
) -> None:
    for one in (word, other):
        assert course_reader.verdict(one, 14).verdict == "decodable"
        assert not spellable(one, course_reader, 14)


@pytest.mark.parametrize("word", ["day", "boy", "coin", "soil"])
def test_the_end_of_a_word_decides_between_ai_ay_and_oi_oy(course: tuple, course_reader: Reader, word: str) -> None:
    without = [teaching for teaching in course if teaching.unit != 13]
    links = {link for teaching in course for link in teaching.correspondences}
    oy = type(next(iter(links)))("oy", "OY")
    reader = Reader(course_reader.lexicon, (*without, Teaching(13, (oy,), ("CCVCC",))))
    assert spellable(word, reader, 14)


@pytest.mark.parametrize("word", ["cats", "dogs", "hopping", "mops", "jumped"])
def test_a_taught_suffix_is_spelled_by_its_rule_and_not_by_ear(course_reader: Reader, word: str) -> None:
    assert spellable(word, course_reader, 13)


def test_what_cannot_be_read_cannot_be_spelled(course_reader: Reader) -> None:
    assert not spellable("ship", course_reader, 4)
    assert not spellable("zxq", course_reader, 14)


def test_the_list_of_spellable_words_agrees_with_the_single_answer(course_reader: Reader) -> None:
    listed = spellable_words(course_reader, 12)
    every = decodable_words(course_reader, 12)[::11]
    assert [word for word in every if word in listed] == [w for w in every if spellable(w, course_reader, 12)]
    assert 0.9 < len(listed) / len(decodable_words(course_reader, 12)) < 1
