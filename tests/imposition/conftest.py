"""What the tests of imposition share: imagined paper, and pieces with a word on every page."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

from kitbuilder.artwork.frame import Frame, Text
from kitbuilder.artwork.piece import Making, Page, Piece
from kitbuilder.imposition.by_hand import profile_from_answers
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import Length


@pytest.fixture(scope="session")
def paper() -> ModuleType:
    """The paper model, loaded from the file beside this one."""
    name = "imposition_paper_model"
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name("paper_model.py"))
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module  # dataclasses look their module up by name
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def make_piece():
    """A function that makes a piece whose page p holds the word `PREFIX:p` a third in from the left, a fifth down."""

    def make(
        count: int,
        width_um: int,
        height_um: int,
        *,
        making: Making = Making.SADDLE,
        prefix: str = "a",
        roles: tuple[str, ...] = (),
        keep_clear_um: int = 8_000,
        division: int = 0,
        **more,
    ) -> Piece:
        pages = tuple(
            Page(
                Frame(width_um, height_um, (Text(width_um // 3, height_um // 5, f"{prefix}:{p}", "Andika", 5_000),)),
                roles[p - 1] if roles else "page",
            )
            for p in range(1, count + 1)
        )
        return Piece(
            id=f"01-BK-{prefix}",
            kind="booklet",
            unit=1,
            set_id="01-booklet",
            order=1,
            pages=pages,
            format=Format(
                Size(Length(width_um), Length(height_um)), Insets.even(Length(keep_clear_um)), division=division
            ),
            stock="plain",
            durable=False,
            making=making,
            **more,
        )

    return make


@pytest.fixture(scope="session")
def calibrated(paper):
    """A function: what a parent finds out with the two-sheet test, read off the imagined paper of a printer."""
    size = (210_000, 297_000)

    def image(text: str):
        return [(0, 0, 0, Frame(*size, (Text(100_000, 60_000, text, "Andika", 20_000),)))]

    def find_out(printer, turned: bool):
        for tray_face in ("down", "up"):
            fronts, backs = [image("A/1"), image("B/1")], [image("A/2"), image("B/2")]
            pile = printer.by_hand(size, fronts, backs, tray_face, turned)
            seen = {s.marks[0].text: s.marks[1] for s in pile}
            if any(m.faces == paper.TOWARD_READER for m in seen.values()):
                continue  # the same side was printed twice: the pile has to go in the other way up
            arrow = "same" if seen["A/1"].up == paper.UP else "opposite"
            return profile_from_answers(
                printer.comes_out, seen["A/1"].text, seen["B/1"].text, arrow, turned=turned, tray_face=tray_face
            )
        raise AssertionError("neither side of the pile got printed")

    return find_out
