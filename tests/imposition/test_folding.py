"""Booklets printed, turned, cut, folded, nested and read on imagined paper: pages in order and upright."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kitbuilder.imposition.by_hand import backs_order, backs_two_sided
from kitbuilder.imposition.division import divide
from kitbuilder.imposition.registration import back_area
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.imposition.signatures import fold_piece, padding_plan, sections

A4, LETTER, LEGAL = (210_000, 297_000), (215_900, 279_400), (215_900, 355_600)
# flats per sheet -> page size on A4: A4 halved exactly (ISO 216 halves the long side; its printed sizes are rounded)
A4_PAGES = {1: (148_500, 210_000), 2: (105_000, 148_500), 4: (74_250, 105_000)}
LETTER_PAGES = {1: (139_700, 215_900), 2: (107_950, 139_700), 4: (69_850, 107_950)}
CASES = [(A4, n, size) for n, size in A4_PAGES.items()] + [(LETTER, n, size) for n, size in LETTER_PAGES.items()]
NAMES = {A4: "A4", LETTER: "Letter"}
CALIPER = 100


def impose(flats, sheet, two_sided):
    """Flats of one size, dealt to the places of as many sheets as they need: (front page, back page), and the cuts."""
    divided = divide(flats[0].width_um, flats[0].height_um, *sheet)
    sides = []
    for start in range(0, len(flats), len(divided.places)):
        front, back = [], []
        for flat, place in zip(flats[start : start + len(divided.places)], divided.places, strict=False):
            front.append((place.area.x_um, place.area.y_um, place.quarter_turns, flat.front))
            area, turns = back_area(place.area, place.quarter_turns, *sheet, two_sided)
            back.append((area.x_um, area.y_um, turns, flat.back))
        sides.append((front, back))
    return sides, divided.cuts


def booklets_off_the_trimmer(paper, sheets, cuts):
    """All cuttings sorted as a person would: by the letter on them, then by their lowest page number."""
    found = {}
    for piece in (p for s in sheets for p in paper.cut(s, cuts)):
        if piece.marks:
            found.setdefault(piece.marks[0].text[0], []).append(piece)
    return {
        letter: sorted(pieces, key=lambda p: min(int(m.text.split(":")[1]) for m in p.marks))
        for letter, pieces in sorted(found.items())
    }


def expected(prefix, count):
    return [None if i is None else f"{prefix}:{i + 1}" for i in padding_plan(["page"] * count)]


def numbers(pages):
    """The word on each page met, None for an empty one; fails when one lies crooked or two share a page."""
    assert all(len(p) <= 1 for p in pages)
    assert all(m.up == (0, -1, 0) for p in pages for m in p), "a page stands the wrong way up"
    return [p[0].text if p else None for p in pages]


@pytest.mark.parametrize("binding", ["left", "right"])
@pytest.mark.parametrize("edge", ["long", "short"])
@pytest.mark.parametrize(("sheet", "division", "page"), CASES, ids=[f"{NAMES[s]}-{n}-up" for s, n, _ in CASES])
def test_every_booklet_reads_in_order_and_upright(paper, make_piece, sheet, division, page, edge, binding):
    two_sided = TwoSided(edge)
    for count in range(1, 49):
        pieces = [
            make_piece(count, *page, prefix=letter, binding=binding) for letter in "abc"[: 1 if count > 16 else 3]
        ]
        flats = [f for p in pieces for f in fold_piece(p, *sheet, CALIPER, 12)]
        assert {f.division for f in flats} == {division}
        sides, cuts = impose(flats, sheet, two_sided)
        printed = [paper.print_both(sheet, front, back, edge) for front, back in sides]
        found = booklets_off_the_trimmer(paper, printed, cuts)
        assert list(found) == [p.id[-1] for p in pieces]
        for letter, cuttings in found.items():
            assert numbers(paper.read(paper.nest(cuttings, binding))) == expected(letter, count)


@pytest.mark.parametrize("sheet", [(297_000, 210_000), LEGAL, (279_400, 431_800), (211_001, 300_003)])
@pytest.mark.parametrize("edge", ["long", "short"])
@pytest.mark.parametrize("division", [1, 2, 4])
def test_landscape_long_and_odd_sheets_fold_too(paper, make_piece, sheet, edge, division):
    across, along = sorted(sheet)
    page = {1: (along // 2, across), 2: (across // 2, along // 2), 4: (along // 4, across // 2)}[division]
    flats = fold_piece(make_piece(16, *page), *sheet, CALIPER, 12)
    assert {f.division for f in flats} == {division}
    sides, cuts = impose(flats, sheet, TwoSided(edge))
    printed = [paper.print_both(sheet, front, back, edge) for front, back in sides]
    cuttings = booklets_off_the_trimmer(paper, printed, cuts)["a"]
    assert numbers(paper.read(paper.nest(cuttings))) == expected("a", 16)


@pytest.mark.parametrize("binding", ["left", "right"])
def test_every_word_lies_where_its_page_puts_it_but_for_creep(paper, make_piece, binding):
    """Text starts a third in and a fifth down its page; sheet k of a nest moves it (k - 1) calipers to the spine."""
    width, height = A4_PAGES[2]
    flats = fold_piece(make_piece(16, width, height, binding=binding), *A4, CALIPER, 12)
    sides, cuts = impose(flats, A4, TwoSided.LONG)
    sheets = [paper.print_both(A4, front, back, "long") for front, back in sides]
    met = paper.read(paper.nest(booklets_off_the_trimmer(paper, sheets, cuts)["a"], binding))
    for page, (mark,) in enumerate(met, 1):
        leaf = (page - 1) // 2
        sheet_in_nest = min(leaf, 7 - leaf)  # 0 for the outermost of four sheets, so eight leaves
        to_the_right_of_the_spine = (page % 2 == 1) == (binding == "left")
        left_of_page = -sheet_in_nest * CALIPER if to_the_right_of_the_spine else sheet_in_nest * CALIPER - width
        assert mark.at[0] == 2 * (left_of_page + width // 3)
        assert mark.at[1] == 2 * (height // 5) - height


def test_folded_says_where_each_page_is(paper, make_piece):
    """The places written down for other tools are those of the words on the flat, but for creep."""
    for binding in ("left", "right"):
        for flat in fold_piece(make_piece(24, *A4_PAGES[1], binding=binding), *A4, CALIPER, 12):
            for side, frame in (("front", flat.front), ("back", flat.back)):
                words = paper.words_on([(0, 0, 0, frame)], (flat.width_um, flat.height_um))
                places = [p for p in flat.folded if p.side == side]
                assert len(places) == len(words) == 2
                for place in places:
                    (word,) = [w for w in words if w.text == f"a:{place.page}"]
                    x = (word.at[0] + flat.width_um) // 2 - place.x_um
                    assert abs(x - place.width_um // 3) <= 5 * CALIPER
                    assert place.quarter_turns == 0


def test_sections_are_nested_each_for_itself_and_laid_in_order(paper, make_piece):
    page = A4_PAGES[1]
    for limit in (1, 2, 3, 5, 12):
        flats = fold_piece(make_piece(48, *page), *A4, CALIPER, limit)
        sides, cuts = impose(flats, A4, TwoSided.SHORT)
        cuttings = booklets_off_the_trimmer(paper, [paper.print_both(A4, f, b, "short") for f, b in sides], cuts)["a"]
        leaves, at = [], 0
        for size in sections(48, limit):
            assert size <= limit
            leaves += paper.nest(cuttings[at : at + size])
            at += size
        assert numbers(paper.read(leaves)) == expected("a", 48)


def test_a_card_cover_round_several_sections_reads_in_order(paper, make_piece):
    flats = fold_piece(make_piece(48, *A4_PAGES[1], cover_stock="card"), *A4, CALIPER, 6)
    assert [f.stock for f in flats] == ["card"] + ["plain"] * 11
    sides, cuts = impose(flats, A4, TwoSided.LONG)
    by_page = booklets_off_the_trimmer(paper, [paper.print_both(A4, f, b, "long") for f, b in sides], cuts)["a"]
    front, rear = paper.fold(by_page[0])
    inner = paper.nest(by_page[1:7]) + paper.nest(by_page[7:])
    assert numbers(paper.read([front, *inner, rear])) == expected("a", 48)


@pytest.mark.parametrize("turned", [False, True])
def test_by_hand_backs_land_behind_their_fronts_on_every_printer(paper, calibrated, make_piece, turned):
    """32 printers, tested as a parent tests, then booklets of every size through the by-hand road."""
    profiles = set()
    for printer in paper.ALL_PRINTERS:
        profile = calibrated(printer, turned)
        profiles.add(profile)
        for division, count in ((1, 4), (1, 28), (2, 20), (4, 48)):
            flats = fold_piece(make_piece(count, *A4_PAGES[division]), *A4, CALIPER, 12)
            sides, cuts = impose(flats, A4, backs_two_sided(profile))
            backs = [sides[i][1] for i in backs_order(len(sides), profile)]
            pile = printer.by_hand(A4, [front for front, _ in sides], backs, profile.tray_face, profile.turned)
            cuttings = booklets_off_the_trimmer(paper, pile, cuts)["a"]
            assert numbers(paper.read(paper.nest(cuttings))) == expected("a", count)
    assert len(profiles) >= 8


class TestMistakesAreCaught:
    """The paper model notices what would spoil a booklet."""

    def printed(self, paper, make_piece, edge="long", change=None, laid_out=TwoSided.LONG):
        flats = fold_piece(make_piece(16, *A4_PAGES[2]), *A4, CALIPER, 12)
        sides, cuts = impose(flats, A4, laid_out)
        if change:
            sides = change(sides)
        sheets = [paper.print_both(A4, f, b, edge) for f, b in sides]
        return paper.read(paper.nest(booklets_off_the_trimmer(paper, sheets, cuts)["a"]))

    def test_nothing_is_wrong_when_nothing_was_changed(self, paper, make_piece):
        assert numbers(self.printed(paper, make_piece)) == expected("a", 16)

    def test_wrong_edge(self, paper, make_piece):
        with pytest.raises(AssertionError):
            assert numbers(self.printed(paper, make_piece, edge="short")) == expected("a", 16)

    def test_one_page_swapped(self, paper, make_piece):
        def swap(sides):
            (x, y, turns, frame), *others = sides[1][1]
            left, right, *marks = frame.items
            exchanged = (replace(left, frame=right.frame), replace(right, frame=left.frame), *marks)
            return [sides[0], (sides[1][0], [(x, y, turns, replace(frame, items=exchanged)), *others])]

        assert numbers(self.printed(paper, make_piece, change=swap)) != expected("a", 16)

    def test_one_back_upside_down(self, paper, make_piece):
        def overturn(sides):
            (x, y, turns, frame), *others = sides[0][1]
            return [(sides[0][0], [(x, y, turns + 2, frame), *others]), *sides[1:]]

        with pytest.raises(AssertionError, match="wrong way up"):
            numbers(self.printed(paper, make_piece, change=overturn))

    def test_backs_in_the_wrong_order(self, paper, make_piece):
        def exchange(sides):
            return [(sides[0][0], sides[1][1]), (sides[1][0], sides[0][1])]

        assert numbers(self.printed(paper, make_piece, change=exchange)) != expected("a", 16)

    def test_mirrored_order_on_a_left_bound_booklet(self, paper, make_piece):
        flats = fold_piece(make_piece(8, *A4_PAGES[1], binding="right"), *A4, CALIPER, 12)
        sides, cuts = impose(flats, A4, TwoSided.LONG)
        cuttings = booklets_off_the_trimmer(paper, [paper.print_both(A4, f, b, "long") for f, b in sides], cuts)["a"]
        assert numbers(paper.read(paper.nest(cuttings, "left"))) != expected("a", 8)
