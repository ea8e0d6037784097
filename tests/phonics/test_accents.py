"""Two accents."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.merging import sound_key


@pytest.mark.parametrize(
    ("word", "us", "uk"),
    [
        ("hot", "HH AA T", "HH OH T"),
        ("dog", "D AO G", "D OH G"),
        ("want", "W AA N T", "W OH N T"),
        ("bath", "B AE TH", "B AA TH"),
        ("faster", "F AE S T ER", "F AA S T ER"),
        ("cat", "K AE T", "K AE T"),
        ("new", "N UW", "N Y UW"),
        ("blue", "B L UW", "B L UW"),
        ("tune", "T UW N", "T Y UW N"),
        ("saw", "S AO", "S AO"),
        ("car", "K AA R", "K AA R"),
    ],
)
def test_each_accent_says_a_word_its_own_way(word: str, us: str, uk: str) -> None:
    """Wells, Accents of English (1982), sets LOT, CLOTH, BATH and the y of new (from memory)."""
    american, southern = load_lexicon("us").get(word), load_lexicon("uk").get(word)
    assert american
    assert southern
    assert (" ".join(american.pronunciations[0]), " ".join(southern.pronunciations[0])) == (us, uk)


def _key(sounds: str, accent: str) -> tuple[str, ...]:
    return sound_key(tuple(sounds.split()), "uk" if accent == "uk" else "us")


def test_words_that_sound_the_same_in_one_accent_only() -> None:
    assert _key("S AO", "uk") == _key("S AO R", "uk")  # saw, sore
    assert _key("S AO", "us") != _key("S AO R", "us")
    assert _key("K AA T", "us") == _key("K AO T", "us")  # cot, caught
    assert _key("K OH T", "uk") != _key("K AO T", "uk")
    assert _key("S T AA R", "us") != _key("S T AO R", "us")  # star, store


def test_unstressed_mergers_make_no_false_homophones() -> None:
    assert _key("B IH T", "us") != _key("B AH T", "us")
