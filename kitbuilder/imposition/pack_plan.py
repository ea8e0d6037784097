"""A pack, planned: everything that manifest, guide, preview and files are made from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from kitbuilder.artwork.frame import Frame
from kitbuilder.artwork.piece import Piece
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.print_files import PrintFile
from kitbuilder.imposition.sheets import Pile, Run, Sheet, SheetLayout


@dataclass(frozen=True, slots=True)
class PackPlan:
    """What one run makes. `pieces` are in the order of units and kinds; spares are flats only.

    `warnings` are what may go wrong with this printer and paper, `notes` what has to be known to make the things, both
    in whole sentences; `trials` are the files of a first sheet to try before the rest.
    """

    name: str
    title: str
    units: tuple[int, ...]
    seed: int
    definitions_sha256: str
    language: str
    pieces: tuple[Piece, ...]
    flats: tuple[Flat, ...]
    runs: tuple[Run, ...]
    files: tuple[PrintFile, ...]
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    trials: tuple[PrintFile, ...] = ()

    def sheets(self) -> Iterator[tuple[int, Run, Sheet]]:
        """Yield run index, run and sheet, in printing order."""
        for index, run in enumerate(self.runs):
            for sheet in run.sheets:
                yield index, run, sheet

    def frames(self) -> tuple[Frame, ...]:
        """Return the drawings of the flats, one that several share once, in their order."""
        return tuple({id(f): f for flat in self.flats for f in (flat.front, flat.back) if f is not None}.values())

    def marks(self) -> tuple[Frame, ...]:
        """Return the marks of the sheets, those of both sides."""
        return tuple(f for _, _, sheet in self.sheets() for f in (sheet.front_marks, sheet.back_marks) if f is not None)

    def layouts(self) -> tuple[SheetLayout, ...]:
        return tuple(layout for run in self.runs for layout in run.layouts)

    def piles(self) -> tuple[Pile, ...]:
        return tuple(pile for run in self.runs for pile in run.piles)
