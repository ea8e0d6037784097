"""Words in rounds: each before any comes again, and no word twice in a row of a game."""

from __future__ import annotations

from itertools import pairwise

import pytest

from kitbuilder.compose.word_rounds import word_rounds


@pytest.mark.parametrize("seed", range(5))
def test_no_word_comes_twice_in_a_row_where_there_are_words_enough(seed: int) -> None:
    words = ("in", "on", "did", "nod", "din")
    found = word_rounds(words, 24, seed, 1, "dice-page", 4)
    assert all(len(set(found[start : start + 4])) == 4 for start in range(0, 24, 4))
    counts = {found.count(word) for word in words}
    assert max(counts) - min(counts) <= 1


def test_two_words_take_turns() -> None:
    found = word_rounds(("in", "on"), 7, 1, 1, "dice-page", 4)
    assert all(a != b for a, b in pairwise(found))
