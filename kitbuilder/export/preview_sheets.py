"""A pack's sheets as the page shows them: runs, stacks that are cut together, sheets, sides, piles, pieces."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from kitbuilder.artwork.frame import ReadBy, texts_of
from kitbuilder.export.preview_cuts import Play, play_of
from kitbuilder.export.preview_drawing import Pens, edge_id, edge_svg, mirror_of, side_svg
from kitbuilder.export.preview_words import (
    bound_words,
    holds_words,
    place_words,
    run_title,
    sheet_title,
    sides_words,
    stack_title,
    trade_words,
)
from kitbuilder.export.svg import mm
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.print_files import PrintedSide
from kitbuilder.imposition.sheets import Run, Sheet
from kitbuilder.prep.wording import many

_SPARE = re.compile(r"s\d+$")


@dataclass(frozen=True, slots=True)
class LateDrawing:
    """A side's drawing, made when the page's template comes to it: a year's drawings are never all there at once."""

    side: PrintedSide
    stack: str
    pens: Pens

    def __html__(self) -> str:
        return side_svg(self.side, self.stack, self.pens)


@dataclass(frozen=True, slots=True)
class SideView:
    name: str  # front | back
    where: str  # file and page
    svg: LateDrawing


@dataclass(frozen=True, slots=True)
class SheetView:
    index: int  # through the pack, from 0
    title: str
    holds: str
    pieces: int
    sides: tuple[SideView, ...]


@dataclass(frozen=True, slots=True)
class PileView:
    id: str
    holds: str
    pieces: int
    envelope: str


@dataclass(frozen=True, slots=True)
class StackView:
    """Sheets that are cut together, or sheets of one layout that are not cut at all."""

    index: int
    title: str
    said: str
    width_mm: str
    height_mm: str
    play: Play
    piles: tuple[PileView, ...]
    sheets: tuple[SheetView, ...]


@dataclass(frozen=True, slots=True)
class RunView:
    title: str
    sides: str
    bound: str
    trade: tuple[str, ...]
    stacks: tuple[StackView, ...]


@dataclass(frozen=True, slots=True)
class PackView:
    """All sheets of a pack; `defs` are the drawings that sheets refer to, `data` what the page's script knows.

    `data` can be read once: its rows are made while they are written.
    """

    runs: tuple[RunView, ...]
    defs: tuple[Markup, ...]
    data: Mapping[str, Iterable[Any]]


@dataclass(slots=True)
class _Counting:
    sheets: int = 0
    stacks: int = 0


@dataclass(frozen=True, slots=True)
class _Printed:
    """A side, with the file and page it is printed from."""

    side: PrintedSide
    where: str


Printed = Mapping[tuple[int, int], Sequence[_Printed]]


def pack_view(
    plan: PackPlan, pens: Pens, shared_svg: Iterable[str], *, inches: bool, kinds: Mapping[str, str] | None = None
) -> PackView:
    """Return the pack as the page shows it; `kinds` are titles by kind."""
    printed = _printed(plan)
    counting = _Counting()
    envelopes = {pile.id: pile.envelope for pile in plan.piles()}
    runs = tuple(
        RunView(
            run_title(run),
            sides_words(run),
            bound_words(run),
            trade_words(run),
            tuple(_stacks(run, index, printed, pens, counting, envelopes, inches=inches, kinds=kinds)),
        )
        for index, run in enumerate(plan.runs)
    )
    setups = dict.fromkeys(layout.setup for layout in plan.layouts())
    edges = {edge_id(setup): edge_svg(setup, pens) for setup in setups}
    stacks = [stack for run in runs for stack in run.stacks]
    defs = (*shared_svg, *edges.values(), *(_stack_defs(stack) for stack in stacks))
    return PackView(runs, tuple(map(Markup, defs)), _data(plan, stacks, pens))


def _printed(plan: PackPlan) -> Printed:
    found: dict[tuple[int, int], list[_Printed]] = {}
    for file in plan.files:
        for number, page in enumerate(file.pages, 1):
            where = f"{file.name}, page\u00a0{number}"
            found.setdefault((file.run, page.number), []).append(_Printed(page, where))
    return {key: sorted(sides, key=lambda s: s.side.side != "front") for key, sides in found.items()}


def _stacks(
    run: Run,
    run_index: int,
    printed: Printed,
    pens: Pens,
    counting: _Counting,
    envelopes: Mapping[str, str],
    *,
    inches: bool,
    kinds: Mapping[str, str] | None,
) -> Iterator[StackView]:
    for members in _grouped(run):
        sheets = [sheet for _, sheet in members]
        layout = sheets[0].layout
        index = counting.stacks
        counting.stacks += 1
        views = []
        for number, sheet in members:
            sides = printed.get((run_index, number), ())
            views.append(_sheet(run, number, sheet, sides, counting.sheets, index, pens, kinds))
            counting.sheets += 1
        yield StackView(
            index,
            stack_title(sheets),
            _stack_words(sheets),
            mm(layout.setup.width_um),
            mm(layout.setup.height_um),
            play_of(layout, sheets, inches=inches),
            tuple(_piles(sheets, envelopes, kinds)),
            tuple(views),
        )


def _grouped(run: Run) -> list[list[tuple[int, Sheet]]]:
    """Return the run's sheets with their numbers, those cut together side by side; uncut ones by layout."""
    groups: dict[tuple[str, int], list[tuple[int, Sheet]]] = {}
    for number, sheet in enumerate(run.sheets, 1):
        stack = sheet.stack if sheet.layout.strokes else 0
        groups.setdefault((sheet.layout.id, stack), []).append((number, sheet))
    return list(groups.values())


def _stack_words(sheets: Sequence[Sheet]) -> str:
    strokes = len({stroke.number for stroke in sheets[0].layout.strokes})
    count = many(len(sheets), "sheet")
    if not strokes:
        return f"{count}, nothing to cut"
    together = " cut together" if len(sheets) > 1 else ""
    return f"{count}{together}, {many(strokes, 'stroke')}"


def _sheet(
    run: Run, number: int, sheet: Sheet, sides: Sequence[_Printed], index: int, stack: int, pens: Pens,
    kinds: Mapping[str, str] | None,
) -> SheetView:  # fmt: skip
    flats = [p.flat for p in sheet.placements]
    shown = tuple(SideView(s.side.side, s.where, LateDrawing(s.side, str(stack), pens)) for s in sides)
    return SheetView(index, sheet_title(run, number), holds_words(flats, kinds), len(flats), shown)


def _piles(
    sheets: Sequence[Sheet], envelopes: Mapping[str, str], kinds: Mapping[str, str] | None
) -> Iterator[PileView]:
    held: dict[str, list[Flat]] = {}
    for sheet in sheets:
        for placement in sheet.placements:
            held.setdefault(placement.pile, []).append(placement.flat)
    for pile, flats in held.items():
        yield PileView(pile, holds_words(flats, kinds), len(flats), place_words(envelopes.get(pile, "")))


def _stack_defs(stack: StackView) -> str:
    play, n = stack.play, stack.index
    return f'<g id="p{n}">{play.piles}</g><g id="c{n}">{play.lines}</g><g id="n{n}">{play.numbers}</g>'


def _data(plan: PackPlan, stacks: Sequence[StackView], pens: Pens) -> dict[str, Iterable[Any]]:
    """Return what the script needs, in whole micrometres; every list's order is that of the page."""
    places = {stack.index: {p.pile: i for i, p in enumerate(stack.play.places)} for stack in stacks}
    shown = [sheet for run in plan.runs for members in _grouped(run) for _, sheet in members]
    stack_of = [stack.index for stack in stacks for _ in stack.sheets]
    rows = (
        _row(placement.flat, index, places[stack_of[index]][placement.pile])
        for index, sheet in enumerate(shown)
        for placement in sheet.placements
        if placement.flat.role != "blank"
    )
    return {
        "stacks": (
            {
                "told": stack.play.told,
                "places": [
                    [p.area.x_um, p.area.y_um, p.area.width_um, p.area.height_um, p.step] for p in stack.play.places
                ],
                "piles": [[p.id, p.holds, p.pieces, p.envelope] for p in stack.piles],
            }
            for stack in stacks
        ),
        "sheets": (
            [stack, sheet.layout.setup.width_um, sheet.layout.setup.height_um, mirror_of(sheet.layout.setup, pens)]
            for stack, sheet in zip(stack_of, shown, strict=True)
        ),
        "titles": (sheet.title for stack in stacks for sheet in stack.sheets),
        "flats": rows,
    }


def _row(flat: Flat, sheet: int, place: int) -> list[Any]:
    spare = flat.role == "spare"
    texts = dict.fromkeys(
        text
        for frame in (flat.front, flat.back)
        if frame is not None
        for text in texts_of(frame, ReadBy.CHILD, ReadBy.ADULT)
    )
    name = _SPARE.sub("", flat.id) if spare else flat.id
    said = " ".join(texts)
    return [name, flat.piece_id, flat.set_id, flat.title, flat.kind, flat.unit, flat.learner, sheet, place, spare, said]
