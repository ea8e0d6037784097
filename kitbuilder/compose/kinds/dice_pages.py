"""Dice pages: six rows of words, one for each number of a die, and the die."""

from __future__ import annotations

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.dice import SPOTS, add_die
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.phonics.grids import Item, fluency_grid

SIDES = 6
DIE_MM = 28.0  # what the picture of the die takes from a row


def compose_dice_pages(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the page and the die; nothing when there are fewer than two words."""
    columns = int(job.options["columns"])
    made = SetMaker(job, faces)
    room = (clear_size_mm(job.format)[0] - DIE_MM) / columns - 3
    items = made.fitting(sources.words(job, SIDES * columns), room, 20)
    if len(items) < 2:
        return ()
    cells = tuple(Item(str(i["text"]), bool(i["new"]), tuple(i["graphemes"])) for i in items)
    rows = fluency_grid(cells, SIDES, columns, job.seed, 1)
    lines = tuple({"spots": SPOTS[number], "words": row} for number, row in enumerate(rows, 1))
    made.add("dice-page", "page", {"lines": lines, "columns": columns})
    if job.options["die"]:
        add_die(made)
    return made.done
