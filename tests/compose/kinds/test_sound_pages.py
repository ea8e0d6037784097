"""Sound boxes, missing sounds and word chains: a box a sound, the terms of RF.K.2d, one change at a time."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from kitbuilder.artwork.frame import Box, Line, Path, ReadBy, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.sound_pages import even_chunks, half_new, sound_box_pages, sound_gap_pages
from kitbuilder.model.learners import Learner
from kitbuilder.model.text import Placed
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.teaching import Teaching

Compose = Callable[..., tuple[Piece, ...]]
TILE_UM = 38_000


@pytest.fixture(scope="module")
def taught() -> Reader:
    """A child who knows a few letters, ship's sh, x, a split a_e and a three-letter igh."""
    links = "m M, a AE, t T, s S, i IH, p P, k K, c K, b B, l L, r R, x K.S, sh SH, a_e EY, igh AY, n N, d D"
    pairs = [Correspondence(*pair.split()) for pair in links.split(", ")]
    return Reader(load_lexicon("us"), (Teaching(1, tuple(pairs), ("VC", "CVC", "CCVC", "CVCC", "CCVCC")),))


def words(text: str) -> list[tuple[str, str]]:
    return [(word, "") for word in text.split()]


def rows_of(text: str, taught: Reader) -> dict[str, Any]:
    return {r["word"]: r for page in sound_box_pages(words(text), 9, taught, 1, None) for r in page["rows"]}


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", range(1, 13))
@pytest.mark.parametrize("kind", ["sound-boxes", "sound-gap", "word-chain"])
def test_pages_of_every_unit(
    kind: str, unit: int, paper: str, compose: Compose, sound: Callable[..., None], readable: Callable[..., None]
) -> None:
    pieces = compose(kind, unit, paper)
    assert pieces
    sound(pieces)
    readable(pieces, unit)


def test_one_box_a_sound_whatever_the_letters(taught: Reader) -> None:
    """Sounds counted by hand: sh-i-p, c-a-t, b-a-ck is not taught, s-p-i-n, m-a-k-e with its silent e."""
    rows = rows_of("ship cat spin stamp", taught)
    assert {w: r["count"] for w, r in rows.items()} == {"ship": 3, "cat": 3, "spin": 4, "stamp": 5}


def test_a_tile_fits_into_every_box_and_a_double_tile_where_three_letters_stand(taught: Reader) -> None:
    rows = rows_of("cat night", taught)
    assert [c["width"] for c in rows["cat"]["cells"]] == [42, 42, 42]
    assert [c["width"] for c in rows["night"]["cells"]] == [42, 80, 42]


def test_a_split_pair_is_drawn_as_one_sound_with_its_e_behind(taught: Reader) -> None:
    row = rows_of("make", taught)["make"]
    assert row["count"] == 3
    assert [c["silent"] for c in row["cells"]] == [False, False, False, True]
    assert row["links"] == ((63.0, 147.0),), "from the middle of a's box to the middle of the e"


def test_x_lies_across_two_boxes(taught: Reader) -> None:
    row = rows_of("six", taught)["six"]
    assert [c["joined"] for c in row["cells"]] == [False, False, False, True]


def test_five_boxes_go_on_a_wide_page_and_six_on_none(taught: Reader) -> None:
    pages = sound_box_pages(words("cat stamp stamps"), 9, taught, 1, None)
    assert [(p["wide"], [r["word"] for r in p["rows"]]) for p in pages] == [(False, ["cat"]), (True, ["stamp"])]


def test_printed_boxes_take_a_tile_and_four_millimetres(compose: Compose) -> None:
    pieces = (*compose("sound-boxes", 8), *compose("sound-boxes", 8, options={"of": "blank"}))
    for piece in pieces:
        boxes = [i for i in piece.pages[0].frame.items if isinstance(i, Box)]
        assert boxes
        assert all(b.width_um >= TILE_UM + 4_000 and b.height_um >= TILE_UM + 4_000 for b in boxes)


def test_blank_sets_have_two_to_five_boxes_the_last_on_a_wide_page(compose: Compose) -> None:
    upright, wide = compose("sound-boxes", 1, options={"of": "blank"})
    count = lambda piece: sum(isinstance(i, Box) for i in piece.pages[0].frame.items)  # noqa: E731  # said once
    assert (count(upright), count(wide)) == (2 + 3 + 4, 5 + 5)
    assert wide.format.trim.width > wide.format.trim.height
    assert not texts_of(upright.pages[0].frame, ReadBy.CHILD)


def test_the_word_itself_can_be_the_prompt(compose: Compose) -> None:
    (piece, *_) = compose("sound-boxes", 3, options={"prompt": "word"})
    assert len(texts_of(piece.pages[0].frame, ReadBy.CHILD)) == 3


def test_a_missing_sound_is_one_of_three_and_the_word_does_not_end_in_l_r_or_x(taught: Reader) -> None:
    """Common Core State Standards, RF.K.2d: initial, medial vowel and final sounds of CVC words, without those that
    end with /l/, /r/ or /x/."""
    pages = sound_gap_pages(words("six pal bar mat ship spin at bib"), taught, 2, "mixed", 1, None)
    rows = pages[0]["rows"]
    assert [r["word"] for r in rows] == ["mat", "ship", "bib"]
    assert [r["gap"] for r in rows] == ["initial", "medial", "final"]
    for row in rows:
        assert [c["gap"] for c in row["cells"]].count(True) == 1
        assert "".join(c["letters"] for c in row["cells"]) == row["word"]


@pytest.mark.parametrize(("position", "index"), [("initial", 0), ("medial", 1), ("final", 2)])
def test_the_position_can_be_asked_for(position: str, index: int, taught: Reader) -> None:
    (page,) = sound_gap_pages(words("mat ship bib"), taught, 2, position, 1, None)
    assert all(row["cells"][index]["gap"] for row in page["rows"])


def test_positions_are_mixed_where_every_sound_is_new(compose: Compose) -> None:
    """Unit 1 has three words of three sounds, and teaches all their letters."""
    (piece,) = compose("sound-gap", 1)
    told = " ".join(texts_of(piece.pages[0].frame, ReadBy.ADULT))
    assert [told.count(f"({place})") for place in ("initial", "medial", "final")] == [1, 1, 1]


def test_a_first_unit_has_no_second_chain_that_is_the_first_again(compose: Compose) -> None:
    wren = Learner.model_construct(code=Placed("wren"), at=1, forms=2, left_handed=False, age=None)
    assert len(compose("word-chain", 1, learner=wren)) == 1
    assert len(compose("word-chain", 5, learner=wren)) == 2


def test_pages_are_filled_evenly() -> None:
    def lengths(count: int) -> list[int]:
        items = [{"n": n} for n in range(count)]
        chunks = list(even_chunks(items, 3))
        assert [item for chunk in chunks for item in chunk] == items
        return [len(chunk) for chunk in chunks]

    assert [lengths(n) for n in (0, 1, 3, 4, 5, 7, 10)] == [[], [1], [3], [2, 2], [3, 2], [3, 2, 2], [3, 3, 2, 2]]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_rows_of_boxes_stand_in_the_middle_of_the_clear_page(paper: str, compose: Compose) -> None:
    for options in ({"of": "blank"}, {"words": "30"}):
        for piece in compose("sound-boxes", 10, paper, options=options):
            frame = piece.pages[0].frame
            boxes = [i for i in frame.items if isinstance(i, Box)]
            for level in {b.y_um for b in boxes}:
                row = [b for b in boxes if b.y_um == level]
                left, right = min(b.x_um for b in row), max(b.x_um + b.width_um for b in row)
                clear = piece.format.keep_clear
                assert left - clear.left.um == pytest.approx(frame.width_um - clear.right.um - right, abs=20)


def test_a_picture_that_has_two_names_asks_for_no_word(compose: Compose) -> None:
    """Unit 7 has kick and king; a king and a queen may share a head. The adult says such words instead."""
    shown = set()
    for unit in range(1, 13):
        for kind, options in (("sound-boxes", {"words": "30"}), ("sound-gap", {}), ("pairs", {"of": "pictures"})):
            for piece in compose(kind, unit, options=options):
                shown |= {i.name for i in piece.pages[0].frame.items if isinstance(i, Path)}
        pieces = compose("path", unit)
        shown |= {i.name for i in pieces[0].pages[0].frame.items if isinstance(i, Path)}
    assert {"cat", "duck", "ship"} <= shown
    unclear = {"person in lotus position", "runner", "loudly crying face", "droplet", "t-shirt", "grinning face", "ram"}
    assert shown.isdisjoint(unclear | {"person with crown"})


def test_words_with_a_picture_come_first_and_the_others_are_for_the_adult_to_say(compose: Compose) -> None:
    (piece,) = compose("sound-gap", 3)
    said = [t for t in texts_of(piece.pages[0].frame, ReadBy.ADULT) if t.endswith("al)")]
    assert len(said) == 6
    assert not {t.split()[1] for t in said} & set(texts_of(piece.pages[0].frame, ReadBy.CHILD))


def test_a_chain_has_a_row_of_boxes_for_each_word_and_its_solutions_on_the_strip(compose: Compose) -> None:
    (piece,) = compose("word-chain", 6)
    frame = piece.pages[0].frame
    (first,) = texts_of(frame, ReadBy.CHILD)
    strip = [i.y1_um for i in frame.items if isinstance(i, Line) and i.dash]
    assert len(strip) == 1
    solutions = [t for t in texts_of(frame, ReadBy.ADULT) if t[:1].isdigit() and "  " in t]
    assert solutions[0] == f"1  {first}"
    assert len(solutions) == 7
    boxes = [i for i in frame.items if isinstance(i, Box)]
    assert len({b.y_um for b in boxes}) == 6
    assert all(b.y_um + b.height_um < strip[0] for b in boxes)


def test_each_form_is_another_chain(compose: Compose) -> None:
    child = Learner.model_construct(code=Placed("wren"), at=1, forms=2, left_handed=False, age=None)
    one, two = compose("word-chain", 6, "a4", child)
    assert texts_of(one.pages[0].frame) != texts_of(two.pages[0].frame)


def test_a_single_wide_row_gives_way_to_the_next_word(taught: Reader) -> None:
    def shown(text: str, wanted: int) -> list[list[str]]:
        pages = sound_box_pages(words(text), wanted, taught, 1, None)
        return [[str(row["word"]) for row in page["rows"]] for page in pages]

    assert shown("cat stamp ship tan", 3) == [["cat", "ship", "tan"]]
    assert shown("cat stamp brand tan", 3) == [["cat"], ["stamp", "brand"]]
    assert shown("cat stamp", 2) == [["cat"], ["stamp"]], "there is no other word"


def test_half_of_the_words_in_boxes_are_the_units_and_pictures_come_before_bare_words() -> None:
    new, review = (
        [("van", ""), ("zip", ""), ("fox", "fox"), ("vet", "")],
        [("sun", "sun"), ("cat", "cat"), ("pig", "pig")],
    )
    assert half_new(new, review, 4)[:4] == (("fox", "fox"), ("van", ""), ("sun", "sun"), ("cat", "cat"))
    assert half_new(new, (), 4) == (("fox", "fox"), ("van", ""), ("zip", ""), ("vet", ""))


def test_what_is_left_of_two_words_is_never_the_same(taught: Reader) -> None:
    pages = sound_gap_pages(words("mat map pat bat sat cat pin bin tin"), taught, 2, "mixed", 2, None)
    left = [
        tuple("_" if cell["gap"] else cell["letters"] for cell in row["cells"])
        for page in pages
        for row in page["rows"]
    ]
    assert len(left) == len(set(left)) >= 6


@pytest.mark.parametrize("unit", range(2, 12))  # what unit 12 brings stands in no word of three sounds
def test_missing_sounds_are_those_of_the_unit_where_its_words_allow(
    unit: int, compose: Compose, reader: Reader
) -> None:
    """Of every page half the words at least hold a sound that is new in the unit; it is the one to write."""
    fresh = {g for g, _ in reader.taught(unit).covered - reader.taught(unit - 1).covered}
    for piece in compose("sound-gap", unit):
        told = texts_of(piece.pages[0].frame, ReadBy.ADULT)
        asked = [text.split()[1] for text in told if text.endswith(("(initial)", "(medial)", "(final)"))]
        holding = [word for word in asked if any(grapheme in word for grapheme in fresh)]
        assert 2 * len(holding) >= len(asked) >= 3


@pytest.mark.parametrize("unit", [5, 6, 9])
def test_a_second_chain_has_little_in_common_with_the_first(unit: int, compose: Compose) -> None:
    wren = Learner.model_construct(code=Placed("wren"), at=1, forms=2, left_handed=False, age=None)
    one, two = (
        {text.split()[1] for text in texts_of(p.pages[0].frame) if text[:1].isdigit() and len(text.split()) == 2}
        for p in compose("word-chain", unit, learner=wren)
    )
    assert 3 * len(one & two) <= 2 * len(one), "it begins elsewhere, or soon goes another way"


@pytest.mark.parametrize("kind", ["sound-gap", "word-chain", "dictation", "unit-check"])
def test_pages_of_two_forms_say_which_they_are(kind: str, compose: Compose) -> None:
    wren = Learner.model_construct(code=Placed("wren"), at=1, forms=2, left_handed=False, age=None)
    told = [" ".join(texts_of(p.pages[0].frame)) for p in compose(kind, 8, learner=wren)]
    assert sum("form 1" in text for text in told) == sum("form 2" in text for text in told) == len(told) // 2
    assert not any("form" in " ".join(texts_of(p.pages[0].frame)[:1]) for p in compose(kind, 8))
