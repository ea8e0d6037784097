"""Backs by hand: how a printer treats a pile that is put back, and the order and turn of the backs file that follow.

Whatever happens inside a printer, only this shows: which sheet the first back lands on (the first front's or the last
one's), and whether it stands like the next page of a book or upside down. Both are read off a test of two sheets.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kitbuilder.imposition.sheets import TwoSided

Face = Literal["down", "up"]
Edge = Literal["long", "short"]
_BEHIND = ("A/1", "A/2", "B/1", "B/2", "nothing")


@dataclass(frozen=True, slots=True)
class ByHandProfile:
    """How fronts come out, how the pile goes back in, and what the printer then does with the backs.

    face: the printed side of the pile as it lies after the fronts are out.
    reversed_order: the last sheet is fed first, so the backs file runs backwards.
    turned: the pile goes back with the bottom edge of the pages first into the printer; else the top edge.
    flip: the edge the backs follow when the top edge goes in first: long is upright like the next page of a book.
    tray_face: the printed side of the pile as it lies in the tray for the backs.
    """

    face: Face = "down"
    reversed_order: bool = False
    turned: bool = False
    flip: Edge = "long"
    tray_face: Face = "down"


def backs_order(sheets: int, profile: ByHandProfile) -> tuple[int, ...]:
    """Return, for each page of the backs file in turn, the sheet it belongs to, counted from 0 in the fronts file."""
    order = range(sheets)
    return tuple(reversed(order)) if profile.reversed_order else tuple(order)


def backs_turn(profile: ByHandProfile) -> int:
    """Return the quarter turns, 0 or 2, that a pile put back end for end adds to backs laid out for `flip`.

    `backs_two_sided` has it in already: use one or the other.
    """
    return 2 if profile.turned else 0


def backs_two_sided(profile: ByHandProfile) -> TwoSided:
    """Return the edge to lay out the backs for (`registration.back_area`): half a turn changes long into short."""
    return TwoSided.LONG if (profile.flip == "long") != profile.turned else TwoSided.SHORT


def profile_from_answers(
    face: str,
    behind_a: str,
    behind_b: str,
    arrow: str,
    *,
    turned: bool = False,
    tray_face: str = "down",
) -> ByHandProfile:
    """Return the profile from what is seen on the test: sheets A/1 and B/1, then A/2 and B/2 printed behind them.

    Args:
        face: "down" when the fronts came out with the blank side to be seen, "up" when with the printed side.
        behind_a: what stands behind A/1: "A/2" or "B/2" (and, when it went wrong, "A/1", "B/1" or "nothing").
        behind_b: the same behind B/1.
        arrow: "same" when, turning a sheet like a page of a book, both arrows point the same way, else "opposite".
        turned: the pile was put back with the bottom edge of the pages first.
        tray_face: the printed side in the tray, "down" or "up".

    Raises:
        ValueError: with a sentence for the user, when the answers contradict one another or the test went wrong.
    """
    _check_words(face=face, tray_face=tray_face, arrow=arrow)
    for sheet, seen in (("A/1", behind_a), ("B/1", behind_b)):
        _check_behind(sheet, seen, tray_face)
    if behind_a == behind_b:
        raise ValueError(
            f"{behind_a} cannot be behind both A/1 and B/1: one page of the test is printed once. "
            "Look at both sheets again"
        )
    same = arrow == "same"
    return ByHandProfile(
        face="down" if face == "down" else "up",
        reversed_order=behind_a == "B/2",
        turned=turned,
        flip="long" if same != turned else "short",
        tray_face="down" if tray_face == "down" else "up",
    )


def _check_words(face: str, tray_face: str, arrow: str) -> None:
    for name, word, allowed in (
        ("the side seen when the fronts come out", face, ("down", "up")),
        ("the side put into the tray", tray_face, ("down", "up")),
        ("the arrow", arrow, ("same", "opposite")),
    ):
        if word not in allowed:
            raise ValueError(f"{name}: the answer is '{allowed[0]}' or '{allowed[1]}', not '{word}'")


def _check_behind(sheet: str, seen: str, tray_face: str) -> None:
    if seen not in _BEHIND:
        raise ValueError(f"behind {sheet}: the answer is one of {', '.join(_BEHIND)}, not '{seen}'")
    if seen == sheet:
        raise ValueError(f"{sheet} cannot be behind itself; turn the sheet over and say what stands on its other side")
    if seen == "nothing":
        other = "up" if tray_face == "down" else "down"
        raise ValueError(
            f"nothing is printed behind {sheet}: both passes met the same side. "
            f"Put the pile back with the printed side {other} and print the test again"
        )
    if seen.endswith("/1"):
        raise ValueError(
            f"{seen} is a front and cannot be behind {sheet}: the printer printed the fronts on two sides. "
            "Switch two-sided printing off in the print window and print the test again"
        )


def reload_steps(profile: ByHandProfile) -> tuple[str, ...]:
    """Return what to do between fronts and backs, one sentence a step."""
    if profile.face == profile.tray_face:
        carry = f"The pile lies with the printed side {profile.face}: keep it that way, do not turn it over."
    else:
        carry = f"The pile lies with the printed side {profile.face}: turn the whole pile over, like a page of a book."
    edge = "bottom" if profile.turned else "top"
    return (
        "Print the whole fronts file on one side of the paper. Do not shuffle or sort the sheets.",
        "Wait until the ink is dry, and make the edges of the pile even.",
        carry,
        f"Put it into the tray: printed side {profile.tray_face}, the {edge} edge of the pages going in first.",
        "Print the whole backs file on one side of the paper.",
    )


def trial_steps(sheets: int, profile: ByHandProfile) -> tuple[str, ...]:
    """Return how to try one sheet before the rest; works whichever end of a file the printer starts with."""
    back = backs_order(sheets, profile).index(0) + 1
    edge = "bottom" if profile.turned else "top"
    steps = (
        "Print page 1 of the fronts file alone.",
        f"Put that sheet back: printed side {profile.tray_face}, the {edge} edge going in first.",
        f"Print page {back} of the backs file alone.",
        "Hold the sheet against a window: is each back behind its front, and upright? "
        "If not, stop and print the two-sheet test again.",
    )
    if sheets == 1:
        return steps
    if sheets == 2:
        return (*steps, f"If it is, go on with page 2 of the fronts, then page {3 - back} of the backs.")
    others = f"1 to {sheets - 1}" if profile.reversed_order else f"2 to {sheets}"
    return (*steps, f"If it is, go on with pages 2 to {sheets} of the fronts, then pages {others} of the backs.")
