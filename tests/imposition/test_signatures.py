"""Flats of booklets and leaves: order, padding, sections, creep, stocks, marks."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.artwork.frame import Group, Line, Text
from kitbuilder.artwork.piece import Making
from kitbuilder.imposition.creep import creep_shift_um
from kitbuilder.imposition.signatures import fold_piece, pad_pages, padding_plan, section_note, sections

A4 = (210_000, 297_000)
A5 = (148_500, 210_000)
A6 = (105_000, 148_500)


def order_of(flats):
    return [
        tuple(p.page for p in sorted(f.folded, key=lambda p: p.x_um) if p.side == side)
        for f in flats for side in ("front", "back")
    ]  # fmt: skip


def test_eight_pages_lie_in_the_order_every_printing_handbook_gives(make_piece):
    """Outer sheet 8 1 / 2 7, inner 6 3 / 4 5 (common to the trade; also found by folding a sheet and numbering it)."""
    assert order_of(fold_piece(make_piece(8, *A5), *A4)) == [(8, 1), (2, 7), (6, 3), (4, 5)]
    assert order_of(fold_piece(make_piece(8, *A5, binding="right"), *A4)) == [(1, 8), (7, 2), (3, 6), (5, 4)]


def test_sixteen_pages_in_two_sections_of_two_sheets(make_piece):
    assert order_of(fold_piece(make_piece(16, *A5), *A4, 100, 2)) == [
        (8, 1), (2, 7), (6, 3), (4, 5), (16, 9), (10, 15), (14, 11), (12, 13),
    ]  # fmt: skip


def test_flats_are_exact_halves_of_the_sheet_and_carry_what_the_piece_says(make_piece):
    """A sheet of A4 (ISO 216: 210 x 297 mm) folds at 148.5 mm, not at the 148 mm of the rounded size."""
    piece = make_piece(8, *A5, learner="tern", colour="blue", title="Tansy Nods")
    flats = fold_piece(piece, *A4)
    assert [(f.width_um, f.height_um, f.division) for f in flats] == [(297_000, 210_000, 1)] * 2
    assert [f.id for f in flats] == ["01-BK-a.1", "01-BK-a.2"]
    assert {f.piece_id for f in flats} == {"01-BK-a"}
    assert [f.order for f in flats] == [(1, 1), (1, 2)]
    assert {(f.learner, f.colour, f.title, f.stock, f.set_id) for f in flats} == {
        ("tern", "blue", "Tansy Nods", "plain", "01-booklet")
    }


def test_a_booklet_of_one_sheet_keeps_the_pieces_id(make_piece):
    assert [f.id for f in fold_piece(make_piece(4, *A5), *A4)] == ["01-BK-a"]


def test_a_booklet_of_a_size_of_its_own_is_packed(make_piece):
    assert {f.division for f in fold_piece(make_piece(8, 70_000, 90_000), *A4)} == {0}


@pytest.mark.parametrize(("count", "padded"), [(1, 4), (4, 4), (5, 8), (47, 48), (48, 48)])
def test_pages_are_padded_to_fours(count, padded):
    assert pad_pages(count) == padded


@pytest.mark.parametrize("count", [0, -1, 49, 500])
def test_page_counts_no_booklet_has_are_refused(count):
    with pytest.raises(ValueError, match=f"4 to 48 pages, not {count}"):
        pad_pages(count)


@pytest.mark.parametrize("count", [0, 49])
def test_a_piece_with_such_a_count_is_refused_too(make_piece, count):
    with pytest.raises(ValueError, match="4 to 48 pages"):
        fold_piece(make_piece(count, *A5), *A4)


COVERS = ("cover", "page", "page", "page", "page")


@pytest.mark.parametrize(
    ("roles", "plan"),
    [
        (("page",) * 8, (0, 1, 2, 3, 4, 5, 6, 7)),
        (("page",) * 6, (0, 1, 2, 3, 4, 5, None, None)),
        ((*COVERS, "page", "page"), (0, 1, 2, 3, 4, 5, 6, None)),  # the outside of the back is left empty
        ((*COVERS, "page"), (0, None, 1, 2, 3, 4, 5, None)),  # then the inside of the front
        (COVERS, (0, None, 1, 2, 3, 4, None, None)),
        ((*COVERS, "page", "back-cover"), (0, None, 1, 2, 3, 4, 5, 6)),
        ((*COVERS, "back-cover"), (0, None, 1, 2, 3, 4, None, 5)),
        ((*COVERS[:4], "back-cover"), (0, None, 1, 2, 3, None, None, 4)),
        (("cover",), (0, None, None, None)),
    ],
)
def test_blanks_lie_where_a_reader_expects_them(roles, plan):
    assert padding_plan(roles) == plan


@settings(deadline=None, derandomize=True)
@given(st.integers(1, 48), st.booleans(), st.booleans())
def test_padding_keeps_every_page_once_in_order_with_the_covers_outside(count, front, back):
    roles = ["page"] * count
    if front:
        roles[0] = "cover"
    if back and count > 1:
        roles[-1] = "back-cover"
    plan = padding_plan(roles)
    assert [i for i in plan if i is not None] == list(range(count))
    assert len(plan) == pad_pages(count)
    assert plan[0] == 0
    if back and count > 1:
        assert plan[-1] == count - 1


@settings(deadline=None, derandomize=True)
@given(st.integers(1, 12).map(lambda n: 4 * n), st.integers(1, 25))
def test_sections_are_few_even_and_close_with_the_stapler(pages, limit):
    parts = sections(pages, limit)
    assert sum(parts) == pages // 4
    assert max(parts) <= limit
    assert max(parts) - min(parts) <= 1
    assert (len(parts) - 1) * limit < pages // 4  # one section fewer would be too thick


def test_the_note_says_how_to_join_sections(make_piece):
    assert section_note(make_piece(40, *A5), 10) == ""
    assert section_note(make_piece(48, *A5), 5) == (
        "48 pages are too thick for one staple (it closes 5 folded sheets). Make 3 sections of 4, 4 and 4 sheets: fold "
        "and staple each one, lay them on one another in order, and join them with a strip of tape along the spine."
    )
    assert "glue the cover round them" in section_note(make_piece(48, *A5, cover_stock="card"), 6)
    assert "staple the 10 inner sheets" in section_note(make_piece(44, *A5, cover_stock="card"), 10)


def test_creep_by_hand_calculation():
    """Four sheets of 0.10 mm: the innermost moves 3 x 0.10 = 0.30 mm; ten sheets: 0.9 mm (derived, flat creases)."""
    assert [creep_shift_um(k, 100) for k in (1, 2, 3, 4)] == [0, 100, 200, 300]
    assert creep_shift_um(10, 100) == 900
    assert [creep_shift_um(k, 100, 250) for k in (1, 2, 3)] == [0, 250, 350]  # inside a card cover
    with pytest.raises(ValueError, match="no creep"):
        creep_shift_um(0, 100)


def test_both_pages_of_a_spread_move_toward_the_fold(make_piece):
    flats = fold_piece(make_piece(16, *A6), *A4, 100, 10)
    for k, flat in enumerate(flats):
        for frame in (flat.front, flat.back):
            assert [i.x_um for i in frame.items if isinstance(i, Group)] == [100 * k, 105_000 - 100 * k]


def test_the_cover_is_printed_on_its_own_stock(make_piece):
    flats = fold_piece(make_piece(12, *A6, cover_stock="card"), *A4, 100, 10, 250)
    assert [f.stock for f in flats] == ["card", "plain", "plain"]
    assert [f.back.items[0].x_um for f in flats] == [0, 250, 350]


def test_sections_inside_a_cover_creep_under_it_each_for_itself(make_piece):
    """Cover, then two sections of two sheets: 0; 250, 350 and again 250, 350."""
    flats = fold_piece(make_piece(20, *A6, cover_stock="card"), *A4, 100, 2, 250)
    assert [f.stock for f in flats] == ["card"] + ["plain"] * 4
    assert [f.back.items[0].x_um for f in flats] == [0, 250, 350, 250, 350]
    assert [bool(marks(f.front)) for f in flats] == [False, True, False, True, False]  # the cover is glued, not stapled


def marks(frame):
    return [i for i in frame.items if isinstance(i, Line)]


def test_fold_and_staple_marks_lie_on_the_fold_clear_of_the_text(make_piece):
    """Staples at 1/4 and 3/4 of the height, outside of the outermost sheet (common practice, no source)."""
    outer, inner = fold_piece(make_piece(8, *A6), *A4)
    assert [(m.x1_um, m.x2_um, (m.y1_um + m.y2_um) // 2) for m in marks(outer.front)] == [
        (105_000, 105_000, 37_125), (105_000, 105_000, 111_375),
    ]  # fmt: skip
    assert marks(inner.front) == []
    for flat in (outer, inner):
        head, foot = marks(flat.back)
        assert {head.x1_um, head.x2_um, foot.x1_um, foot.x2_um} == {105_000}
        assert (head.y1_um, foot.y2_um) == (8_000, 148_500 - 8_000)  # inside what the printer reaches


def test_blank_pages_print_nothing(make_piece):
    flats = fold_piece(make_piece(5, *A6), *A4)
    assert [len([i for i in f.items if isinstance(i, Group)]) for flat in flats for f in (flat.front, flat.back)] == [
        1, 1, 1, 2,
    ]  # fmt: skip
    assert len([p for f in flats for p in f.folded]) == 8


def test_side_stapled_leaves_are_single_one_sided_and_keep_their_order(make_piece):
    piece = make_piece(5, *A6, making=Making.SIDE, keep_clear_um=14_000)
    flats = fold_piece(piece, *A4)
    assert [f.front.items[0].text for f in flats] == [f"a:{p}" for p in range(1, 6)]
    assert {f.back for f in flats} == {None}
    assert {(f.width_um, f.height_um, f.division) for f in flats} == {(*A6, 4)}
    assert [f.order for f in flats] == [(1, p) for p in range(1, 6)]


@pytest.mark.parametrize(("binding", "x"), [("left", 10_000), ("right", 95_000)])
def test_side_staples_are_marked_in_the_binding_margin_of_the_first_leaf(make_piece, binding, x):
    first, *others = fold_piece(make_piece(5, *A6, making=Making.SIDE, keep_clear_um=14_000, binding=binding), *A4)
    assert [(m.x1_um, m.x2_um, (m.y1_um + m.y2_um) // 2) for m in marks(first.front)] == [
        (x, x, 37_125),
        (x, x, 111_375),
    ]
    assert not any(marks(f.front) for f in others)


def test_leaves_bound_at_the_top_have_their_staples_there(make_piece):
    first, *_ = fold_piece(make_piece(5, *A6, making=Making.SIDE, keep_clear_um=14_000, binding="top"), *A4)
    assert [(m.y1_um, m.y2_um, (m.x1_um + m.x2_um) // 2) for m in marks(first.front)] == [
        (10_000, 10_000, 26_250), (10_000, 10_000, 78_750),
    ]  # fmt: skip


def test_a_binding_margin_under_twelve_millimetres_is_refused(make_piece):
    with pytest.raises(ValueError, match="keep 12 mm clear"):
        fold_piece(make_piece(5, *A6, making=Making.SIDE, keep_clear_um=11_000), *A4)


def test_a_folded_booklet_is_bound_at_a_side(make_piece):
    with pytest.raises(ValueError, match="on the left or the right, not 'top'"):
        fold_piece(make_piece(8, *A6, binding="top"), *A4)


def test_a_page_of_another_size_is_refused(make_piece):
    piece = make_piece(8, *A6)
    wrong = replace(piece.pages[2], frame=replace(piece.pages[2].frame, width_um=104_000))
    with pytest.raises(ValueError, match="not the trim size"):
        fold_piece(replace(piece, pages=(*piece.pages[:2], wrong, *piece.pages[3:])), *A4)


def test_a_card_is_one_flat_with_its_back(make_piece):
    (flat,) = fold_piece(make_piece(2, 62_000, 87_000, making=Making.FLAT, may_turn=False), *A4)
    assert [i.text for f in (flat.front, flat.back) for i in f.items if isinstance(i, Text)] == ["a:1", "a:2"]
    assert (flat.id, flat.division, flat.may_turn) == ("01-BK-a", 0, False)
    (one_sided,) = fold_piece(make_piece(1, *A6, making=Making.FLAT, division=4), *A4)
    assert (one_sided.back, one_sided.division) == (None, 4)
