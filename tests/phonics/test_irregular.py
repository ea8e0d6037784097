"""Letters that do not follow what was taught."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.irregular import irregular_letters
from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.teaching import Taught, Teaching, taught_by

LETTERS = "s=S a=AE t=T p=P i=IH n=N m=M d=D h=HH v=V o=AA th=DH w=W r=R e=EH c=K u=AH"


@pytest.fixture(scope="module")
def taught() -> Taught:
    links = tuple(Correspondence(*pair.split("=")) for pair in LETTERS.split())
    return taught_by([Teaching(1, links)], 1)


@pytest.mark.parametrize(
    ("word", "marked"),
    [
        ("said", ["ai"]),
        ("was", ["as"]),
        ("the", ["e"]),
        ("have", ["e"]),
        ("some", ["o", "e"]),
        ("two", ["wo"]),
        ("knot", ["k"]),
        ("his", ["s"]),
        ("mat", []),
        ("There", ["ere"]),
        ("zzgg", ["zzgg"]),
    ],
)
def test_only_the_odd_letters_are_marked(taught: Taught, word: str, marked: list[str]) -> None:
    """Common practice, no source."""
    assert [word[start:end] for start, end in irregular_letters(word, taught, load_lexicon())] == marked
