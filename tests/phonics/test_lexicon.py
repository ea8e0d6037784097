"""The lexicon."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from kitbuilder.phonics.lexicon import Lexicon, load_lexicon

DATA = Path(__file__).parent / "data"
TIMED_LOAD = """
import time
from kitbuilder.phonics.lexicon import load_lexicon
times = []
for _ in range(3):
    start = time.process_time()
    load_lexicon.__globals__["_rows"].cache_clear()
    load_lexicon()
    times.append(time.process_time() - start)
print(min(times))
"""


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon()


def common_words() -> list[str]:
    lines = (DATA / "common_words.txt").read_text("utf-8").splitlines()
    return [word for line in lines if not line.startswith("#") for word in line.split()]


def test_the_5000_most_frequent_words_are_aligned(lexicon: Lexicon) -> None:
    """At least 98.5 %, with a pronunciation that was heard, not worked out."""
    words = common_words()
    missing = [word for word in words if not (entry := lexicon.get(word)) or entry.guessed]
    assert len(words) == 5000
    assert len(missing) <= 0.015 * 5000, missing


def test_it_loads_in_60_milliseconds() -> None:
    done = subprocess.run([sys.executable, "-c", TIMED_LOAD], capture_output=True, text=True, check=True)
    assert float(done.stdout) < 0.060


def test_words_come_sorted_and_every_one_is_found(lexicon: Lexicon) -> None:
    words = list(lexicon.words())
    assert words == sorted(words, key=str.lower)
    assert len(words) > 80_000
    assert all(lexicon.get(word) for word in words[::101])
    assert lexicon.get(words[0])
    assert lexicon.get(words[-1])


def test_words_between_others_are_not_found(lexicon: Lexicon) -> None:
    assert [lexicon.get(word) for word in ("", "zzzz", "catz", "0", "x\ty", "cat\n")] == [None] * 6


def test_capitals_and_curly_apostrophes_do_not_matter(lexicon: Lexicon) -> None:
    assert lexicon.get("CAT") == lexicon.get("cat")
    assert lexicon.get("don\u2019t") == lexicon.get("don't")


def test_the_strong_form_of_a_small_word_comes_first(lexicon: Lexicon) -> None:
    found = {word: lexicon.get(word) for word in ("and", "to", "of", "was", "can", "from")}
    assert {word: entry.pronunciations[0] for word, entry in found.items() if entry} == {
        "and": ("AE", "N", "D"),
        "to": ("T", "UW"),
        "of": ("AH", "V"),
        "was": ("W", "AA", "Z"),
        "can": ("K", "AE", "N"),
        "from": ("F", "R", "AH", "M"),
    }


@pytest.mark.parametrize("word", ["read", "live", "wind", "tear", "lead", "bow", "use", "close", "row", "minute"])
def test_two_way_words_are_marked(lexicon: Lexicon, word: str) -> None:
    entry = lexicon.get(word)
    assert entry
    assert entry.two_way
    assert len(entry.pronunciations) == 2


@pytest.mark.parametrize(("word", "sounds"), [("runt", "R AH N T"), ("vend", "V EH N D"), ("gunk", "G AH NG K")])
def test_words_without_a_recorded_pronunciation_are_worked_out_and_marked(
    lexicon: Lexicon, word: str, sounds: str
) -> None:
    entry = lexicon.get(word)
    assert entry
    assert entry.guessed
    assert entry.pronunciations == (tuple(sounds.split()),)


def test_words_always_written_with_a_capital_are_marked(lexicon: Lexicon) -> None:
    june, cat = lexicon.get("june"), lexicon.get("cat")
    assert june
    assert cat
    assert (june.word, june.proper, cat.proper) == ("June", True, False)


def test_abbreviations_and_acronyms_are_no_words(lexicon: Lexicon) -> None:
    assert [lexicon.get(word) for word in ("mr", "tv", "bbc", "fbi", "ps", "kb")] == [None] * 6


def test_a_family_adds_words_and_its_pronunciations_win() -> None:
    own = load_lexicon("us", {"Tansy": (("T", "AE", "N", "Z", "IY"),), "route": (("R", "AW", "T"),)})
    tansy, route = own.get("tansy"), own.get("route")
    assert tansy
    assert route
    assert [segment.grapheme for segment in tansy.alignments[0].segments] == ["t", "a", "n", "s", "y"]
    assert route.pronunciations == (("R", "AW", "T"),)
    words = list(own.words())
    assert words == sorted(words, key=str.lower)
    assert (words.count("Tansy"), words.count("route")) == (1, 1)
