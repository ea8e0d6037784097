"""Letter cards: both cases and a picture in front, keyword and formation behind."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from kitbuilder.artwork.frame import Path, ReadBy, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import mm

Compose = Callable[..., tuple[Piece, ...]]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", range(1, 13))
def test_cards_of_every_unit(unit: int, paper: str, compose: Compose, sound: Callable[..., None]) -> None:
    sound(compose("letter-card", unit, paper))


def test_front_and_back_of_a_letter(compose: Compose) -> None:
    card = next(c for c in compose("letter-card", 2) if c.title == "t")
    front, back = (page.frame for page in card.pages)
    assert texts_of(front, ReadBy.CHILD) == ("T t",)
    assert [i.name for i in front.items if isinstance(i, Path)] == ["tent"]
    assert {"tent", "t as in tent", "t: down, hook right; across", "T: down; across"} <= set(
        texts_of(back, ReadBy.ADULT)
    )
    assert {i.name for i in back.items if isinstance(i, Path) and i.name} == {"t", "T"}
    assert texts_of(back, ReadBy.MARK) == ("1", "2", "1", "2"), "numbered strokes, small and capital"


def test_words_say_whose_strokes_they_are(compose: Compose) -> None:
    words = {c.title: " ".join(texts_of(c.pages[1].frame, ReadBy.ADULT)[2:]) for c in compose("letter-card", 8)}
    assert words["w"] == "w and W: slant right, slant up, slant right, slant up", "one where both are alike"
    assert words["f"] == "f: back round, down; across F: down; across; across"
    assert words["ch"] == "", "a team's letters have cards of their own"


def test_a_small_card_tells_of_the_small_letter_alone(compose: Compose) -> None:
    (card,) = (c for c in compose("letter-card", 2, size=Size(mm(50), mm(70))) if c.title == "m")
    told = " ".join(texts_of(card.pages[1].frame, ReadBy.ADULT))
    assert "m: down" in told
    assert "M: down" not in told


def test_a_team_is_written_letter_by_letter_behind_its_card(compose: Compose) -> None:
    card = next(c for c in compose("letter-card", 5) if c.title == "sh")
    assert [i.name for i in card.pages[1].frame.items if isinstance(i, Path) and i.name] == ["s", "h"]


def test_without_pictures_the_letters_have_the_card_to_themselves(compose: Compose) -> None:
    (card, *_) = compose("letter-card", 2, options={"pictures": "no"})
    assert not [i for i in card.pages[0].frame.items if isinstance(i, Path)]


def test_a_team_that_begins_no_word_has_no_capital(compose: Compose) -> None:
    cards = {c.title: texts_of(c.pages[0].frame, ReadBy.CHILD) for c in compose("letter-card", 6)}
    assert cards == {"ll": ("ll",), "ng": ("ng",), "th": ("Th th",)}
