"""Layouts to steps at the trimmer: which stacks, and the strokes in order with their edge-stop settings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.sheets import Run, Sheet, SheetLayout, Stroke
from kitbuilder.model.minutes import Minutes
from kitbuilder.model.press import Press
from kitbuilder.prep.cautions import BLADE
from kitbuilder.prep.steps import CutPass, LayoutPicture, Row, Step, StepKind, StrokeLine
from kitbuilder.prep.wording import many, measure, span, stock_words, whole_minutes

SQUARE = "Knock two edges of a stack on the table until no sheet stands out."
STROKE_BY_STROKE = (
    "Begin with the front upwards, as drawn; the blade runs away from you, the edge stop is on its left. For each "
    "stroke slide the stop to the measure beside its number, push the paper's straight edge against it, and cut."
)
SIXTEENTHS = "Settings are to the nearest 1/16 in; where a cut line is printed, the line decides."
_TURNS = {1: "a quarter to the left", 2: "half round", 3: "a quarter to the right"}


def cut_steps(plan: PackPlan, press: Press) -> Iterator[Step]:
    """Yield one step for each layout that is cut, in the order its sheets are printed."""
    for index, run in enumerate(plan.runs):
        for layout in run.layouts:
            if layout.strokes:
                file = next(f.name for f in plan.files if f.run == index and f.pages[0].side == "front")
                yield _cut(run, layout, press, file)


def stacks_of(run: Run, layout: SheetLayout) -> tuple[tuple[tuple[int, Sheet], ...], ...]:
    """Return the layout's stacks, each with its sheets and their numbers in the run, top first."""
    own = [(number, sheet) for number, sheet in enumerate(run.sheets, 1) if sheet.layout.id == layout.id]
    return tuple(tuple(stack) for _, stack in groupby(own, key=lambda pair: pair[1].stack))


def stack_minutes(strokes: Iterable[Stroke], minutes: Minutes) -> float:
    """Return how long one stack takes: squared once, the stop moved whenever its setting changes, each stroke made."""
    total, stop = minutes.square_stack, None
    for stroke in _once(strokes):
        total += minutes.stroke
        if stroke.fence_um != stop:
            total += minutes.set_stop
            stop = stroke.fence_um
    return total


def _cut(run: Run, layout: SheetLayout, press: Press, file: str) -> Step:
    stacks = stacks_of(run, layout)
    each = stack_minutes(layout.strokes, press.minutes)
    what = stock_words(run.setup.stock)
    sentences = [STROKE_BY_STROKE]
    if max(map(len, stacks)) > 1:
        sentences.insert(0, SQUARE)
    if len(stacks) > 1:
        sentences.append("Cut one stack at a time, each with the same strokes.")
    if press.trimmer.inches:
        sentences.append(SIXTEENTHS)
    return Step(
        StepKind.CUT,
        f"Cut layout {layout.id}: {many(sum(map(len, stacks)), 'sheet')} of {what}",
        whole_minutes(each * len(stacks)),
        children_may_help=False,
        settings=(("From", file),),
        sentences=tuple(sentences),
        rows=tuple(_stack_row(layout, stack, each) for stack in stacks),
        passes=tuple(cut_passes(layout.strokes, inches=press.trimmer.inches)),
        cautions=(BLADE,),
        picture=LayoutPicture(layout.id),
    )


def _stack_row(layout: SheetLayout, stack: tuple[tuple[int, Sheet], ...], minutes: float) -> Row:
    number = stack[0][1].stack
    first, last = stack[0][0], stack[-1][0]
    sheets = f"sheet {first}" if first == last else f"sheets {span(first, last)}, {first} on top"
    return Row(f"Stack {number}", sheets, (f"{layout.id}{number}",), minutes)


def cut_passes(strokes: Iterable[Stroke], *, inches: bool) -> Iterator[CutPass]:
    """Yield the strokes in order, a new pass wherever other paper comes under the blade or it is turned."""
    groups: list[list[Stroke]] = []
    for stroke in _once(strokes):
        if not groups or stroke.turn or stroke.strip != groups[-1][0].strip:
            groups.append([])
        groups[-1].append(stroke)
    before = ""
    for group in groups:
        lines = tuple(StrokeLine(s.number, measure(s.fence_um, inches=inches)) for s in group)
        yield CutPass(_heading(group[0], group[0].strip == before), lines)
        before = group[0].strip


def _once(strokes: Iterable[Stroke]) -> Iterator[Stroke]:
    """Yield each stroke once: one that cuts several strips side by side has a line for each of them."""
    number = 0
    for stroke in strokes:
        if stroke.number != number:
            number = stroke.number
            yield stroke


def _heading(stroke: Stroke, same: bool) -> str:
    """Return what is under the blade and how to turn it first: `Strips B and C, side by side: turn them half round`."""
    several = stroke.regrouped > 1
    turn = f"turn {'them' if several else 'it'} {_TURNS[stroke.turn % 4]}" if stroke.turn % 4 else ""
    if same and turn:
        return turn.capitalize()
    name = stroke.strip[:1].upper() + stroke.strip[1:] + (", side by side" if several else "")
    return f"{name}: {turn}" if turn else name
