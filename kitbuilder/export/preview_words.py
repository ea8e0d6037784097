"""Totals, bounds and trades in the words a parent reads."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.sheets import Run, Sheet, TwoSided
from kitbuilder.prep.sorting import REVIEW_BOX
from kitbuilder.prep.wording import kind_title, many, shortened, stock_words

_SIDES = {
    TwoSided.NO: "printed on one side",
    TwoSided.LONG: "printed on both sides, turned on the long edge",
    TwoSided.SHORT: "printed on both sides, turned on the short edge",
    TwoSided.BY_HAND: "fronts first, then backs by hand",
}
_STAGES = re.compile(r"(\d)-stage|in (\w+) stages")
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_MOST_TITLES = 12


def totals(plan: PackPlan) -> tuple[str, ...]:
    """Return the sizes of the whole pack, one phrase each."""
    flats = [f for f in plan.flats if f.role == "piece"]
    return (
        many(len({f.piece_id for f in flats}), "piece"),
        many(sum(len(run.sheets) for run in plan.runs), "sheet"),
        many(sum(run.strokes for run in plan.runs), "stroke of the blade", "strokes of the blade"),
        many(len(plan.piles()), "pile"),
    )


def run_title(run: Run) -> str:
    """Return what is loaded: `Card, 3 sheets`."""
    words = stock_words(run.setup.stock)
    return f"{words[:1].upper()}{words[1:]}, {many(len(run.sheets), 'sheet')}"


def sides_words(run: Run) -> str:
    return _SIDES[run.setup.two_sided]


def bound_words(run: Run) -> str:
    """Return how few sheets it could be at best, and for which layouts that is known."""
    count, bound = len(run.sheets), run.lower_bound
    classes = [_class_words(name) for name in run.bound.split("; ") if name]
    # sheets that are cut differently are counted apart: the narrowest class is what holds for them all
    which = " and ".join(sorted(dict.fromkeys(c for c in classes if c)))
    of = f"{many(count, 'sheet')} of {stock_words(run.setup.stock)}"
    if count <= bound:
        return f"{of}; no layout{which} can use fewer."
    return f"{of}; no layout{which} can use fewer than {bound}. Whether {_between(bound, count)} would do is not known."


def _between(bound: int, count: int) -> str:
    return str(bound) if bound == count - 1 else f"{bound} to {count - 1}"


def _class_words(name: str) -> str:
    """Return what follows "no layout": nothing for a bound that holds for every layout there is."""
    if name.startswith(("any layout", "sheets divided")):
        return ""
    stages = _STAGES.search(name)
    if stages:
        word = stages[1] or stages[2]
        return f" cut in {_NUMBERS[int(word)] if word.isdigit() else word} stages"
    return f" of this kind ({name})"


def trade_words(run: Run) -> tuple[str, ...]:
    """Return what other numbers of sheets would cost or save in strokes."""
    used = len(run.sheets)
    at_hand = [strokes for sheets, strokes in run.trade if sheets == used]
    if not at_hand:
        return ()
    said = []
    for sheets, strokes in sorted(run.trade):
        more, fewer = sheets - used, min(at_hand) - strokes
        if more > 0 and fewer > 0:
            said.append(
                f"With {many(more, 'sheet')} more there would be {many(fewer, 'stroke')} fewer: "
                "write prefer: few-strokes into press.yaml."
            )
        elif more < 0 and fewer < 0:
            said.append(
                f"With {many(-more, 'sheet')} fewer there would be {many(-fewer, 'stroke')} more: "
                "write prefer: few-sheets into press.yaml."
            )
    return tuple(said)


def holds_words(flats: Iterable[Flat], titles: Mapping[str, str] | None = None) -> str:
    """Return what a sheet or pile holds, kind by kind: `Letter cards g, u, b · Booklets Gub in the Tub`."""
    by_kind: dict[str, list[Flat]] = {}
    for flat in flats:
        by_kind.setdefault(flat.kind, []).append(flat)
    return " · ".join(
        f"{kind_title(kind, titles)}: {shortened((f.title or f.id for f in own), _MOST_TITLES)}"
        for kind, own in by_kind.items()
    )


def place_words(envelope: str) -> str:
    """Return where a pile goes: `the review box`, `envelope “week 3, wren”`, `envelopes of weeks 3 to 7`."""
    if envelope == REVIEW_BOX:
        return f"the {REVIEW_BOX}"
    return f"envelopes of {envelope}" if envelope.startswith("weeks") else f"envelope “{envelope}”"


def sheet_title(run: Run, number: int) -> str:
    """Return `Card, sheet 2 of 3`."""
    words = stock_words(run.setup.stock)
    return f"{words[:1].upper()}{words[1:]}, sheet {number} of {len(run.sheets)}"


def stack_title(sheets: list[Sheet]) -> str:
    """Return `Layout C, stack 1`; sheets that are not cut make no stacks."""
    layout = sheets[0].layout
    return f"Layout {layout.id}, stack {sheets[0].stack}" if layout.strokes else f"Layout {layout.id}"
