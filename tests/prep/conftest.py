"""Plans to prepare: one from the shipped starter, one from pieces made up here for every form a booklet has."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from kitbuilder.artwork.frame import Box, Frame, Text
from kitbuilder.artwork.piece import Making, Page, Piece
from kitbuilder.artwork.shipped import shipped
from kitbuilder.build import flats_of, plan_pack, read_family
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.imposition.ganging import gang
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.press_notes import notes_of
from kitbuilder.imposition.print_files import plan_files
from kitbuilder.imposition.sheet_marks import mark_sheets
from kitbuilder.imposition.workplace import back_rules, workplace_of
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import Length, mm
from kitbuilder.model.press import Press
from kitbuilder.request import Request


@pytest.fixture(scope="session")
def starter_plan() -> Callable[..., tuple[PackPlan, Press]]:
    """Return a function: first unit, last unit (and a paper) to the starter's plan and press."""
    made: dict[tuple[Any, ...], tuple[PackPlan, Press]] = {}

    def plan(first: int, last: int | None = None, paper: str | None = None) -> tuple[PackPlan, Press]:
        key = (first, last, paper)
        if key not in made:
            request = Request(Path(shipped("units")).parent, first, last, paper=paper)
            family = read_family(request, ProblemLog())
            made[key] = plan_pack(family, request), family.home.press
        return made[key]

    return plan


@pytest.fixture
def press_of() -> Callable[..., Press]:
    """Return a function: what press.yaml would say, as keywords with hyphens as underscores, to a press."""
    return lambda **said: Press.model_validate({key.replace("_", "-"): value for key, value in said.items()})


@pytest.fixture
def flat_piece() -> Callable[..., Piece]:
    """Return a function: number, width, height in mm to a card of one face."""

    def make(number: int, width: float, height: float, **said: Any) -> Piece:
        size = Size(mm(width), mm(height))
        frame = Frame(size.width.um, size.height.um, (Text(3_000, 15_000, "ab", "Andika", 6_000),), "card")
        chosen = {"stock": "card", "durable": True, "title": f"card {number}"} | said
        return Piece(
            f"01-LC-{number}A",
            "letter-card",
            1,
            "01-LC",
            number,
            (Page(frame, "front"),),
            Format(size, Insets.even(mm(3))),
            **chosen,
        )

    return make


@pytest.fixture
def booklet_piece() -> Callable[..., Piece]:
    """Return a function: number, making and count of pages to a booklet of quarter pages (slit: eighths) of A4."""

    def make(number: int, making: Making, pages: int, **said: Any) -> Piece:
        width, height = (74_250, 105_000) if making is Making.SLIT else (105_000, 148_500)
        inner = Box(12_000, 9_000, width - 21_000, height - 18_000, None, "#000000", 200)
        texts = [Text(14_000, 30_000, str(n), "Andika", 6_000) for n in range(pages)]
        frames = [Frame(width, height, (text, inner), "page") for text in texts]
        clear = Insets(mm(14), mm(9), mm(9), mm(9)) if making is Making.SIDE else Insets.even(mm(9))
        chosen = {"stock": "plain", "durable": False, "title": f"Story {number}", "learner": "wren"} | said
        return Piece(
            f"01-BK-{number}A",
            "booklet",
            1,
            "01-BK-wren",
            number,
            tuple(Page(f, "cover" if n == 0 else "page") for n, f in enumerate(frames)),
            Format(Size(Length(width), Length(height)), clear),
            making=making,
            **chosen,
        )

    return make


@pytest.fixture
def plan_of() -> Callable[..., PackPlan]:
    """Return a function: pieces and a press to their plan, marks and files included."""

    def plan(pieces: list[Piece], press: Press, name: str = "week-01") -> PackPlan:
        flats = flats_of(pieces, press)
        place = workplace_of(press, 1)
        runs = mark_sheets(gang(flats, place), place, press.cut_lines)
        units = tuple(sorted({p.unit for p in pieces}))
        return PackPlan(
            name,
            "The Dip",
            units,
            1,
            "0",
            "en-GB",
            tuple(pieces),
            flats,
            runs,
            plan_files(runs, back_rules(press)),
            notes=notes_of(runs, pieces, press),
        )

    return plan
