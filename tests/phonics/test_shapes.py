"""Shapes of words."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.lexicon import Lexicon, load_lexicon
from kitbuilder.phonics.shapes import accepts, compound_parts, is_shape, shape_of


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon()


@pytest.mark.parametrize(
    ("word", "shape"),
    [
        ("in", "VC"),
        ("cat", "CVC"),
        ("ship", "CVC"),
        ("box", "CVC"),
        ("make", "CVC"),
        ("quit", "CVC"),
        ("car", "CV"),
        ("fire", "CV"),
        ("jump", "CVCC"),
        ("bank", "CVCC"),
        ("stop", "CCVC"),
        ("stamp", "CCVCC"),
        ("street", "CCCVC"),
        ("I", "V"),
        ("rabbit", "two-syllable"),
        ("little", "two-syllable"),
        ("elephant", "three-syllable"),
    ],
)
def test_shape_of_a_word(lexicon: Lexicon, word: str, shape: str) -> None:
    entry = lexicon.get(word)
    assert entry
    assert shape_of(entry.alignments[0]) == shape


@pytest.mark.parametrize(
    ("taught", "shape", "ok"),
    [
        (["CVC"], "VC", True),
        (["CVC"], "CV", True),
        (["VC"], "CVC", False),
        (["CVC"], "CVCC", False),
        (["CVCC", "CCVC"], "CCVCC", False),
        (["CCVCC"], "CVCC", True),
        (["CCVCC"], "CCCVC", False),
        (["two-syllable"], "CVC", False),
        (["CVC", "two-syllable"], "two-syllable", True),
        (["two-syllable"], "three-syllable", False),
        (["three-syllable"], "two-syllable", True),
        (["compound"], "two-syllable", False),
    ],
)
def test_taught_shapes_cover_what_is_no_harder(taught: list[str], shape: str, ok: bool) -> None:
    assert accepts(taught, shape) is ok


def test_names_of_shapes() -> None:
    good = ("VC", "CVC", "CCVCC", "CCCVC", "two-syllable", "three-syllable", "compound")
    assert all(is_shape(name) for name in good)
    assert not any(is_shape(name) for name in ("", "CC", "VCV", "cvc", "syllable", "two syllable"))


def test_compounds_are_two_common_words_whose_sounds_add_up(lexicon: Lexicon) -> None:
    def parts(word: str) -> tuple[str, str] | None:
        entry = lexicon.get(word)
        return compound_parts(word, entry.pronunciations[0], lexicon) if entry else None

    assert parts("sunset") == ("sun", "set")
    assert parts("bedroom") == ("bed", "room")
    assert parts("mother") is None
    assert parts("father") is None
    assert parts("legend") is None
