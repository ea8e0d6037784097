"""The judge finds each kind of fault it is there for."""

from dataclasses import replace

import pytest

from kitbuilder.packing.check import faults
from kitbuilder.packing.problem import Cut, Layout, Part, Problem, Slot, Solution

PROBLEM = Problem(100, 50, (Part(60, 50, 1, False), Part(50, 20, 1)), blade_um=60)
SOUND = Layout(
    1,
    (Slot(0, 0, 0, 60, 50, False), Slot(1, 60, 0, 20, 50, True)),
    (Cut("x", 60, 0, 50, 1), Cut("x", 80, 0, 50, 1)),
)


def verdict(layout: Layout, problem: Problem = PROBLEM, bound: int = 1) -> tuple[str, ...]:
    return faults(problem, Solution((layout,), bound, "", 0, ()))


def test_sound_layout_passes() -> None:
    assert verdict(SOUND) == ()


@pytest.mark.parametrize(
    ("slots", "words"),
    [
        ((SOUND.slots[0],), "0 slots for 1 wanted"),
        ((replace(SOUND.slots[0], turned=True), SOUND.slots[1]), "may not be"),
        ((replace(SOUND.slots[0], width_um=59), SOUND.slots[1]), "size of its part"),
        ((replace(SOUND.slots[0], x_um=1), SOUND.slots[1]), "too close"),
        ((SOUND.slots[0], replace(SOUND.slots[1], x_um=81)), "leaves the sheet"),
        ((SOUND.slots[0], replace(SOUND.slots[1], x_um=75)), "flat is left inside the scrap"),
        ((SOUND.slots[0], replace(SOUND.slots[1], x_um=79)), "do not free"),
    ],
)
def test_wrong_slots_are_named(slots: tuple[Slot, ...], words: str) -> None:
    assert words in " ".join(verdict(replace(SOUND, slots=slots)))


@pytest.mark.parametrize(
    ("cuts", "words"),
    [
        (SOUND.cuts[:1], "do not free"),
        ((Cut("y", 50, 0, 100, 1), *SOUND.cuts), "edge to edge"),
        ((Cut("x", 60, 0, 40, 1), SOUND.cuts[1]), "edge to edge"),
        ((Cut("y", 20, 0, 100, 1), *SOUND.cuts), "longer than the blade"),
        ((Cut("x", 30, 0, 50, 1), *SOUND.cuts), "do not free"),
    ],
)
def test_wrong_cuts_are_named(cuts: tuple[Cut, ...], words: str) -> None:
    assert words in " ".join(verdict(replace(SOUND, cuts=cuts)))


def test_gutter_bound_and_copies_are_judged() -> None:
    assert "too close" in " ".join(verdict(SOUND, replace(PROBLEM, gutter_um=1)))
    assert "above the 1 sheets" in " ".join(verdict(SOUND, bound=2))
    assert "0 copies" in " ".join(verdict(replace(SOUND, copies=0)))
