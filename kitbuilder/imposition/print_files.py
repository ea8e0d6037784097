"""Print files: runs of sheets in, pages in printing order out, one file for each way the printer is set."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from kitbuilder.artwork.frame import Frame
from kitbuilder.imposition.by_hand import ByHandProfile, backs_order, backs_two_sided, reload_steps
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.registration import NO_OFFSET, BackOffset, back_area
from kitbuilder.imposition.ruler_lines import ruler_sentence
from kitbuilder.imposition.sheets import PrintSetup, Run, Sheet, TwoSided
from kitbuilder.measure.geometry import Rect


@dataclass(frozen=True, slots=True)
class PlacedFlat:
    """A flat on a printed page: the face shown there, the rectangle it covers, its quarter turns."""

    flat: Flat
    frame: Frame | None
    area: Rect
    quarter_turns: int


@dataclass(frozen=True, slots=True)
class PrintedSide:
    """One page of a print file: a side of a sheet."""

    sheet: Sheet
    number: int  # of the sheet in its run, from 1
    side: str  # front | back
    flats: tuple[PlacedFlat, ...]
    marks: Frame | None


@dataclass(frozen=True, slots=True)
class PrintFile:
    """One file to print with one setting. `two_sided` is the word of the manifest; `duplex` what viewers are told.

    `ruler` says what to measure when no sheet of the file has room for the ruler, else it is empty.
    """

    name: str
    setup: PrintSetup
    run: int  # index of its run
    two_sided: str  # no | long-edge | short-edge | by-hand-fronts | by-hand-backs
    pages: tuple[PrintedSide, ...]
    offset: BackOffset = NO_OFFSET
    reload: tuple[str, ...] = ()
    ruler: str = ""

    @property
    def duplex(self) -> str:
        return {"long-edge": "long", "short-edge": "short"}.get(self.two_sided, "simplex")


USUAL_PROFILE = ByHandProfile()


@dataclass(frozen=True, slots=True)
class BackRules:
    """How this printer's backs come to lie behind their fronts."""

    offset: BackOffset = NO_OFFSET
    by_hand: ByHandProfile = USUAL_PROFILE


def plan_files(runs: tuple[Run, ...], rules: BackRules) -> tuple[PrintFile, ...]:
    """Return the files in the order to print them, pages in printing order."""
    files: list[PrintFile] = []
    for index, run in enumerate(runs):
        for label, two_sided, pages, reload in _files_of(run, rules):
            name = f"print-{len(files) + 1}-{_plain(run.setup.stock)}-{label}.pdf"
            offset = rules.offset if two_sided not in ("no", "by-hand-fronts") else NO_OFFSET
            ruler = ruler_sentence(pages)
            files.append(PrintFile(name, run.setup, index, two_sided, tuple(pages), offset, reload, ruler))
    return tuple(files)


def trial_files(files: tuple[PrintFile, ...]) -> tuple[PrintFile, ...]:
    """Return, for each file, one that holds the sides of its run's first sheet alone.

    Printed before the rest, it shows on one sheet whether backs lie behind fronts; `by_hand.trial_steps` tells how.
    """
    trials: list[PrintFile] = []
    numbers: dict[int, int] = {}
    for file in files:
        number = numbers.setdefault(file.run, len(numbers) + 1)
        name = re.sub(r"^print-\d+", f"trial-{number}", file.name)
        pages = tuple(page for page in file.pages if page.number == 1)
        trials.append(replace(file, name=name, pages=pages, ruler=ruler_sentence(pages)))
    return tuple(trials)


def _files_of(run: Run, rules: BackRules) -> Iterator[tuple[str, str, list[PrintedSide], tuple[str, ...]]]:
    sheets = list(enumerate(run.sheets, 1))
    two_sided = run.setup.two_sided
    if two_sided is TwoSided.NO:
        yield "one-sided", "no", [_front(s, n) for n, s in sheets], ()
    elif two_sided is TwoSided.BY_HAND:
        axis = backs_two_sided(rules.by_hand)
        order = backs_order(len(sheets), rules.by_hand)
        backs = [_back(sheets[i][1], sheets[i][0], axis, rules.offset) for i in order]
        yield "fronts", "by-hand-fronts", [_front(s, n) for n, s in sheets], ()
        yield "backs", "by-hand-backs", backs, reload_steps(rules.by_hand)
    else:
        pages = [p for n, s in sheets for p in (_front(s, n), _back(s, n, two_sided, rules.offset))]
        yield "two-sided", f"{two_sided.value}-edge", pages, ()


def _front(sheet: Sheet, number: int) -> PrintedSide:
    flats = tuple(PlacedFlat(p.flat, p.flat.front, p.area, p.quarter_turns) for p in sheet.placements)
    return PrintedSide(sheet, number, "front", flats, sheet.front_marks)


def _back(sheet: Sheet, number: int, axis: TwoSided, offset: BackOffset) -> PrintedSide:
    setup = sheet.layout.setup
    flats = []
    for placement in sheet.placements:
        if placement.flat.back is not None:
            area, turns = back_area(
                placement.area, placement.quarter_turns, setup.width_um, setup.height_um, axis, offset
            )
            flats.append(PlacedFlat(placement.flat, placement.flat.back, area, turns))
    return PrintedSide(sheet, number, "back", tuple(flats), sheet.back_marks)


def _plain(stock: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", stock.lower()).strip("-") or "stock"
