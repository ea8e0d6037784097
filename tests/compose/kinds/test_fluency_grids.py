"""Fluency grids: new words and known ones in equal shares, phrases from the unit's texts, forms that are equal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import pairwise

import pytest

from kitbuilder.artwork.frame import ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.choices import Choices
from kitbuilder.compose.phrases import MOST_LETTERS, cut_phrases
from kitbuilder.model.home import Home
from kitbuilder.model.learners import Learner
from kitbuilder.phonics.decodability import Reader

Compose = Callable[..., tuple[Piece, ...]]
TWO_FORMS = Learner.model_validate({"code": "wren", "at": 3, "forms": 2})


def rows_of(piece: Piece) -> list[list[str]]:
    rows: dict[int, list[Text]] = {}
    for item in piece.pages[0].frame.items:
        if isinstance(item, Text) and item.read_by is ReadBy.CHILD:
            rows.setdefault(item.y_um, []).append(item)
    return [[t.text for t in sorted(row, key=lambda t: t.x_um)] for _, row in sorted(rows.items())]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("of", ["words", "sounds", "made-up", "phrases"])
def test_grids_of_every_unit(
    of: str, paper: str, compose: Compose, sound: Callable[..., None], readable: Callable[..., None]
) -> None:
    for unit in range(1, 13):
        pieces = compose("fluency-grid", unit, paper, options={"of": of})
        assert len(pieces) == (0 if of == "made-up" and not pieces else 2)
        sound(pieces)
        readable(pieces, unit)


@pytest.mark.parametrize("unit", range(2, 13))
def test_half_of_the_cells_are_new_words_and_half_are_known(unit: int, compose: Compose, reader: Reader) -> None:
    words = [word for row in rows_of(compose("fluency-grid", unit)[0]) for word in row]
    known = [word for word in words if reader.verdict(word, unit - 1).verdict == "decodable"]
    assert len(words) == 32
    assert 14 <= len(known) <= 18


def test_the_first_units_words_are_all_new_and_later_units_own_words_come_first(compose: Compose, home: Home) -> None:
    first = {word for row in rows_of(compose("fluency-grid", 1)[0]) for word in row}
    assert first == {str(word) for word in home.unit(1).words}
    own = {str(word) for word in home.unit(3).words}
    shown = {word for row in rows_of(compose("fluency-grid", 3)[0]) for word in row}
    assert len(shown & own) == 8


@pytest.mark.parametrize("unit", range(2, 13))
def test_every_spelling_the_unit_teaches_stands_in_the_grid(
    unit: int, compose: Compose, home: Home, reader: Reader
) -> None:
    words = {word for row in rows_of(compose("fluency-grid", unit)[0]) for word in row}
    links = {
        (s.correspondence.grapheme, s.correspondence.phoneme) for w in words for s in reader.verdict(w, unit).segments
    }
    fresh = reader.taught(unit).covered - reader.taught(unit - 1).covered
    assert {str(t.grapheme) for t in home.unit(unit).teach} <= {g for g, p in links if (g, p) in fresh}


def test_review_leaves_the_units_own_list_as_it_was(home: Home, reader: Reader) -> None:
    with_review, without = Choices(home, reader), Choices(home, reader)
    review = {c.word for c in with_review.review(home.unit(7), 8, "fluency review")}
    assert len(review) == 8
    assert with_review.words(home.unit(7), 18) == without.words(home.unit(7), 18)
    assert review.isdisjoint(str(word) for word in home.unit(7).words)


@pytest.mark.parametrize("unit", range(1, 13))
@pytest.mark.parametrize("of", ["words", "phrases"])
def test_nothing_comes_twice_across_the_end_of_a_row_and_forms_are_equal(of: str, unit: int, compose: Compose) -> None:
    pieces = compose("fluency-grid", unit, learner=TWO_FORMS, options={"of": of})
    one, two = (rows_of(piece) for piece in pieces if piece.title == "child's page")
    for grid in (one, two):
        cells = [text for row in grid for text in row]
        if of == "words" or len(set(cells)) == len(cells):  # two columns of a few phrases leave no other way
            assert all(a != b for a, b in pairwise(cells))
        for upper, lower in pairwise(grid):
            assert all(a != b for a, b in zip(upper, lower, strict=True))
    assert one != two
    assert Counter(t for row in one for t in row) == Counter(t for row in two for t in row)


@pytest.mark.parametrize("unit", [1, 4, 9, 12])
def test_phrases_stand_in_the_units_texts_and_are_counted_by_words(unit: int, compose: Compose, home: Home) -> None:
    taught = home.unit(unit)
    texts = [str(t) for t in taught.sentences]
    texts += [str(page.text) for booklet in taught.booklets for page in booklet.pages if page.text]
    child, adult = compose("fluency-grid", unit, options={"of": "phrases"})
    rows = rows_of(child)
    assert {len(row) for row in rows} == {2}
    for phrase in (text for row in rows for text in row):
        assert any(phrase.lower() in text.lower() for text in texts), phrase
        assert len(phrase.split()) in (2, 3)
    total = sum(len(phrase.split()) for row in rows for phrase in row)
    assert str(total) in texts_of(adult.pages[0].frame)


def test_a_phrase_ends_before_a_mark_and_in_a_word_that_can_end_it() -> None:
    """Cut by hand."""
    assert cut_phrases("Go to the tub, Gub!", {"Gub"}) == ("to the tub",)
    assert cut_phrases("Tam got a nut and a bun.", {"Tam"}) == ("Tam got", "a nut", "and a bun")
    assert cut_phrases("Nid got up on the big tub.", {"Nid"}) == ("Nid got", "the big tub")
    assert cut_phrases("A bug dug in the mud.", set()) == ("a bug dug", "in the mud")
    assert cut_phrases("It is.", set()) == ()
    assert all(len(phrase) <= MOST_LETTERS for phrase in cut_phrases("splashing scrambling squelching", set()))
