"""The table of correspondences."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.alignment import best_paths
from kitbuilder.phonics.correspondences import Correspondence, Row, load_table, parse_table
from kitbuilder.phonics.lexicon import Lexicon, load_lexicon
from kitbuilder.phonics.two_way import load_readings


@pytest.fixture(scope="module")
def lexicons() -> tuple[Lexicon, Lexicon]:
    return load_lexicon("us"), load_lexicon("uk")


def test_every_example_word_can_be_read_with_its_correspondence(lexicons: tuple[Lexicon, Lexicon]) -> None:
    """Each example of the table has a pronunciation in one accent in which the row is part of a whole alignment."""
    wrong = [row for row in load_table().rows if row.example != "-" and not _shows(row, lexicons)]
    assert " ".join(f"{row.correspondence.grapheme}={row.correspondence.phoneme}:{row.example}" for row in wrong) == ""


def _shows(row: Row, lexicons: tuple[Lexicon, Lexicon]) -> bool:
    def only_this(other: Row, start: int, end: int) -> float:
        return 0.0 if other is row else 100.0 + other.cost

    word = row.example.lower()
    owner = word.removesuffix("'s").removesuffix("s'")
    sounds = [p for lexicon in lexicons if (entry := lexicon.get(word)) for p in entry.pronunciations]
    if owner != word:  # possessives are not in the lexicon
        plain = [p for lexicon in lexicons if (entry := lexicon.get(owner)) for p in entry.pronunciations]
        sounds += [(*p, *ending) for p in plain for ending in (("S",), ("Z",), ("AX", "Z"))]
    sounds += [tuple("IH" if one == "AX" else one for one in p) for p in sounds]  # IH and AX merge when unstressed
    sounds += [reading.pronunciation for reading in load_readings().get(word, ())]
    paths = [path for p in sounds for path in best_paths(word, p, 1, load_table(), only_this)]
    return any(segment.correspondence == row.correspondence for path in paths for segment in path.segments)


def test_no_correspondence_is_written_twice() -> None:
    rows = [row.correspondence for row in load_table().rows]
    assert len(rows) == len(set(rows))


def test_every_correspondence_has_a_counted_cost() -> None:
    assert all(0 < row.cost < 13 for row in load_table().rows)


def test_two_sounds_of_one_grapheme_are_parted_by_a_dot() -> None:
    assert Correspondence("x", "K.S").sounds == ("K", "S")
    assert Correspondence("le", "AX.L").is_vowel
    assert not Correspondence("qu", "K.W").is_vowel


def test_an_unknown_place_is_refused() -> None:
    with pytest.raises(ValueError, match="no place"):
        parse_table("a AE cat somewhere")
