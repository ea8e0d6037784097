from collections.abc import Iterator
from pathlib import Path

import pytest

from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.nonsense_judge import unlisted_words
from kitbuilder.phonics.nonsense_words import judge_nonsense, nonsense_words
from kitbuilder.phonics.sound_index import sound_index, sound_keys
from kitbuilder.phonics.teaching import Teaching

DATA = Path(__file__).parent / "data"

# Pseudo-words of England's phonics screening check (Standards and Testing Agency): printed in its scoring guidance of
# 2013 and 2014 or quoted by schools.
SEEN_ITEMS = ["fot", "keb", "vol", "teg", "jat", "vap", "jound"]
# The same, from memory.
REMEMBERED_ITEMS = [
    "tox",
    "bim",
    "ulf",
    "geck",
    "chom",
    "tord",
    "thazz",
    "blan",
    "steck",
    "hild",
    "quemp",
    "voo",
    "terg",
    "fape",
    "snemp",
    "blurst",
    "spron",
    "stroft",
]


def examples() -> Iterator[tuple[str, str]]:
    """Verdict and string of each line of the file, which names its sources."""
    for line in (DATA / "nonsense_examples.txt").read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            verdict, text, *_ = line.split()
            yield verdict, text


@pytest.mark.parametrize(("verdict", "text"), tuple(examples()))
def test_each_published_habit_decides_its_examples(all_taught: Reader, verdict: str, text: str) -> None:
    judgement = judge_nonsense(text, all_taught, 1)
    assert judgement.accepted == (verdict == "accept"), judgement.reason


@pytest.mark.parametrize("text", SEEN_ITEMS + REMEMBERED_ITEMS)
def test_lenient_judgement_accepts_the_items_of_the_screening_check(all_taught: Reader, text: str) -> None:
    assert judge_nonsense(text, all_taught, 1, strict=False).accepted


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("bed", "bed is a word or a name"),
        ("tarn", "tarn is a word or a name"),
        ("fone", "it sounds like phone"),
        ("sawt", "it sounds like sort"),  # in southern English only
        ("siv", "no English word ends in v"),
        ("qam", "q stands with u in English"),
        ("cesh", "c before e sounds like s"),
        ("kamf", "it is not made like one English syllable"),
        ("mits", "it looks like a plural"),
        ("vol", "vol is a word or a name"),
        ("chald", "-ald is mostly read another way"),
    ],
)
def test_the_reason_for_a_refusal_is_told(all_taught: Reader, text: str, reason: str) -> None:
    assert judge_nonsense(text, all_taught, 1).reason == reason


@pytest.mark.parametrize("text", ["fuk", "vuck", "shid", "sexp", "wank", "thot", "shat", "cux", "dit", "kock"])
def test_what_is_rude_or_close_to_it_is_refused_even_leniently(all_taught: Reader, text: str) -> None:
    assert not judge_nonsense(text, all_taught, 1, strict=False).accepted


@pytest.mark.parametrize("text", ["nuck", "thuck", "cank", "shict", "fusk", "clunt", "unt", "ank", "thart"])
def test_what_is_one_slip_from_the_worst_words_is_refused(all_taught: Reader, text: str) -> None:
    """One sound more or less than the worst few have, or th for f; fusk and clunt are as near to them as cank is."""
    assert "rude" in judge_nonsense(text, all_taught, 1, strict=False).reason


@pytest.mark.parametrize("text", ["ick", "rizz", "gonk", "thunk", "yock", "cag", "dag", "cath", "tock", "nesh"])
def test_slang_and_dialect_and_short_names_count_as_words(all_taught: Reader, text: str) -> None:
    assert judge_nonsense(text, all_taught, 1, strict=False).reason == f"{text} is a word or a name"


def test_no_unlisted_word_stands_in_a_published_list_of_made_up_ones() -> None:
    assert 100 <= len(unlisted_words()) <= 130
    published = {text for verdict, text in examples() if verdict == "accept"}
    assert not unlisted_words() & (published | set(SEEN_ITEMS) | set(REMEMBERED_ITEMS))


def test_a_word_that_is_only_out_of_use_is_not_called_rude(all_taught: Reader) -> None:
    assert judge_nonsense("tosh", all_taught, 1).reason == "tosh is a word or a name"
    assert "rude" not in judge_nonsense("gob", all_taught, 1, strict=False).reason


def test_what_was_not_taught_is_refused(course_reader: Reader) -> None:
    assert judge_nonsense("vop", course_reader, 10).reason == "not taught yet: v"
    assert judge_nonsense("smep", course_reader, 11).reason == "the shape CCVC is not taught yet"
    assert judge_nonsense("smep", course_reader, 12).accepted


def test_a_taught_name_is_no_made_up_word(course: tuple[Teaching, ...], course_reader: Reader) -> None:
    assert judge_nonsense("mip", course_reader, 2).accepted
    named = Reader(course_reader.lexicon, (*course, Teaching(2, names=("Mip",))))
    assert not judge_nonsense("mip", named, 2).accepted


@pytest.mark.parametrize("unit", [3, 8, 11, 12, 13, 14])
def test_generated_words_pass_the_judgement_and_sound_like_no_word(course_reader: Reader, unit: int) -> None:
    found = nonsense_words(course_reader, unit, 12, seed=5)
    assert len(found) == 12
    assert len({made.word for made in found}) == 12
    for made in found:
        assert judge_nonsense(made.word, course_reader, unit).accepted
        assert course_reader.lexicon.get(made.word) is None
        assert not set(sound_keys(made.phonemes)) & sound_index(course_reader.lexicon).sounds.keys()
        assert all(
            pair in course_reader.taught(unit).covered for pair in zip(made.graphemes, made.phonemes, strict=True)
        )


def test_most_generated_words_need_what_the_unit_teaches(course_reader: Reader) -> None:
    found = nonsense_words(course_reader, 8, 12, seed=1)
    new = [made for made in found if made.new]
    assert len(new) == 8
    assert all({"w", "f", "ch"} & set(made.graphemes) for made in new)


def test_generated_words_are_spread_over_the_taught_vowels(course_reader: Reader) -> None:
    found = nonsense_words(course_reader, 8, 12, seed=1)
    assert {"a", "e", "i", "o", "u"} <= {grapheme for made in found for grapheme in made.graphemes}


def test_a_unit_with_few_letters_gives_few_words_rather_than_the_same_twice(course_reader: Reader) -> None:
    found = [made.word for made in nonsense_words(course_reader, 1, 12, seed=1)]
    assert 0 < len(found) < 12
    assert len(set(found)) == len(found)


def test_a_widened_choice_says_so(course: tuple[Teaching, ...], course_reader: Reader) -> None:
    """Four letters of which two may not end a word alone: strict spelling leaves next to nothing."""
    few = Reader(course_reader.lexicon, [Teaching(1, tuple(c for c in links_of(course, "a l f m i")), ("CVC",))])
    found = nonsense_words(few, 1, 12, seed=1)
    widened = [made for made in found if made.note]
    assert widened
    assert all(judge_nonsense(made.word, few, 1).accepted != bool(made.note) for made in found)


def links_of(course: tuple[Teaching, ...], names: str) -> list:
    return [link for teaching in course for link in teaching.correspondences if link.grapheme in names.split()]


def test_the_choice_is_the_same_twice_and_ignores_later_units(
    course: tuple[Teaching, ...], course_reader: Reader
) -> None:
    shorter = Reader(course_reader.lexicon, course[:9])
    assert nonsense_words(course_reader, 8, 12, seed=3) == nonsense_words(shorter, 8, 12, seed=3)
    assert nonsense_words(course_reader, 8, 12, seed=3) != nonsense_words(course_reader, 8, 12, seed=4)
