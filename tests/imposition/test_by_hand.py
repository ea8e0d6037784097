"""Backs by hand: orders, turns, and answers that make sense. That real printers agree is in test_folding."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from kitbuilder.artwork.frame import Frame, Text
from kitbuilder.imposition.by_hand import (
    ByHandProfile,
    backs_order,
    backs_turn,
    backs_two_sided,
    profile_from_answers,
    reload_steps,
    trial_steps,
)
from kitbuilder.imposition.registration import back_area
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.imposition.workplace import profile_of
from kitbuilder.measure.geometry import Rect
from kitbuilder.model.press import ByHand, Press, Printer

A4 = (210_000, 297_000)


def test_the_order_is_kept_or_runs_backwards():
    assert backs_order(4, ByHandProfile()) == (0, 1, 2, 3)
    assert backs_order(4, ByHandProfile(reversed_order=True)) == (3, 2, 1, 0)
    assert backs_order(1, ByHandProfile(reversed_order=True)) == (0,)
    assert backs_order(0, ByHandProfile()) == ()


@pytest.mark.parametrize("flip", ["long", "short"])
@pytest.mark.parametrize("turns", range(4))
def test_turning_the_pile_end_for_end_is_half_a_turn_of_every_back(flip, turns):
    """Laying out for `flip` and then turning the page by `backs_turn` is the same as `backs_two_sided`."""
    area = Rect(13_000, 29_000, 40_000, 40_000)
    turned = ByHandProfile(turned=True, flip=flip)
    where, back_turns = back_area(area, turns, *A4, TwoSided(flip))
    assert backs_turn(turned) == 2
    half_turned = Rect(A4[0] - where.right_um, A4[1] - where.bottom_um, where.width_um, where.height_um)
    assert back_area(area, turns, *A4, backs_two_sided(turned)) == (half_turned, (back_turns + 2) % 4)
    assert backs_two_sided(ByHandProfile(flip=flip)) is TwoSided(flip)
    assert backs_turn(ByHandProfile(flip=flip)) == 0


@pytest.mark.parametrize("landscape", [False, True])
@pytest.mark.parametrize("landscape_quarters", [1, 3])
@pytest.mark.parametrize("turned", [False, True])
def test_cards_on_any_printer_have_their_back_behind_them(paper, calibrated, landscape, landscape_quarters, turned):
    """Every printer of the model, portrait or landscape pages, cards standing every way, one to five sheets."""
    sheet = A4[::-1] if landscape else A4
    for printer in paper.ALL_PRINTERS:
        printer = replace(printer, landscape_quarters=landscape_quarters)
        profile = calibrated(printer, turned)
        edge = backs_two_sided(profile)
        for count in (1, 2, 5):
            fronts, backs = zip(*(faces(i, sheet, edge) for i in range(count)), strict=True)
            ordered = [backs[i] for i in backs_order(count, profile)]
            for printed in printer.by_hand(sheet, list(fronts), ordered, profile.tray_face, profile.turned):
                front, back = printed.marks
                assert (back.text, back.at, back.up) == (front.text, front.at, front.up)
                assert back.faces == tuple(-n for n in front.faces)


def faces(i, sheet, edge):
    w, h = 40_000, 60_000
    turns = i % 4
    area = Rect(20_000 + 1_000 * i, 30_000, *((h, w) if turns % 2 else (w, h)))
    where, back_turns = back_area(area, turns, *sheet, edge)
    front = Frame(w, h, (Text(9_000, 7_000, f"card {i}", "Andika", 1_000),))
    back = Frame(w, h, (Text(w - 9_000, 7_000, f"card {i}", "Andika", 1_000),))
    return [(area.x_um, area.y_um, turns, front)], [(where.x_um, where.y_um, back_turns, back)]


@pytest.mark.parametrize(
    ("answers", "sentence"),
    [
        (("down", "A/2", "A/2", "same"), "cannot be behind both"),
        (("down", "B/2", "B/2", "same"), "cannot be behind both"),
        (("down", "A/1", "B/2", "same"), "cannot be behind itself"),
        (("down", "B/1", "A/1", "same"), "Switch two-sided printing off"),
        (("down", "nothing", "nothing", "same"), "printed side up and print the test again"),
        (("sideways", "A/2", "B/2", "same"), "'down' or 'up', not 'sideways'"),
        (("down", "C/2", "B/2", "same"), "is one of A/1"),
        (("down", "A/2", "B/2", "left"), "'same' or 'opposite'"),
    ],
)
def test_answers_that_cannot_be_are_refused_with_a_sentence(answers, sentence):
    with pytest.raises(ValueError, match=sentence):
        profile_from_answers(*answers)


def test_the_commonest_printer():
    """Face-down exit, pile put back as it came: same order, upright (common practice, no source)."""
    assert profile_from_answers("down", "A/2", "B/2", "same") == ByHandProfile()


def test_a_pile_that_comes_out_printed_side_up_is_fed_last_sheet_first(paper, calibrated):
    """The tray prints the lower side, so the pile goes back as it lies, its last sheet on top."""
    lies_up = paper.Printer(False, True, "up", False, False)
    profile = calibrated(lies_up, turned=False)
    assert (profile.face, profile.tray_face, profile.reversed_order) == ("up", "up", True)


@pytest.mark.parametrize(
    "profile",
    [ByHandProfile(*p) for p in itertools.product(("down", "up"), (0, 1), (0, 1), ("long",), ("down", "up"))],
)
def test_the_steps_say_how_the_pile_goes_in(profile):
    steps = " ".join(reload_steps(profile))
    assert f"printed side {profile.tray_face}, the {'bottom' if profile.turned else 'top'} edge" in steps
    assert ("turn the whole pile over" in steps) == (profile.face != profile.tray_face)


def test_a_trial_takes_the_back_that_belongs_to_the_first_front():
    assert "Print page 7 of the backs file alone." in trial_steps(7, ByHandProfile(reversed_order=True))
    assert trial_steps(7, ByHandProfile(reversed_order=True))[-1].endswith("then pages 1 to 6 of the backs.")
    assert "Print page 1 of the backs file alone." in trial_steps(7, ByHandProfile())
    assert trial_steps(7, ByHandProfile())[-1].endswith("then pages 2 to 7 of the backs.")
    assert trial_steps(2, ByHandProfile())[-1].endswith("go on with page 2 of the fronts, then page 2 of the backs.")
    assert trial_steps(2, ByHandProfile(reversed_order=True))[-1].endswith("then page 1 of the backs.")
    assert len(trial_steps(1, ByHandProfile())) == 4


def test_backs_seen_head_to_foot_are_laid_out_so_and_the_pile_still_goes_in_top_edge_first():
    """Were the pile turned as well, the backs would stand upside down again."""
    press = Press.model_construct(printer=Printer.model_construct(by_hand=ByHand.model_construct(flip="short")))
    profile = profile_of(press)
    assert backs_two_sided(profile) is TwoSided.SHORT
    assert any("the top edge of the pages going in first" in step for step in reload_steps(profile))
