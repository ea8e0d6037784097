"""Cards with words: marked letters, made-up words, blanks and double tiles, ticks, pairs, slips, dividers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import pairwise

import pytest

from kitbuilder.artwork.frame import Box, Frame, Line, Path, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.phrases import phrased
from kitbuilder.compose.picture_book import PictureBook

Compose = Callable[..., tuple[Piece, ...]]


def front(piece: Piece) -> Frame:
    return piece.pages[0].frame


def child_text(piece: Piece) -> str:
    return " ".join(texts_of(front(piece), ReadBy.CHILD))


def dashed_under(frame: Frame) -> str:
    """The letters of a card's word that stand over dashed lines."""
    (word,) = [i for i in frame.items if isinstance(i, Text) and i.read_by is ReadBy.CHILD]
    lines = [i for i in frame.items if isinstance(i, Line) and i.dash]
    font, marked = metrics(word.font), ""
    for at, letter in enumerate(word.text):
        middle = (
            word.x_um
            + (font.width_um(word.text[:at], word.size_um) + font.width_um(word.text[: at + 1], word.size_um)) / 2
        )
        if any(line.x1_um <= middle <= line.x2_um for line in lines):
            marked += letter
    return marked


def test_letters_that_do_not_follow_what_was_taught_stand_over_dashes(compose: Compose) -> None:
    """had: h is taught in the same unit, s says z in has and his only in unit 12; e of he says its name."""
    marked = {child_text(card): dashed_under(front(card)) for card in compose("irregular-word-card", 5)}
    assert marked == {"he": "e", "she": "e", "has": "s", "his": "s"}


def test_marks_can_be_left_out(compose: Compose) -> None:
    cards = compose("irregular-word-card", 5, options={"marks": "no"})
    assert {dashed_under(front(card)) for card in cards} == {""}
    assert not any("by heart" in text for card in cards for text in texts_of(front(card)))


def test_made_up_words_say_so_in_words_and_by_a_dashed_frame(compose: Compose) -> None:
    for card in compose("word-card", 7, options={"of": "made-up"}):
        assert "made up" in texts_of(front(card))
        assert [i for i in front(card).items if isinstance(i, Box) and i.dash]
    for card in compose("word-card", 7):
        assert "made up" not in texts_of(front(card))
        assert not [i for i in front(card).items if isinstance(i, Box) and i.dash]


def test_blank_tiles_have_a_line_and_no_letter(compose: Compose) -> None:
    without = compose("letter-tile", 3)
    with_blanks = compose("letter-tile", 3, options={"blanks": "4"})
    blanks = [p for p in with_blanks if p.title == "blank"]
    assert len(blanks) == 4
    assert len(with_blanks) == len(without) + 4
    assert child_text(blanks[0]) == ""
    assert [i for i in front(blanks[0]).items if isinstance(i, Line)]


def test_double_tile_is_twice_as_wide_with_the_same_face_left_and_right_of_the_fold(compose: Compose) -> None:
    single, double = compose("letter-tile", 6), compose("letter-tile", 6, options={"double": "yes"})
    assert [p.title for p in single] == [p.title for p in double]
    for one, two in zip(single, double, strict=True):
        half = one.format.trim.width.um
        assert two.format.trim.width.um == 2 * half
        assert two.format.trim.height == one.format.trim.height
        texts = [i for i in front(two).items if isinstance(i, Text) and i.read_by is ReadBy.CHILD]
        assert [t.text for t in texts] == [one.title, one.title]
        assert texts[1].x_um - texts[0].x_um == half
        fold = [i for i in front(two).items if isinstance(i, Line) and i.x1_um == i.x2_um == half]
        assert len(fold) == 2, "a tick at both ends of the crease"


@pytest.mark.parametrize(
    ("written", "clean", "ends"),
    [
        ("The pan / is on the dock.", "The pan is on the dock.", (7,)),
        ("Up, up / and up, / Don!", "Up, up and up, Don!", (6, 14)),
        ("“Get up, Don,” said Tam.", "“Get up, Don,” said Tam.", (8, 14)),
        ("Nid is in.", "Nid is in.", ()),
    ],
)
def test_phrases_end_where_the_author_says_else_after_commas(written: str, clean: str, ends: tuple[int, ...]) -> None:
    assert phrased(written) == (clean, ends)


def test_ticks_stand_in_the_middle_of_the_space_and_only_when_asked_for(compose: Compose) -> None:
    plain = [i for p in compose("sentence-strip", 1) for i in front(p).items if isinstance(i, Line)]
    assert plain == []
    strip = next(p for p in compose("sentence-strip", 1, options={"breaks": "yes"}) if p.title == "Nod, Nid, nod.")
    (text,) = [i for i in front(strip).items if isinstance(i, Text) and i.read_by is ReadBy.CHILD]
    ticks = [i for i in front(strip).items if isinstance(i, Line)]
    font = metrics(text.font)
    middles = [
        text.x_um
        + (font.width_um(text.text[:at], text.size_um) + font.width_um(text.text[: at + 1], text.size_um)) // 2
        for at in (4, 9)
    ]
    assert [t.x1_um for t in ticks] == middles
    assert all(t.colour != text.colour for t in ticks)


def test_strips_are_set_in_36_points_and_never_under_28(compose: Compose) -> None:
    sizes = {
        round(i.size_um * 72 / 25_400, 1)
        for unit in range(1, 13)
        for p in compose("sentence-strip", unit)
        for i in front(p).items
        if isinstance(i, Text) and i.read_by is ReadBy.CHILD
    }
    assert max(sizes) == 36
    assert min(sizes) >= 28


def test_every_word_comes_twice_and_the_rules_come_once(compose: Compose) -> None:
    cards = compose("pairs", 4)
    shown = Counter(child_text(card) for card in cards if card.title != "rules")
    assert len(shown) == 8
    assert set(shown.values()) == {2}
    (rules,) = [card for card in cards if card.title == "rules"]
    assert texts_of(front(rules), ReadBy.CHILD) == ()
    assert "8 pairs" in " ".join(texts_of(front(rules)))


def test_a_picture_is_paired_with_its_word(compose: Compose) -> None:
    cards = [c for c in compose("pairs", 4, options={"of": "pictures"}) if c.title != "rules"]
    words = [child_text(c) for c in cards if child_text(c)]
    pictures = [next(i.name for i in front(c).items if isinstance(i, Path)) for c in cards if not child_text(c)]
    assert [PictureBook().find(word).name for word in words] == pictures, "side by side, in the same order"  # type: ignore[union-attr]  # there is one
    assert len(words) == 8


def test_small_letters_are_paired_with_capitals(compose: Compose) -> None:
    cards = [c for c in compose("pairs", 1, options={"of": "letters"}) if c.title != "rules"]
    assert sorted(child_text(c) for c in cards) == ["D", "I", "N", "O", "d", "i", "n", "o"]


def test_slips_carry_a_familys_own_texts_or_lines(compose: Compose) -> None:
    texts = ("Back on Friday, please.", "I read this today")
    slips = compose("slip", 1, options={"texts": texts, "copies": "3"})
    assert Counter(" ".join(texts_of(front(s), ReadBy.ADULT)) for s in slips) == {texts[0]: 3, texts[1]: 3}
    assert len([i for i in front(compose("slip", 1)[0]).items if isinstance(i, Line)]) == 3


def test_dividers_stand_a_tab_higher_than_cards_and_their_tabs_do_not_hide_one_another(compose: Compose) -> None:
    dividers = compose("divider", 1)
    assert [d.title for d in dividers] == ["new", "review", "known"]
    card = compose("letter-card", 1)[0]
    spare = dividers[0].format.trim.height.um - card.format.trim.height.um
    spans = []
    for divider in dividers:
        (tab,) = [i for i in front(divider).items if isinstance(i, Box)]
        assert tab.y_um + tab.height_um <= spare
        spans.append((tab.x_um, tab.x_um + tab.width_um))
    assert all(a[1] <= b[0] + 1 for a, b in pairwise(spans))
