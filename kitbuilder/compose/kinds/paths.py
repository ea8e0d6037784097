"""Word paths: stones in rows that turn at the edge, words on most, a picture on some; figures and a die."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.dice import add_die
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm, small_format
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.compose.word_rounds import word_rounds
from kitbuilder.measure.format import Format

COLUMNS, ROWS = 6, 5
HEAD_MM, FOOT_MM = 13.0, 13.0
BETWEEN_MM = (6.0, 7.0)  # stones beside one another, and rows
PICTURE_EVERY = 7
FIGURE = small_format(34, 84, 3)


def compose_paths(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the board, the figures and the die; nothing when there are fewer than two words."""
    made = SetMaker(job, faces)
    room = (clear_size_mm(job.format)[0] - BETWEEN_MM[0] * (COLUMNS - 1)) / COLUMNS - 6
    items = made.fitting(sources.words(job, COLUMNS * ROWS), room, 20)
    if len(items) < 2:
        return ()
    pictures = _pictures(job, sources)
    words = word_rounds([str(i["text"]) for i in items], COLUMNS * ROWS, job.seed, job.unit.unit, job.kind.name)
    path = {**_path(words, pictures, job.format), "size": made.common_size(words, room, 30, 20)}
    made.add("path", "board", {"path": path}, colour="board")
    for number in range(int(job.options["players"])):
        picture = pictures[number % len(pictures)] if pictures else ""
        scope = {"picture": picture, "number": number + 1}
        made.add("game-figure", f"figure {number + 1}", scope, page=FIGURE, colour="figures")
    if job.options["die"]:
        add_die(made)
    return made.done


def _pictures(job: Job, sources: Sources) -> list[str]:
    """Return the pictures of keywords taught so far that a child can name and that begin with their letters.

    The newest first. `Say a word that begins with the same sound` would ask for /f/ at the fox that stands for x.
    """
    taught = [i for i in sources.listed("taught-correspondences", job) if i["keyword"].startswith(i["text"])]
    clear = (sources.pictures.prompt(str(item["picture"])) for item in reversed(taught) if item["picture"])
    return list(dict.fromkeys(filter(None, clear)))


def _path(words: Sequence[str], pictures: list[str], page: Format) -> dict[str, Any]:
    """Return the stones from start to finish and the lines that join them. Millimetres from the clear corner."""
    width, height = clear_size_mm(page)
    height -= HEAD_MM + FOOT_MM
    wide = (width - BETWEEN_MM[0] * (COLUMNS - 1)) / COLUMNS
    tall = (height - BETWEEN_MM[1] * (ROWS - 1)) / ROWS
    stones: list[dict[str, Any]] = []
    last = COLUMNS * ROWS - 1
    for number in range(COLUMNS * ROWS):
        row, step = divmod(number, COLUMNS)
        column = step if row % 2 == 0 else COLUMNS - 1 - step
        show = {"word": words[number], "label": "", "picture": ""}
        if number in (0, last):
            show = {"word": "", "label": "start" if number == 0 else "finish", "picture": ""}
        elif pictures and number % PICTURE_EVERY == PICTURE_EVERY - 2:
            show = {"word": "", "label": "", "picture": pictures[number // PICTURE_EVERY % len(pictures)]}
        place = {"x": column * (wide + BETWEEN_MM[0]), "y": HEAD_MM + row * (tall + BETWEEN_MM[1])}
        stones.append({**show, **place})
    centres = [(s["x"] + wide / 2, s["y"] + tall / 2) for s in stones]
    links = tuple((*a, *b) for a, b in pairwise(centres))
    shown = ", ".join(dict.fromkeys(str(stone["picture"]) for stone in stones if stone["picture"]))
    named = f" ({shown})" if shown else ""
    return {"stones": tuple(stones), "links": links, "width": wide, "height": tall, "named": named}
