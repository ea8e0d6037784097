"""Fluency grids: new and known items, none twice in a row; a child's page and an adult's page with counts."""

from __future__ import annotations

from itertools import accumulate
from typing import Any

from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm, piece_of
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.phrases import cut_phrases
from kitbuilder.compose.sources import Item, Sources
from kitbuilder.compose.taking_turns import in_turn
from kitbuilder.model.text import Placed
from kitbuilder.phonics import grids

PHRASE_COLUMNS = 2
LARGEST_PT, LEAST_PT = 34.0, 24.0
BY_A_CHILD = ("decodable", "irregular", "name")
_PAGES = (("fluency-grid-child", "child's page"), ("fluency-grid-adult", "adult's page"))


def compose_fluency_grids(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return for each form the child's page and the adult's page; nothing when the unit has fewer than two items."""
    phrases = job.options["of"] == "phrases"
    rows, columns = int(job.options["rows"]), PHRASE_COLUMNS if phrases else int(job.options["columns"])
    made = SetMaker(job, faces)
    room = clear_size_mm(job.format)[0] / columns - 2
    items = made.fitting(_phrases(job, sources), room, LEAST_PT) if phrases else _items(job, sources)
    if len({str(item["text"]) for item in items}) < 2:
        return ()
    cells = tuple(grids.Item(str(i["text"]), bool(i.get("new")), tuple(i.get("graphemes", ()))) for i in items)
    placed = {cell.text: Placed(cell.text, item["place"]) for cell, item in zip(cells, items, strict=True)}
    size = made.common_size(placed, room, LARGEST_PT, LEAST_PT) if phrases else f"{LARGEST_PT:g} pt"
    pieces: list[Piece] = []
    for form in range(1, job.forms + 1):
        grid = grids.fluency_grid(cells, rows, columns, job.seed, form)
        counts = accumulate(sum(len(text.split()) for text in row) for row in grid)
        scope: dict[str, Any] = {
            "unit": {"number": job.unit.unit, "title": str(job.unit.title)},
            "options": job.options,
            "form": form,
            "forms": job.forms,
            "made_up": job.options["of"] == "made-up",
            "rows": tuple(
                {"cells": tuple(placed[text] for text in row), "count": count}
                for row, count in zip(grid, counts, strict=True)
            ),
            "row_count": rows,
            "column_count": columns,
            "size": size,
            "learner": {"code": str(job.learner.code) if job.learner else ""},
        }
        for face, title in _PAGES:
            frame = faces.draw(face, scope, job.format, job.asked_at, f"the fluency grid ({title})")
            pieces.append(piece_of(job, (Page(frame, "front"),), len(pieces), title, copy=form))
    return tuple(pieces)


def _items(job: Job, sources: Sources) -> tuple[Item, ...]:
    """Return what the grid is made of; each item is decodable at the unit."""
    of = job.options["of"]
    if of == "made-up":
        return sources.nonsense_words(job)
    if of == "sounds":
        taught = sources.listed("taught-correspondences", job)
        return tuple({**item, "new": item["unit"] == job.unit.unit, "graphemes": (item["text"],)} for item in taught)
    return _words(job, sources)


def _words(job: Job, sources: Sources) -> tuple[Item, ...]:
    """Return words, half of them this unit's, its own first, its spellings in turn, and half of earlier units.

    In the first unit all are new; where one half is short the other fills up.
    """
    wanted = job.count or int(job.options["words"])
    known = [sources.word(c.word, job) for c in sources.choices.review(job.unit, wanted, "fluency review")]
    listed = sources.words(job, max(wanted, len(job.unit.words)))
    own = {str(word) for word in job.unit.words}
    found = [item for item in listed if item["new"]]
    parts = [i for i in found if i["text"] in own], [i for i in found if i["text"] not in own]
    new = [item for part in parts for item in in_turn(part, lambda item: item["fresh"])]
    fresh = new[: max(wanted - wanted // 2, wanted - len(known))]
    return (*fresh, *known[: wanted - len(fresh)])


def _phrases(job: Job, sources: Sources) -> tuple[Item, ...]:
    """Return phrases from the unit's sentences and booklets; `new` are those with a word this unit makes readable."""
    number, reader = job.unit.unit, sources.reader
    names = {str(name) for unit in sources.home.units if unit.unit <= number for name in unit.names}
    pages = [page.text for booklet in job.unit.booklets for page in booklet.pages if page.text is not None]
    found: dict[str, Item] = {}
    for text in (*job.unit.sentences, *pages):
        for phrase in cut_phrases(str(text), names):
            if phrase in found or any(v.verdict not in BY_A_CHILD for v in reader.check_text(phrase, number)):
                continue
            new = any(v.verdict not in BY_A_CHILD for v in reader.check_text(phrase, number - 1))
            found[phrase] = {"text": phrase, "new": new, "place": text.location}
    return tuple(found.values())[: job.count]
