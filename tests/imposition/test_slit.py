"""The one-slit booklet folded in space: every panel moved rigidly, uncut edges stay joined."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kitbuilder.artwork.frame import Line
from kitbuilder.artwork.piece import Making
from kitbuilder.imposition.division import divide
from kitbuilder.imposition.signatures import fold_piece

A4, LETTER, LEGAL = (210_000, 297_000), (215_900, 279_400), (215_900, 355_600)
UP = (0, -1, 0)
# Directions after folding, as images of x, y, z (matrix columns); z points away from the reader.
FLAT = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
BEHIND = ((1, 0, 0), (0, -1, 0), (0, 0, -1))  # folded backwards along the long middle line
TOWARD = ((0, 0, 1), (0, 1, 0), (-1, 0, 0))  # about a standing crease: what ran to the right now runs to the reader
FROM = ((0, 0, -1), (0, 1, 0), (1, 0, 0))


def panel_moves(paper, width):
    """For each (row, column): the rotation and the image of the panel's left end, spine at x = z = 0, heads at y = 0.

    Lower row in front. The ends are pushed together until the inner panels stand out to the front and to the back.
    """
    moves = {}
    for row, fold, out, back in ((1, FLAT, TOWARD, FROM), (0, BEHIND, FROM, TOWARD)):
        tip = -width if row == 1 else width
        moves[row, 0] = (fold, (-width, 0))
        moves[row, 1] = (paper.times(out, fold), (0, 0))
        moves[row, 2] = (paper.times(back, fold), (0, tip))
        moves[row, 3] = (fold, (0, 0))
    return moves


def folded_point(paper, move, column, width, point):
    """Where a point (x from the sheet's left, y from its middle line) of a panel goes."""
    rotation, (x0, z0) = move
    x, y, z = paper.turn(rotation, (point[0] - column * width, point[1], 0))
    return x + x0, y, z + z0


def slit_columns(flat, width, height):
    solid = [i for i in flat.front.items if isinstance(i, Line) and not i.dash]
    (slit,) = solid
    assert slit.y1_um == slit.y2_um == height
    return {c for c in range(4) if slit.x1_um <= c * width and (c + 1) * width <= slit.x2_um}


def fold_and_read(paper, flat, width, height):
    """Words in reading order from page 1, checking that the paper holds together."""
    moves = panel_moves(paper, width)
    slit = slit_columns(flat, width, height)
    for row in (0, 1):
        for column in range(3):  # standing creases: both panels keep their common edge
            x = (column + 1) * width
            for y in (0, height if row else -height):
                near = folded_point(paper, moves[row, column], column, width, (x, y))
                assert near == folded_point(paper, moves[row, column + 1], column + 1, width, (x, y))
    for column in range(4):  # the middle line: joined but where it is slit, and there it could not be joined
        ends = [(column * width, 0), ((column + 1) * width, 0)]
        lower, upper = ([folded_point(paper, moves[r, column], column, width, e) for e in ends] for r in (1, 0))
        assert (lower == upper) == (column not in slit)
    pages = {}
    for word in paper.words_on([(0, 0, 0, flat.front)], (flat.width_um, flat.height_um)):
        column, row = (word.at[0] + 4 * width) // (2 * width), int(word.at[1] > 0)
        rotation, origin = moves[row, column]
        middle = paper.turn(rotation, (width // 2, 0, 0))
        arm = tuple((a > 0) - (a < 0) for a in (middle[0] + origin[0], 0, middle[2] + origin[1]))
        assert paper.turn(rotation, word.up) == UP, f"{word.text} stands the wrong way up"
        pages[arm, paper.turn(rotation, word.faces)] = word.text
    return walk(pages)


def walk(pages):
    """The words from page 1 over its leaf to the other side, then to the page that faces it, and so on."""
    place = next(p for p, text in pages.items() if text.endswith(":1"))
    arm, normal = place
    on_the_right = (-normal[2], 0, normal[0]) == arm  # up x normal points to the right as one looks at the page
    order = []
    for step in range(8):
        order.append(pages[arm, normal])
        if step % 2 == 0:
            normal = tuple(-n for n in normal)
        else:
            arm, normal = normal, arm
    assert (arm, normal) == place
    return order, on_the_right


@pytest.mark.parametrize("sheet", [A4, LETTER, LEGAL])
@pytest.mark.parametrize("binding", ["left", "right"])
def test_one_slit_makes_a_book_of_eight_pages(paper, make_piece, sheet, binding):
    width, height = sheet[1] // 4, sheet[0] // 2
    (flat,) = fold_piece(make_piece(8, width, height, making=Making.SLIT, binding=binding), *sheet)
    order, on_the_right = fold_and_read(paper, flat, width, height)
    assert order == [f"a:{p}" for p in range(1, 9)]
    assert on_the_right == (binding == "left")
    assert flat.back is None
    assert flat.division == 1


def test_the_slit_booklet_fills_a_portrait_sheet_turned_a_quarter(make_piece):
    (flat,) = fold_piece(make_piece(8, 74_250, 105_000, making=Making.SLIT), *A4)
    (place,) = divide(flat.width_um, flat.height_um, *A4).places
    assert (place.area.width_um, place.area.height_um, place.quarter_turns) == (*A4, 1)


def test_folded_places_of_the_slit_booklet_are_those_of_its_words(paper, make_piece):
    (flat,) = fold_piece(make_piece(8, 74_250, 105_000, making=Making.SLIT), *A4)
    words = paper.words_on([(0, 0, 0, flat.front)], (flat.width_um, flat.height_um))
    for place in flat.folded:
        (word,) = [w for w in words if w.text == f"a:{place.page}"]
        x, y = (word.at[0] + flat.width_um) // 2 - place.x_um, (word.at[1] + flat.height_um) // 2 - place.y_um
        assert (x, y) == ((74_250 // 3, 21_000) if place.quarter_turns == 0 else (74_250 * 2 // 3, 84_000))
    assert sorted(p.page for p in flat.folded if p.quarter_turns == 2) == [2, 3, 4, 5]


def test_a_wrong_order_or_an_upright_upper_row_is_caught(paper, make_piece):
    (flat,) = fold_piece(make_piece(8, 74_250, 105_000, making=Making.SLIT), *A4)
    items = list(flat.front.items)
    upright = [replace(i, quarter_turns=0) if getattr(i, "quarter_turns", 0) else i for i in items]
    with pytest.raises(AssertionError, match="wrong way up"):
        fold_and_read(paper, replace(flat, front=replace(flat.front, items=tuple(upright))), 74_250, 105_000)
    items[0], items[1] = replace(items[0], frame=items[1].frame), replace(items[1], frame=items[0].frame)
    order, _ = fold_and_read(paper, replace(flat, front=replace(flat.front, items=tuple(items))), 74_250, 105_000)
    assert order != [f"a:{p}" for p in range(1, 9)]


def test_slit_and_folds_stay_out_of_the_pages_text(make_piece):
    """Dashed folds lie on page edges only; the solid slit spans the two inner columns."""
    (flat,) = fold_piece(make_piece(8, 74_250, 105_000, making=Making.SLIT), *A4)
    lines = [i for i in flat.front.items if isinstance(i, Line)]
    assert sum(not line.dash for line in lines) == 1
    for line in lines:
        assert line.x1_um == line.x2_um in (74_250, 148_500, 222_750) or line.y1_um == line.y2_um == 105_000


@pytest.mark.parametrize("count", [4, 7, 12])
def test_only_eight_pages_fit_one_slit(make_piece, count):
    with pytest.raises(ValueError, match="8 pages"):
        fold_piece(make_piece(count, 74_250, 105_000, making=Making.SLIT), *A4)


def test_pages_that_are_no_eighth_of_the_sheet_are_refused(make_piece):
    with pytest.raises(ValueError, match="do not make the sheet"):
        fold_piece(make_piece(8, 74_000, 105_000, making=Making.SLIT), *A4)
