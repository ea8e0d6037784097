"""Readers for the tests of this room: a course of fifteen units, and one unit that teaches everything."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.made_up_parts import CONSONANTS, VOWELS
from kitbuilder.phonics.teaching import Teaching

LETTERS = (
    *("n o d i", "m a p t", "g u b", "s r e", "h sh l", "ll ng th", "c k ck", "w f ch", "ss x y", "j ff qu", "v z zz"),
)


def links(graphemes: str) -> tuple[Correspondence, ...]:
    """Every usual sound of some graphemes."""
    sounds = CONSONANTS | VOWELS
    return tuple(Correspondence(name, sound) for name in graphemes.split() for sound in sounds[name] if sound != "OH")


def course_teachings() -> tuple[Teaching, ...]:
    """Shapes: CVC from 1, CVCC and CCVC from 12, CCVCC from 13, two syllables from 15."""
    first = [Teaching(unit, links(names), ("VC", "CVC") if unit == 1 else ()) for unit, names in enumerate(LETTERS, 1)]
    unclear = tuple(Correspondence(letter, "AX") for letter in "aeio")
    return (
        *first,
        Teaching(12, (Correspondence("n", "NG"), Correspondence("s", "Z")), ("CVCC", "CCVC"), ("-s",)),
        Teaching(13, links("a_e i_e o_e tch"), ("CCVCC",), ("-ed", "-ing"), ("doubling",)),
        Teaching(14, links("ee ai ay oa ar or ur er oi igh u_e dge"), (), ("-es", "-er"), ("drop-e",)),
        Teaching(15, (Correspondence("y", "IY"), Correspondence("le", "AX.L"), *unclear), ("two-syllable",)),
    )


@pytest.fixture(scope="session")
def course_reader() -> Reader:
    """A reader for the course."""
    return Reader(load_lexicon(), course_teachings())


@pytest.fixture
def course() -> tuple[Teaching, ...]:
    """The teachings of the course, for tests that change one."""
    return course_teachings()


@pytest.fixture(scope="session")
def all_taught() -> Reader:
    """A reader for one unit that teaches every grapheme a made-up word may have, and any shape."""
    teaching = Teaching(1, (*links(" ".join(CONSONANTS | VOWELS)), Correspondence("n", "NG")))
    return Reader(load_lexicon(), (teaching,))
