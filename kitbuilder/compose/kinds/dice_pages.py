"""Dice pages: six rows of words, one for each number of a die, and the die."""

from __future__ import annotations

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.dice import SPOTS, add_die
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.compose.word_rounds import word_rounds

SIDES = 6
BETWEEN_MM = 10  # words of a row: nearer, two long ones read as a phrase
DIE_MM = 28.0  # what the picture of the die takes from a row


def compose_dice_pages(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the page and the die; nothing when there are fewer than two words."""
    columns = int(job.options["columns"])
    made = SetMaker(job, faces)
    room = (clear_size_mm(job.format)[0] - DIE_MM) / columns - BETWEEN_MM
    items = made.fitting(sources.words(job, SIDES * columns), room, 20)
    if len(items) < 2:
        return ()
    texts = [str(item["text"]) for item in items]
    words = word_rounds(texts, SIDES * columns, job.seed, job.unit.unit, job.kind.name, columns)
    lines = tuple({"spots": SPOTS[n], "words": words[(n - 1) * columns : n * columns]} for n in range(1, SIDES + 1))
    size = made.common_size(words, room, 34, 20)
    made.add("dice-page", "page", {"lines": lines, "columns": columns, "size": size})
    if job.options["die"]:
        add_die(made)
    return made.done
