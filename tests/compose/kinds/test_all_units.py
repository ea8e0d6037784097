"""Cards, games, charts and sheets of every unit of the starter, on A4 and on Letter: whole, and readable."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from kitbuilder.artwork.frame import Box, Line, Path, ReadBy, texts_of
from kitbuilder.artwork.outlines import commands_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.model.learners import Learner

Compose = Callable[..., tuple[Piece, ...]]
Check = Callable[..., None]

LINE_UM = 600  # half a stroke, and rounding
FOR_ALL = (
    ("irregular-word-card", {}),
    ("word-card", {}),
    ("word-card", {"of": "made-up"}),
    ("sentence-strip", {"breaks": "yes"}),
    ("letter-tile", {"double": "yes", "blanks": "3"}),
    ("tile-mat", {}),
    ("tile-mat", {"wide": "no"}),
    ("bingo", {}),
    ("bingo", {"counters": "yes"}),
    ("pairs", {}),
    ("pairs", {"of": "letters"}),
    ("pairs", {"of": "pictures"}),
    ("dice-page", {}),
    ("path", {}),
    ("sort", {}),
    ("sort", {"by": "vowels"}),
    ("sort", {"by": "first"}),
    ("reference-chart", {}),
    ("unit-sheet", {}),
    ("divider", {}),
)
MAY_BE_EMPTY = ("letter-tile", "irregular-word-card", "pairs", "sort", "word-card")  # as the unit has it
FOR_A_CHILD = (
    ("read-and-draw", {}),
    ("flip-book", {}),
    ("flip-book", {"edge": "side"}),
    ("envelope-label", {}),
    ("slip", {}),
)
LEFT_HANDED = Learner.model_validate({"code": "moss", "at": 1, "left-handed": "yes"})


def inside_the_margin(pieces: tuple[Piece, ...]) -> None:
    """No ink comes nearer to a cut than the piece's margin: lines, boxes, pictures; words are looked at by `sound`."""
    for piece in pieces:
        clear, size = piece.format.keep_clear, piece.format.trim
        least = min(clear.left.um, clear.top.um, clear.right.um, clear.bottom.um) - LINE_UM
        for item in (i for page in piece.pages for i in page.frame.items):
            for x, y in corners(item):
                where = f"{piece.kind} {piece.title}: {item}"
                assert least <= x <= size.width.um - least, where
                assert least <= y <= size.height.um - least, where


def corners(item: object) -> list[tuple[int, int]]:
    if isinstance(item, Box):
        return [(item.x_um, item.y_um), (item.x_um + item.width_um, item.y_um + item.height_um)]
    if isinstance(item, Line):
        return [(item.x1_um, item.y1_um), (item.x2_um, item.y2_um)]
    if isinstance(item, Path):
        ends = [c[-2:] for c in commands_of(item.outline) if len(c) > 1]  # control points may lie outside
        return [(int(x), int(y)) for x, y in ends]
    return []


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("kind", "options"), FOR_ALL, ids=str)
def test_pieces_for_the_family(
    kind: str, options: dict[str, str], paper: str, compose: Compose, sound: Check, readable: Check
) -> None:
    for unit in range(1, 13):
        pieces = compose(kind, unit, paper, options=options)
        sound(pieces)
        inside_the_margin(pieces)
        if kind not in ("letter-tile", "tile-mat"):  # their doubled letters and endings are tested with the box
            readable(tuple(p for p in pieces if not _is_letters(p)), unit)
        assert pieces or kind in MAY_BE_EMPTY, f"unit {unit} has none"


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("kind", "options"), FOR_A_CHILD, ids=str)
def test_pieces_for_a_child(
    kind: str, options: dict[str, str], paper: str, compose: Compose, sound: Check, readable: Check
) -> None:
    for unit in range(1, 13):
        pieces = compose(kind, unit, paper, learner=LEFT_HANDED, options=options)
        assert pieces, f"unit {unit} has none"
        assert all(p.learner == "moss" for p in pieces)
        sound(pieces)
        inside_the_margin(pieces)
        if kind != "flip-book":  # parts of words: see test_flip_books
            readable(pieces, unit)


def _is_letters(piece: Piece) -> bool:
    """Whether the piece shows single letters, endings or several graphemes side by side, and no words."""
    return (piece.kind == "pairs" and len(piece.title) <= 2) or piece.title in ("vowels", "consonants")


@pytest.mark.parametrize("unit", [1, 2, 3, 4])
@pytest.mark.parametrize("kind", ["word-card", "bingo", "read-and-draw", "irregular-word-card", "sentence-strip"])
def test_what_beginners_read_is_set_in_24_points_at_least(kind: str, unit: int, compose: Compose) -> None:
    """Common practice, no source."""
    for piece in compose(kind, unit):
        for page in piece.pages:
            for item in page.frame.items:
                if getattr(item, "read_by", None) is ReadBy.CHILD:
                    assert item.size_um * 72 / 25_400 >= 24 - 0.1, texts_of(page.frame)  # type: ignore[union-attr]  # a Text
