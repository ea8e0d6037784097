"""Copywork, dictation, unit checks, records, charts and retelling: whole pages for one child and the adult."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from kitbuilder.artwork.frame import Box, Line, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.model.home import Home
from kitbuilder.model.learners import Learner
from kitbuilder.model.text import Placed

Compose = Callable[..., tuple[Piece, ...]]
KINDS = ("copywork", "dictation", "unit-check", "record-page", "practice-chart", "retell-page")


def child(**more: Any) -> Learner:
    return Learner.model_construct(
        **{"code": Placed("wren"), "at": 1, "forms": 1, "left_handed": False, "age": None, **more}
    )


def rules_of(piece: Piece, thickest: int = 350) -> list[int]:
    """The levels of the baselines: the strongest of the four rules."""
    return sorted({i.y1_um for i in piece.pages[0].frame.items if isinstance(i, Line) and i.width_um == thickest})


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", range(1, 13))
@pytest.mark.parametrize("kind", KINDS)
def test_pages_of_every_unit(
    kind: str, unit: int, paper: str, compose: Compose, sound: Callable[..., None], readable: Callable[..., None]
) -> None:
    pieces = compose(kind, unit, paper, child())
    assert pieces
    sound(pieces)
    readable(pieces, unit)


@pytest.mark.parametrize("kind", ["copywork", "dictation", "retell-page"])
@pytest.mark.parametrize("age", [4, 8])
@pytest.mark.parametrize("left_handed", [False, True])
def test_pages_fit_the_youngest_and_the_oldest_and_left_hands(
    kind: str, age: int, left_handed: bool, compose: Compose, sound: Callable[..., None]
) -> None:
    for paper in ("a4", "letter"):
        sound(compose(kind, 10, paper, child(age=age, left_handed=left_handed)))


def test_copywork_has_the_sentence_a_frame_lines_enough_and_ticks_for_the_adult(compose: Compose, home: Home) -> None:
    pieces = compose("copywork", 7)
    assert [texts_of(p.pages[0].frame, ReadBy.CHILD) for p in pieces] == [(str(t),) for t in home.unit(7).copywork]
    for piece in pieces:
        boxes = [i for i in piece.pages[0].frame.items if isinstance(i, Box)]
        assert sum(b.width_um > 100_000 for b in boxes) == 1, "one frame"
        assert sum(b.width_um < 5_000 for b in boxes) == 4, "four ticks"
        assert len(rules_of(piece)) >= 2


def test_older_children_write_smaller_on_copywork(compose: Compose) -> None:
    (young, *_), (old, *_) = compose("copywork", 7, "a4", child(age=4)), compose("copywork", 7, "a4", child(age=8))
    assert rules_of(young)[1] - rules_of(young)[0] > rules_of(old)[1] - rules_of(old)[0]


def test_dictation_gives_the_child_lines_only_and_the_adult_the_words(compose: Compose) -> None:
    page, script = compose("dictation", 7)
    assert not texts_of(page.pages[0].frame, ReadBy.CHILD)
    assert not any(i in texts_of(page.pages[0].frame) for i in ("c", "can", "as in cup"))
    said = texts_of(script.pages[0].frame)
    assert {"c", "k", "ck", "as in cup"} <= set(said), "this unit's sounds first"
    assert "then its word" in " ".join(said), "without it nobody could tell c from k and ck"
    assert sum(t[:1].isdigit() for t in said) == 6 + 1, "six words, and the piece's id"
    assert len([i for i in page.pages[0].frame.items if isinstance(i, Box)]) == 6, "a box for each sound"


@pytest.mark.parametrize(("unit", "review"), [(6, "l"), (12, "z"), (12, "ng")])
def test_dictation_asks_for_no_earlier_sound_that_sounds_like_a_listed_one(
    unit: int, review: str, compose: Compose
) -> None:
    """ll sounds as l does, the s of rose as z, the n of wink as ng."""
    said = texts_of(compose("dictation", unit)[1].pages[0].frame)
    assert review not in said
    assert sum(text.startswith("as in ") for text in said) == 6


@pytest.mark.parametrize("kind", ["dictation", "unit-check"])
@pytest.mark.parametrize("unit", [7, 8, 9])
def test_every_new_spelling_is_met_in_the_first_words(kind: str, unit: int, compose: Compose, home: Home) -> None:
    said = [w for t in texts_of(compose(kind, unit)[1].pages[0].frame) for w in t.split() if w.isalpha() and len(w) > 1]
    for teach in home.unit(unit).teach:
        assert any(str(teach.grapheme) in w and w != str(teach.grapheme) and w != teach.keyword for w in said), teach


def test_a_unit_check_has_ten_sounds_ten_words_five_made_up_ones_and_two_sentences(
    compose: Compose, home: Home
) -> None:
    page, marks = compose("unit-check", 7)
    read = texts_of(page.pages[0].frame, ReadBy.CHILD)
    assert len([t for t in read if " " not in t]) == 25
    assert list(read[:3]) == [str(t.grapheme) for t in home.unit(7).teach]
    assert "made up" in texts_of(page.pages[0].frame)
    dashed = [i for i in page.pages[0].frame.items if isinstance(i, Box) and i.dash]
    assert len(dashed) == 1
    assert {"move on", "repeat"} <= set(texts_of(marks.pages[0].frame))
    assert set(read[:25]) <= set(texts_of(marks.pages[0].frame)), "the adult's page has the same items"


def test_words_of_a_check_have_one_size(compose: Compose) -> None:
    for unit in (9, 11, 12):
        for paper in ("a4", "letter"):
            page, marks = (p.pages[0].frame for p in compose("unit-check", unit, paper))
            words = [i for i in page.items if isinstance(i, Text) and i.read_by is ReadBy.CHILD and " " not in i.text]
            assert len({i.size_um for i in words[:10]}) == 1, "sounds"
            assert len({i.size_um for i in words[10:]}) == 1, "words and made-up words"
            marked = [i for i in marks.items if isinstance(i, Text) and i.text in {w.text for w in words[10:20]}]
            assert len({i.size_um for i in marked}) == 1


def test_who_marks_a_check_sees_which_sound_is_meant(compose: Compose) -> None:
    """In unit 12 n and s come with a second sound: the bare letters would be ticked for the first."""
    page, marks = (texts_of(p.pages[0].frame) for p in compose("unit-check", 12))
    assert {"as in wink", "as in rose"} <= set(marks)
    assert not {"as in wink", "as in rose"} & set(page)
    assert "A look at one week’s teaching, not a test of the child." in marks, "a sentence a line"


def test_words_and_sentences_of_a_dictation_end_at_one_edge(compose: Compose) -> None:
    for paper in ("a4", "letter"):
        frame = compose("dictation", 12, paper)[0].pages[0].frame
        lines = [i for i in frame.items if isinstance(i, Line)]
        longest = max(i.x2_um - i.x1_um for i in lines)
        words = [i for i in lines if i.x2_um - i.x1_um < longest * 0.6]
        ends = sorted({i.x2_um for i in words})
        assert ends[-1] == max(i.x2_um for i in lines)
        numbers = [i for i in frame.items if isinstance(i, Text) and i.text in ("2", "4", "6")]
        assert all(number.x_um - ends[0] >= 8_000 for number in numbers), "a clear gutter"
        assert len({i.x2_um - i.x1_um for i in words}) == 1


def test_a_check_of_few_words_has_a_rule_of_its_own(compose: Compose) -> None:
    """Unit 1 has four sounds and one made-up word: nine in ten of them cannot be right."""
    first, later = (" ".join(texts_of(compose("unit-check", u)[1].pages[0].frame)) for u in (1, 7))
    assert "all sounds but one" in first
    assert "9 in 10" not in first
    assert "9 in 10 sounds" in later


@pytest.mark.parametrize("unit", [1, 2, 7])
def test_a_second_form_of_a_check_has_its_sounds_in_another_order(unit: int, compose: Compose) -> None:
    one, marks, two, _ = compose("unit-check", unit, "a4", child(forms=2))
    read = [texts_of(page.pages[0].frame, ReadBy.CHILD) for page in (one, two)]
    count = sum(text.startswith("as in ") for text in texts_of(marks.pages[0].frame))
    assert read[0][:count] != read[1][:count]
    assert sorted(read[0][:count]) == sorted(read[1][:count])


def test_a_record_leaves_out_what_need_not_be_known_by_heart_any_more(compose: Compose) -> None:
    """Unit 12 brings the s of is, has and his."""
    late = {t for p in compose("record-page", 12, "a4", child()) for t in texts_of(p.pages[0].frame)}
    early = {t for p in compose("record-page", 11, "a4", child()) for t in texts_of(p.pages[0].frame)}
    assert {"is", "has", "his"} <= early
    assert not {"is", "has", "his"} & late


def test_forms_of_a_check_have_other_words(compose: Compose) -> None:
    one, _, two, _ = compose("unit-check", 7, "a4", child(forms=2))
    assert texts_of(one.pages[0].frame, ReadBy.CHILD) != texts_of(two.pages[0].frame, ReadBy.CHILD)


def test_a_record_lists_everything_the_sequence_teaches_once(compose: Compose, home: Home) -> None:
    shown = [t for p in compose("record-page", 3, "a4", child()) for t in texts_of(p.pages[0].frame)]
    keywords = [f"as in {t.keyword}" for u in home.units for t in u.teach]
    assert sorted(t for t in shown if t.startswith("as in ")) == sorted(keywords)
    assert {str(w) for u in home.units for w in u.irregular} <= set(shown)


def test_a_practice_chart_warns_against_published_figures(compose: Compose) -> None:
    (piece,) = compose("practice-chart", 3, "a4", child(), {"weeks": "8", "most": "40"})
    texts = texts_of(piece.pages[0].frame)
    assert "40" in texts
    assert "8" in texts
    assert "9" not in texts
    assert any("published figures" in t or "published" in t for t in texts)


def test_retelling_has_three_parts_a_story(compose: Compose, home: Home) -> None:
    pieces = compose("retell-page", 3)
    assert [p.title for p in pieces] == [str(b.title) for b in home.unit(3).booklets]
    assert {"beginning", "middle", "end"} <= set(texts_of(pieces[0].pages[0].frame))
    assert len([i for i in pieces[0].pages[0].frame.items if isinstance(i, Box)]) == 3


def test_another_form_of_copywork_has_other_sentences_that_are_no_longer(compose: Compose, home: Home) -> None:
    own = [str(text) for text in home.unit(4).copywork]
    one, two = compose("copywork", 4, "a4", child()), compose("copywork", 4, "a4", child(forms=2))
    assert [piece.title for piece in one] == own
    assert [piece.title for piece in two][: len(own)] == own
    more = [piece.title for piece in two][len(own) :]
    assert len(more) == len(own)
    assert set(more) <= {str(text) for text in home.unit(4).sentences}
    assert max(map(len, more)) <= max(map(len, own))
