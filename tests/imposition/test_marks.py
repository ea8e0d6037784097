"""Marks: in waste only, the ruler exactly 100 mm, cut lines never on a flat."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.artwork.frame import Frame, Group, Line, Text
from kitbuilder.imposition.division import divide
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.marks import (
    CutStyle,
    cut_marks,
    name_frame,
    ruler_frame,
    ruler_in,
    sheet_marks,
    waste_rects,
)
from kitbuilder.imposition.place import Workplace
from kitbuilder.imposition.sheet_marks import mark_sheets
from kitbuilder.imposition.sheets import Placement, PrintSetup, Run, Sheet, SheetLayout, Stroke, TwoSided
from kitbuilder.measure.geometry import Insets, Rect
from kitbuilder.measure.length import mm
from kitbuilder.packing.problem import Cut

A4 = (210_000, 297_000)
INK = Rect(5_000, 8_000, 200_000, 281_000)
CARDS = tuple(Rect(5_000 + 62_000 * i, 8_000 + 87_000 * j, 62_000, 87_000) for j in range(3) for i in range(3))
CARD_CUTS = (
    *(Cut("x", 5_000 + 62_000 * i, 0, 297_000, 1) for i in range(4)),
    *(Cut("y", 8_000 + 87_000 * j, 5_000, 191_000, 2) for j in range(4)),
)


def drawn(text):
    """Rectangles from rows of letters, one cell 10 mm; a dot is empty."""
    cells = {}
    for y, row in enumerate(text.split()):
        for x, letter in enumerate(row):
            cells.setdefault(letter, []).append((x, y))
    rects = {}
    for letter, at in cells.items():
        xs, ys = [x for x, _ in at], [y for _, y in at]
        rects[letter] = Rect(
            10_000 * min(xs), 10_000 * min(ys), 10_000 * (max(xs) - min(xs) + 1), 10_000 * (max(ys) - min(ys) + 1)
        )
    rects.pop(".", None)
    return tuple(rects[k] for k in sorted(rects))


def test_waste_is_found_drawn():
    flats = drawn(
        """
        aab..
        aab..
        cc...
        .....
        """
    )
    assert waste_rects(flats, Rect(0, 0, 50_000, 40_000)) == tuple(
        sorted(
            (Rect(30_000, 0, 20_000, 40_000), Rect(20_000, 20_000, 30_000, 20_000), Rect(0, 30_000, 50_000, 10_000)),
            key=lambda r: (r.width_um * r.height_um, r),
        )
    )


def test_a_full_sheet_has_no_waste_and_so_no_marks():
    sheet = Rect(0, 0, *A4)
    divided = divide(105_000, 148_500, *A4)
    areas = [p.area for p in divided.places]
    assert waste_rects(areas, sheet) == ()
    marks = sheet_marks(*A4, areas, INK, divided.cuts, CutStyle.NONE, ("week 3",))
    assert (marks.has_ruler, marks.has_name, marks.frame.items) == (False, False, ())


def test_the_ruler_is_a_hundred_millimetres_between_its_end_ticks():
    lines = [i for i in ruler_frame().items if isinstance(i, Line)]
    ticks = sorted(i.x1_um for i in lines if i.x1_um == i.x2_um)
    assert len(ticks) == 11
    assert ticks[-1] - ticks[0] == 100_000
    assert {b - a for a, b in itertools.pairwise(ticks)} == {10_000}
    (words,) = [i.text for i in ruler_frame().items if isinstance(i, Text)]
    assert "100 mm" in words
    assert "actual size" in words


def test_the_ruler_stands_where_it_cannot_lie():
    (group,) = ruler_in((Rect(10_000, 10_000, 9_000, 150_000),))
    assert group.quarter_turns == 1
    (group,) = ruler_in((Rect(10_000, 10_000, 150_000, 9_000),))
    assert group.quarter_turns == 0
    assert ruler_in((Rect(10_000, 10_000, 99_000, 99_000),)) is None


def boxes(frame):
    for item in frame.items:
        if isinstance(item, Group):
            w, h = (item.frame.width_um, item.frame.height_um)[:: -1 if item.quarter_turns % 2 else 1]
            yield Rect(item.x_um, item.y_um, w, h)


def test_nine_cards_leave_room_for_ruler_and_name_beside_them():
    marks = sheet_marks(*A4, CARDS, INK, CARD_CUTS, CutStyle.TICKS, ("x" * 400, "week 3, cards, sheet 1"))
    assert (marks.has_ruler, marks.has_name) == (True, True)
    ruler, name = boxes(marks.frame)
    assert not ruler.overlaps(name)
    texts = [t.text for i in marks.frame.items if isinstance(i, Group) for t in i.frame.items if isinstance(t, Text)]
    assert texts[1] == "week 3, cards, sheet 1"  # the longer name did not fit


@st.composite
def sheets_of_flats(draw):
    """Flats on a grid of random columns and rows, some of them left out; the grid's lines are the cuts."""
    xs = sorted({draw(st.integers(5, 205)) * 1_000 for _ in range(draw(st.integers(2, 6)))})
    ys = sorted({draw(st.integers(8, 289)) * 1_000 for _ in range(draw(st.integers(2, 6)))})
    cells = [Rect(x, y, r - x, b - y) for x, r in itertools.pairwise(xs) for y, b in itertools.pairwise(ys)]
    cuts = [Cut("x", x, 0, 297_000, 1) for x in xs] + [Cut("y", y, xs[0], xs[-1], 2) for y in ys]
    return tuple(c for c in cells if draw(st.booleans())), tuple(cuts)


@settings(deadline=None, derandomize=True)
@given(sheets_of_flats(), st.sampled_from(list(CutStyle)))
def test_no_mark_lies_on_a_flat_or_beyond_the_ink(sheet, style):
    areas, cuts = sheet
    marks = sheet_marks(*A4, areas, INK, cuts, style, ("week 3, cards, sheet 1",))
    found = list(boxes(marks.frame))
    assert len(found) == marks.has_ruler + marks.has_name
    for box in found:
        assert INK.contains(box)
        assert not any(box.overlaps(a) for a in areas)
        assert not any(crossed(box, cut) for cut in cuts), "a mark is whole"
    assert len(found) < 2 or not found[0].overlaps(found[1])
    for line in (i for i in marks.frame.items if isinstance(i, Line)):
        box = Rect(line.x1_um, line.y1_um, line.x2_um - line.x1_um, line.y2_um - line.y1_um)
        assert INK.contains(box)
        assert not any(strictly_inside(box, a) for a in areas)


def crossed(box, cut):
    """Whether the cut touches the box."""
    ends = ((box.x_um, box.right_um), (box.y_um, box.bottom_um))
    across, along = ends if cut.axis == "x" else ends[::-1]
    return across[0] <= cut.at_um <= across[1] and cut.from_um <= along[1] and cut.to_um >= along[0]


def strictly_inside(line, area):
    """Whether part of a standing or lying line runs inside the area, not on its edge."""
    return (
        line.x_um < area.right_um and line.right_um > area.x_um
        and line.y_um < area.bottom_um and line.bottom_um > area.y_um
    )  # fmt: skip


@settings(deadline=None, derandomize=True)
@given(sheets_of_flats())
def test_waste_is_empty_and_as_large_as_can_be(sheet):
    areas, _ = sheet
    wastes = waste_rects(areas, INK)
    for waste in wastes:
        assert INK.contains(waste)
        assert not any(waste.overlaps(a) for a in areas)
        for grown in (
            waste.inset(-1, 0, 0, 0),
            waste.inset(0, -1, 0, 0),
            waste.inset(0, 0, -1, 0),
            waste.inset(0, 0, 0, -1),
        ):
            assert not INK.contains(grown) or any(grown.overlaps(a) for a in areas)


def test_printed_cut_lines_follow_every_cut_within_the_ink():
    lines = cut_marks(CARDS, INK, CARD_CUTS, CutStyle.PRINTED)
    assert [(i.x1_um, i.y1_um, i.x2_um, i.y2_um) for i in lines] == [
        *((5_000 + 62_000 * i, 8_000, 5_000 + 62_000 * i, 289_000) for i in range(4)),
        *((5_000, 8_000 + 87_000 * j, 191_000, 8_000 + 87_000 * j) for j in range(4)),
    ]
    assert {i.width_um for i in lines} == {200}


def test_ticks_are_short_and_lie_at_both_ends_of_a_cut():
    lines = cut_marks(CARDS, INK, CARD_CUTS[1:2], CutStyle.TICKS)
    assert [(i.x1_um, i.y1_um, i.x2_um, i.y2_um) for i in lines] == [
        (67_000, 8_000, 67_000, 10_500),  # cards begin at the edge of the ink: half a tick, on their common edge
        (67_000, 284_000, 67_000, 289_000),  # below the cards there is waste
    ]


def test_no_cut_marks_when_none_are_wanted():
    assert cut_marks(CARDS, INK, CARD_CUTS, CutStyle.NONE) == ()


def test_a_name_is_as_wide_as_its_text():
    assert name_frame("week 3").width_um < name_frame("week 3, sheet 12").width_um


@pytest.mark.parametrize("axis", ["x", "y"])
def test_a_cut_outside_the_ink_is_not_drawn(axis):
    assert cut_marks((), INK, (Cut(axis, 2_000, 0, 200_000, 1),), CutStyle.PRINTED) == ()


MIDDLE = (Cut("x", 105_000, 0, 297_000, 1),)
BOTTOM = Rect(5_000, 8_000, 200_000, 270_000)  # below it a strip as wide as the sheet, 11 mm high


def test_a_ruler_is_crossed_by_cuts_only_where_that_is_allowed():
    kept_clear = sheet_marks(*A4, (BOTTOM,), INK, MIDDLE, CutStyle.PRINTED, ("card 1/2",))
    assert (kept_clear.has_ruler, kept_clear.has_name) == (False, True)
    assert not any(crossed(box, cut) for box in boxes(kept_clear.frame) for cut in MIDDLE)
    assert sheet_marks(*A4, (BOTTOM,), INK, MIDDLE, CutStyle.PRINTED, (), across=True).has_ruler


def test_the_last_name_stands_in_small_type_in_a_strip_that_holds_no_other():
    strip = Rect(5_000, 8_000, 200_000, 278_500)  # 2.5 mm are left below it
    marks = sheet_marks(*A4, (strip,), INK, (), CutStyle.PRINTED, ("card 1 of 2, layout A", "card 1/2"))
    (name,) = (item.frame.items[0] for item in marks.frame.items if isinstance(item, Group))
    assert (name.text, name.size_um) == ("card 1/2", 1_764)


def run_of(*sheets):
    """A run of sheets typed as (areas, cuts)."""
    setup = PrintSetup("card", TwoSided.NO, "a4", *A4)
    made = []
    for number, (areas, cuts) in enumerate(sheets):
        frames = [Frame(a.width_um, a.height_um, ()) for a in areas]
        flats = [
            Flat(f"{number}{i}", "p", "s", "k", 1, None, (0, 1), 1, "card", True, f.width_um, f.height_um, f, None)
            for i, f in enumerate(frames)
        ]
        placed = tuple(Placement(flat, area, 0) for flat, area in zip(flats, areas, strict=True))
        strokes = tuple(Stroke(i, cut.axis, cut.at_um, cut.from_um, cut.to_um, 1, 0) for i, cut in enumerate(cuts, 1))
        made.append(Sheet(SheetLayout(str(number), setup, strokes, 1), placed, 1, 1))
    return Run(setup, tuple(made), tuple(s.layout for s in made), (), 1, "", 1)


PLACE = Workplace("a4", *A4, Insets(mm(5), mm(5), mm(5), mm(8)), 320_000, {})


def test_a_ruler_is_left_off_where_cuts_cross_it_when_another_sheet_of_the_file_has_one():
    crowded, roomy = ((BOTTOM,), MIDDLE), ((BOTTOM,), ())
    (run,) = mark_sheets((run_of(crowded, roomy, crowded),), PLACE, "printed")
    assert [sheet.has_ruler for sheet in run.sheets] == [False, True, False]
    (run,) = mark_sheets((run_of(crowded, crowded),), PLACE, "printed")
    assert [sheet.has_ruler for sheet in run.sheets] == [True, False], "one for the file, crossed or not"


def test_every_name_says_stock_and_number():
    narrow = Rect(5_000, 8_000, 185_000, 281_000), Rect(190_000, 8_000, 15_000, 275_000)  # a corner of 15 mm by 6 mm
    (run,) = mark_sheets((run_of((narrow, ()), ((BOTTOM,), ())),), PLACE, "printed")
    names = [
        item.frame.items[0].text
        for sheet in run.sheets
        for item in sheet.front_marks.items
        if isinstance(item, Group) and item.frame.name == "name"
    ]
    assert names == ["card 1/2", "card 2 of 2 · layout 1 · stack 1, sheet 1"]
