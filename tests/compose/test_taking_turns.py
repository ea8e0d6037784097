"""Words in turn: every spelling before any comes again, and nothing lost."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.compose.taking_turns import in_turn


def letters(word: str) -> list[str]:
    return [c for c in word if c in "ckw"]


def test_each_spelling_has_its_turn_and_the_first_of_each_stays_the_first() -> None:
    assert in_turn(("will", "wish", "well", "can", "cap", "kit", "at"), letters) == (
        "will", "can", "kit", "at", "wish", "cap", "well",
    )  # fmt: skip


@given(st.lists(st.text("ckwxy", min_size=1, max_size=3), max_size=12, unique=True))
def test_nothing_is_lost_and_a_word_waits_only_for_spellings_met_less_often(words: list[str]) -> None:
    found = in_turn(words, letters)
    assert sorted(found) == sorted(words)
    for at, word in enumerate(found):
        before = [c for w in found[:at] for c in set(letters(w))]
        least = min((before.count(c) for c in letters(word)), default=0)
        for later in found[at + 1 :]:
            if letters(later) and letters(word):
                assert least <= min(before.count(c) for c in letters(later))
