"""Suffixes taken off words."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.lexicon import Lexicon, load_lexicon
from kitbuilder.phonics.suffixes import suffix_uses


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon()


def _outer(word: str, lexicon: Lexicon) -> set[tuple[str, str, str | None]]:
    entry = lexicon.get(word)
    assert entry
    ways = [uses for sounds in entry.pronunciations for uses in suffix_uses(word, sounds, lexicon)]
    return {(uses[0].suffix, uses[0].stem, uses[0].rule) for uses in ways}


@pytest.mark.parametrize(
    ("word", "suffix", "stem", "rule"),
    [
        ("cats", "-s", "cat", None),
        ("dogs", "-s", "dog", None),
        ("makes", "-s", "make", None),
        ("boxes", "-es", "box", None),
        ("horses", "-es", "horse", None),
        ("flies", "-es", "fly", "y-to-i"),
        ("jumped", "-ed", "jump", None),
        ("wanted", "-ed", "want", None),
        ("hopped", "-ed", "hop", "doubling"),
        ("hoped", "-ed", "hope", "drop-e"),
        ("cried", "-ed", "cry", "y-to-i"),
        ("running", "-ing", "run", "doubling"),
        ("making", "-ing", "make", "drop-e"),
        ("hunter", "-er", "hunt", None),
        ("bigger", "-er", "big", "doubling"),
        ("happiest", "-est", "happy", "y-to-i"),
    ],
)
def test_suffix_stem_and_rule(lexicon: Lexicon, word: str, suffix: str, stem: str, rule: str | None) -> None:
    assert (suffix, stem, rule) in _outer(word, lexicon)


@pytest.mark.parametrize(
    "word", ["sister", "summer", "corner", "proper", "naked", "forest", "bus", "yes", "ring", "bed"]
)
def test_words_that_only_look_as_if_they_had_a_suffix(lexicon: Lexicon, word: str) -> None:
    assert not _outer(word, lexicon)


def test_two_suffixes_come_off_outermost_first(lexicon: Lexicon) -> None:
    entry = lexicon.get("hunters")
    assert entry
    ways = suffix_uses("hunters", entry.pronunciations[0], lexicon)
    assert [use.suffix for use in ways[-1]] == ["-s", "-er"]


def test_a_stem_that_ends_in_e_takes_plain_s(lexicon: Lexicon) -> None:
    assert _outer("comes", lexicon) == {("-s", "come", None)}
    assert _outer("being", lexicon) == {("-ing", "be", None)}
