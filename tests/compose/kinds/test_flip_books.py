"""Flip books: whatever is turned up is a word or a good made-up word."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise, product

import pytest

from kitbuilder.artwork.frame import Box, Line, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.model.home import Home
from kitbuilder.model.learners import Learner
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.nonsense_words import judge_nonsense

Compose = Callable[..., tuple[Piece, ...]]
FEWEST_SLOTS_FOUR = 5  # the first unit with words of four parts: -s is taught


def stacks(pieces: tuple[Piece, ...]) -> list[list[str]]:
    found: dict[str, list[str]] = {}
    for piece in pieces:
        if piece.title != "base":
            (letters,) = texts_of(piece.pages[0].frame, ReadBy.CHILD)
            found.setdefault(piece.colour, []).append(letters)
    return list(found.values())


@pytest.mark.parametrize("slots", [2, 3, 4])
@pytest.mark.parametrize("unit", range(1, 13))
def test_nothing_bad_can_be_turned_up(unit: int, slots: int, compose: Compose, reader: Reader, home: Home) -> None:
    pieces = compose("flip-book", unit, options={"slots": str(slots)})
    if slots == 4 and unit < FEWEST_SLOTS_FOUR:
        assert pieces == ()
        return
    leaves = stacks(pieces)
    assert len(leaves) == slots
    real = made_up = 0
    for parts in product(*leaves):
        text = "".join(parts)
        if reader.verdict(text, unit).verdict == "decodable":
            real += 1
        else:
            assert judge_nonsense(text, reader, unit).accepted, f"{text} can come up"
            made_up += 1
    assert real + made_up >= 2
    assert real >= made_up or unit >= 10, f"{real} words, {made_up} made up"
    told = " ".join(texts_of(pieces[0].pages[0].frame, ReadBy.ADULT))
    assert f"{real} real words" in told


def test_the_units_own_letters_are_on_the_leaves(compose: Compose) -> None:
    first = set(stacks(compose("flip-book", 8))[0])
    assert len({"ch", "f", "w"} & first) >= 2, "a third letter may have to go where it would make a word no one wants"


def test_leaves_fit_their_slots(compose: Compose) -> None:
    for slots, edge in product(("2", "3", "4"), ("top", "side")):
        base, *leaves = compose("flip-book", 8, options={"slots": slots, "edge": edge})
        boxes = [i for i in base.pages[0].frame.items if isinstance(i, Box)]
        assert len(boxes) == int(slots)
        for leaf in leaves:
            assert (leaf.format.trim.width.um, leaf.format.trim.height.um) == (boxes[0].width_um, boxes[0].height_um)
        assert max(b.x_um + b.width_um for b in boxes) <= base.format.trim.width.um
        if edge == "side":  # a turned leaf covers no letter: it needs its own width beside its slot
            xs = sorted(b.x_um for b in boxes)
            assert xs[0] >= boxes[0].width_um
            assert all(b - a >= 2 * boxes[0].width_um - 2 for a, b in pairwise(xs))


@pytest.mark.parametrize(("left_handed", "right_side"), [("no", False), ("yes", True)])
def test_leaves_are_held_at_the_right_for_a_left_handed_child(
    left_handed: str, right_side: bool, compose: Compose
) -> None:
    child = Learner.model_validate({"code": "moss", "at": 8, "left-handed": left_handed})
    _, leaf, *_ = compose("flip-book", 8, learner=child, options={"edge": "side"})
    staples = [i for i in leaf.pages[0].frame.items if isinstance(i, Line) and not i.dash]
    (letters,) = [i for i in leaf.pages[0].frame.items if isinstance(i, Text) and i.read_by is ReadBy.CHILD]
    assert len(staples) == 2
    assert all((line.x1_um > letters.x_um) is right_side for line in staples)


@pytest.mark.parametrize("edge", ["top", "side"])
def test_all_letters_of_a_book_are_of_one_size(edge: str, compose: Compose) -> None:
    for slots in ("2", "3", "4"):
        sizes = {
            i.size_um
            for leaf in compose("flip-book", 10, options={"slots": slots, "edge": edge})[1:]
            for i in leaf.pages[0].frame.items
            if isinstance(i, Text) and i.read_by is ReadBy.CHILD
        }
        assert len(sizes) == 1
        assert sizes.pop() * 72 / 25_400 >= 26 - 0.1


def test_letters_of_the_familys_own_are_taken_when_all_goes_well(compose: Compose) -> None:
    pieces = compose("flip-book", 4, options={"letters": ("b r", "a u", "g t n")})
    assert stacks(pieces) == [["b", "r"], ["a", "u"], ["g", "t", "n"]]


def test_bad_combinations_of_the_familys_own_letters_are_told_with_a_way_out(compose: Compose) -> None:
    with pytest.raises(ProblemsFound) as caught:
        compose("flip-book", 4, options={"letters": ("t b", "i a", "t g")})
    (problem,) = caught.value.problems
    assert problem.code == "bad-combination"
    assert "tit" in problem.message
    assert "leave it out" in problem.hint


def test_letters_for_too_many_slots_are_refused(compose: Compose) -> None:
    with pytest.raises(ProblemsFound, match="2 to 4 slots"):
        compose("flip-book", 4, options={"letters": ("b", "a", "g", "s", "s")})


@pytest.mark.parametrize("edge", ["top", "side"])
def test_every_leaf_says_to_the_adult_which_stack_it_belongs_to(edge: str, compose: Compose) -> None:
    base, *leaves = compose("flip-book", 8, options={"edge": edge})
    named = [text for text in texts_of(base.pages[0].frame, ReadBy.ADULT) if text in ("stack 1", "stack 2", "stack 3")]
    assert [f"stack {text}" for leaf in leaves for text in texts_of(leaf.pages[0].frame, ReadBy.ADULT)] == [
        leaf.title.split(":")[0] for leaf in leaves
    ]
    assert {leaf.title.split(":")[0] for leaf in leaves} == set(named)
