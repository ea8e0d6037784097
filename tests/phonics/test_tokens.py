"""The words of a text."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.tokens import words_in


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("The pan is on the dock.", ["The", "pan", "is", "on", "the", "dock"]),
        ("\u201cGo!\u201d said Odd. \u2018Nod!\u2019", ["Go", "said", "Odd", "Nod"]),
        ("It isn\u2019t Tansy\u2019s hat.", ["It", "isn't", "Tansy's", "hat"]),
        ("the dogs' mats", ["the", "dogs", "mats"]),
        ("a red-hot pan - and jam", ["a", "red-hot", "pan", "and", "jam"]),
        ("the sun-\n  set", ["the", "sun-set"]),
        ("the sun\u00adset", ["the", "sunset"]),
        ("7 cats, 2nd mat, 3.5 cm", ["7", "cats", "2nd", "mat", "3.5", "cm"]),
        ("e.g. Mr. Pim & co", ["e.g.", "Mr", "Pim", "&", "co"]),
        ("caf\u00e9 na\u00efve", ["caf\u00e9", "na\u00efve"]),
        ("hm ... \u2026 \u2014 !", ["hm"]),
        ("", []),
    ],
)
def test_words_are_found(text: str, words: list[str]) -> None:
    assert [token.text for token in words_in(text)] == words


def test_offsets_point_into_the_text_as_given() -> None:
    text = "\u201cIt isn\u2019t sun-\n set,\u201d said Odd."
    found = [text[token.start : token.end] for token in words_in(text)]
    assert found == ["It", "isn\u2019t", "sun-\n set", "said", "Odd"]
