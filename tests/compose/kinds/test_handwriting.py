"""Handwriting pages: every new letter, rules by age, fading dots, models where the hand does not cover them."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest

from kitbuilder.artwork.frame import Line, Path, Text, texts_of
from kitbuilder.artwork.outlines import commands_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.model.learners import Learner
from kitbuilder.model.text import Placed

Compose = Callable[..., tuple[Piece, ...]]


def child(**more: Any) -> Learner:
    return Learner.model_construct(
        **{"code": Placed("wren"), "at": 1, "forms": 1, "left_handed": False, "age": None, **more}
    )


def letters_on(piece: Piece) -> list[str]:
    return [i.name for i in piece.pages[0].frame.items if isinstance(i, Path) and i.name]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", range(1, 13))
def test_pages_of_every_unit(unit: int, paper: str, compose: Compose, sound: Callable[..., None]) -> None:
    pieces = compose("handwriting", unit, paper, child())
    assert pieces
    sound(pieces)
    for piece in pieces:
        assert any("Print script, not joined" in text for text in texts_of(piece.pages[0].frame))


def test_each_new_letter_is_there_small_and_capital_once_with_help_and_three_times_to_trace(compose: Compose) -> None:
    pieces = compose("handwriting", 3, options={"words": "no"})
    letters = [letter for piece in pieces for letter in letters_on(piece)]
    assert {letter: letters.count(letter) for letter in set(letters)} == dict.fromkeys("guGUbB", 4)


def test_letters_that_earlier_units_brought_come_only_in_teams_and_words(compose: Compose) -> None:
    """Unit 6 teaches ll, ng and th; their letters are known. Unit 10 brings q inside qu."""
    (six,) = compose("handwriting", 6, options={"words": "no"})
    assert letters_on(six) == [*"ll" * 4, *"ng" * 4, *"th" * 4]
    ten = "".join("".join(letters_on(piece)) for piece in compose("handwriting", 10, options={"words": "no"}))
    assert "qqqqQQQQ" in ten
    assert "uuuu" not in ten


@pytest.mark.parametrize(("age", "height"), [(4, 22_000), (5, 16_000), (6, 12_000), (8, 9_500)])
def test_rules_are_as_high_as_the_age_asks_for_with_half_of_it_below_and_clear_space(
    age: int, height: int, compose: Compose
) -> None:
    for piece in compose("handwriting", 3, "a4", child(age=age)):
        levels = sorted({i.y1_um for i in piece.pages[0].frame.items if isinstance(i, Line)})
        sets = [levels[i : i + 4] for i in range(0, len(levels), 4)]
        for top, middle, base, descender in sets:
            assert (middle - top, base - top, descender - base) == (height // 2, height, height // 2)
        assert all(b[0] - a[3] >= 4_700 for a, b in pairwise(sets))


def test_the_model_stands_on_the_right_for_a_left_handed_child(compose: Compose) -> None:
    def numbers_at(learner: Learner) -> list[int]:
        pages = [piece.pages[0].frame for piece in compose("handwriting", 3, "a4", learner)]
        return [i.x_um for page in pages for i in page.items if isinstance(i, Text) and i.text == "1"]

    assert max(numbers_at(child())) < 60_000
    assert min(numbers_at(child(left_handed=True))) > 150_000


def test_dots_to_trace_fade(compose: Compose) -> None:
    (piece, *_) = compose("handwriting", 3, options={"words": "no"})
    greys = [i.stroke for i in piece.pages[0].frame.items if isinstance(i, Path) and i.name == "g"]
    assert greys[1:] == sorted(greys[1:], key=str)
    assert len(set(greys[1:])) == 3


def test_a_familys_own_words_say_how_a_letter_is_written(compose: Compose) -> None:
    (piece, *_) = compose("handwriting", 3, options={"say": "g: round, and a tail; B: down, bump, bump"})
    texts = texts_of(piece.pages[0].frame)
    assert "g: round, and a tail" in [" ".join(t.split()) for t in texts]
    assert "u: down, under, up, down" in [" ".join(t.split()) for t in texts]
    with pytest.raises(ProblemsFound, match="does not say how a letter is written"):
        compose("handwriting", 3, options={"say": "round and round"})


def test_letters_and_numerals_of_ones_own(compose: Compose) -> None:
    pieces = compose("handwriting", 3, options={"letters": "0123 45A"})
    assert set("".join(c for piece in pieces for c in letters_on(piece))) == set("012345A")
    with pytest.raises(ProblemsFound, match="no strokes for '!'"):
        compose("handwriting", 3, options={"letters": "!"})


def test_each_form_has_the_same_letters_and_other_words(compose: Compose) -> None:
    pieces = compose("handwriting", 3, "a4", child(forms=2))
    forms = {n: [letters_on(p) for p in pieces if p.copy == n] for n in (1, 2)}
    assert forms[1] != forms[2]
    roads = {n: [i for p in pieces if p.copy == n for i in p.pages[0].frame.items if is_model(i)] for n in (1, 2)}
    assert roads[1] == roads[2] != []


def is_model(item: object) -> bool:
    return isinstance(item, Path) and bool(item.name) and item.stroke == "#d4d4d4"


def test_a_left_handed_child_finds_every_word_in_full_at_the_right_end(compose: Compose) -> None:
    def solid(learner: Learner) -> list[Path]:
        pages = [piece.pages[0].frame for piece in compose("handwriting", 3, "a4", learner)]
        return [i for page in pages for i in page.items if isinstance(i, Path) and i.name and i.stroke == "#111111"]

    left, right = solid(child()), solid(child(left_handed=True))
    assert "".join(path.name for path in left) == "".join(path.name for path in right) != ""
    assert all(max(x for _, x, *_ in commands_of(path.outline)) < 90_000 for path in left)
    assert all(min(x for _, x, *_ in commands_of(path.outline)) > 120_000 for path in right)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", range(1, 13))
def test_no_number_of_a_stroke_stands_in_the_words_that_say_how_a_letter_is_written(
    unit: int, paper: str, compose: Compose
) -> None:
    font = metrics("Andika")
    for hand in (False, True):
        for piece in compose("handwriting", unit, paper, child(left_handed=hand)):
            texts = [i for i in piece.pages[0].frame.items if isinstance(i, Text)]
            numbers = [i for i in texts if i.text.isdigit()]
            for said in (i for i in texts if ":  " in i.text):
                end = said.x_um + font.width_um(said.text, said.size_um)
                near = [n for n in numbers if said.x_um - 1_500 < n.x_um < end and abs(n.y_um - said.y_um) < 4_000]
                assert not near, said.text


def test_numbers_are_drawn_over_the_letters_of_a_team(compose: Compose) -> None:
    """The road of u would hide the 1 of q: all roads come first."""
    (page, *_) = compose("handwriting", 10, "a4", child(), options={"words": "no"})
    items = page.pages[0].frame.items
    roads = [at for at, item in enumerate(items) if is_model(item) and item.name in "qu"]
    assert all(not isinstance(item, Text) for item in items[roads[-2] : roads[-1]])


def test_teams_have_start_dots_numbers_and_arrows_as_letters_have(compose: Compose) -> None:
    """Unit 6 teaches ll, ng and th: 2, 2 and 3 strokes, each with its number; the page says `Begin at the dot`."""
    (piece,) = compose("handwriting", 6, "a4", child(), options={"words": "no"})
    items = piece.pages[0].frame.items
    assert sorted(i.text for i in items if isinstance(i, Text) and i.text in "12") == ["1"] * 6 + ["2"]
    assert len([i for i in items if is_model(i)]) == 6


def test_blocks_of_a_page_have_free_lines_between_them(compose: Compose) -> None:
    for paper in ("a4", "letter"):
        for unit in (3, 4):
            pages = compose("handwriting", unit, paper, child())
            assert len(pages) == 2, "two blocks of three rows to a page, not three without room to write"
