"""A whole pack on imagined paper: every printer of the model, calibrated with the real test sheets, backs by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from kitbuilder.artwork.shipped import shipped
from kitbuilder.build import plan_pack, read_family
from kitbuilder.calibration import Answers, record
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.imposition.print_files import plan_files, trial_files
from kitbuilder.imposition.printer_test import back_page, front_page
from kitbuilder.imposition.workplace import back_rules
from kitbuilder.load.definitions import load_press
from kitbuilder.model.press import Press
from kitbuilder.request import Request


def seen_on_the_test(paper, printer, press, turned):
    """What a parent answers who put the pile back first printed side down, then, if nothing came of it, up."""
    size, edges = (press.size.width.um, press.size.height.um), press.printer.edges
    fronts = [[(0, 0, 0, front_page(name, *size, edges, ()))] for name in ("A/1", "B/1")]
    backs = [[(0, 0, 0, back_page(name, *size, edges))] for name in ("A/2", "B/2")]
    for went_in in ("down", "up"):
        pile = printer.by_hand(size, fronts, backs, went_in, turned)
        names = ("A/1", "B/1", "A/2", "B/2")
        sheets = [[m for m in sheet.marks if m.text in names] for sheet in pile]
        if any(m.faces == paper.TOWARD_READER for _, m in sheets):
            continue
        seen = {front.text: (back.text, back.up == front.up) for front, back in sheets}
        return Answers(
            behind_a=seen["A/1"][0],
            behind_b=seen["B/1"][0],
            arrows="same" if seen["A/1"][1] else "opposite",
            came_out=printer.comes_out,
            went_in=went_in,
            first_edge="bottom" if turned else "top",
        )
    raise AssertionError("neither side of the pile got printed")


def image(side):
    return [(f.area.x_um, f.area.y_um, f.quarter_turns, f.frame) for f in side.flats]


def misplaced(paper, printer, sheet, side, size):
    """The words on a real sheet's back that do not lie behind their own flat, or stand otherwise than its front."""
    wrong = []
    # a landscape page lies on portrait paper: look at the sheet as the page has it
    quarters = paper.quarters(-printer.landscape_quarters) if size[0] > size[1] else paper.IDENTITY
    marks = [m.moved(quarters) for m in sheet.marks]
    for placement in side.sheet.placements:
        back = placement.flat.back
        if back is None:
            continue
        a = placement.area
        box = (2 * a.x_um - size[0], 2 * a.y_um - size[1], 2 * a.right_um - size[0], 2 * a.bottom_um - size[1])
        inside = [m for m in marks if box[0] < m.at[0] < box[2] and box[1] < m.at[1] < box[3]]
        behind = sorted(m.text for m in inside if m.faces == paper.AWAY)
        wanted = sorted(m.text for m in paper.words_on([(0, 0, 0, back)], (back.width_um, back.height_um)))
        ups = {m.up for m in inside}
        if behind != wanted or (not placement.flat.folded and len(ups) > 1):
            wrong.append((placement.flat.id, behind, wanted, ups))
    return wrong


def print_by_hand(paper, printer, files, profile, size):
    fronts, backs = files
    pile = printer.by_hand(
        size, [image(p) for p in fronts.pages], [image(p) for p in backs.pages], profile.tray_face, profile.turned
    )
    # the pile lies as it came out; its sheets in the order of the fronts file
    in_order = {tuple(sorted(m.text for m in s.marks if m.faces == paper.TOWARD_READER)): s for s in pile}
    for side in fronts.pages:
        words = tuple(sorted(m.text for m in paper.words_on(image(side), size)))
        yield side, in_order[words]


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("size", ["a4", "letter", "297 mm x 210 mm"])
def test_every_card_and_booklet_of_a_pack_has_its_own_back_behind_it(paper, family, size, turned):
    root = family(paper=size, sides="by-hand")
    read = read_family(Request(root, 1), ProblemLog())
    plan = plan_pack(read, Request(root, 1))
    assert any(f.two_sided and f.folded for f in plan.flats)
    assert any(f.two_sided and not f.folded for f in plan.flats)
    upright = Press.model_validate({"paper": size if size in ("a4", "letter") else "a4"})
    for printer in paper.ALL_PRINTERS:
        record(root, load_press(root), seen_on_the_test(paper, printer, upright, turned))
        rules = back_rules(load_press(root))
        files = plan_files(plan.runs, rules)
        pairs = [(a, b) for a, b in pairwise(files) if b.two_sided == "by-hand-backs"]
        assert pairs
        sheet = (plan.runs[0].setup.width_um, plan.runs[0].setup.height_um)
        for pair in (*pairs, *((t, b) for t, b in zip(*_trials(files), strict=True))):
            for side, real in print_by_hand(paper, printer, pair, rules.by_hand, sheet):
                assert not misplaced(paper, printer, real, side, sheet), (printer, rules.by_hand)


def _trials(files):
    trials = trial_files(files)
    return (
        [t for t in trials if t.two_sided == "by-hand-fronts"],
        [t for t in trials if t.two_sided == "by-hand-backs"],
    )


def test_a_wrong_profile_is_noticed_on_the_imagined_paper(paper, family):
    """The check above can fail: backs for the other edge, or in the other order, do not lie behind their fronts."""
    root = family(sides="by-hand")
    many = Request(shipped("units").parent, 1, 3)  # enough cards for several sheets
    plan = plan_pack(read_family(many, ProblemLog()), many)
    printer = paper.ALL_PRINTERS[0]
    press = load_press(root)
    record(root, press, seen_on_the_test(paper, printer, press, False))
    right = back_rules(load_press(root))
    other = "short" if right.by_hand.flip == "long" else "long"
    wrong_ones = (
        replace(right.by_hand, flip=other),
        replace(right.by_hand, turned=True),
        replace(right.by_hand, reversed_order=not right.by_hand.reversed_order),
    )
    for wrong in wrong_ones:
        files = plan_files(plan.runs, replace(right, by_hand=wrong))
        found = []
        for a, b in pairwise(files):
            if b.two_sided == "by-hand-backs" and len(a.pages) > 1:
                size = (a.setup.width_um, a.setup.height_um)
                for side, real in print_by_hand(paper, printer, (a, b), right.by_hand, size):
                    found += misplaced(paper, printer, real, side, size)
        assert found, wrong
