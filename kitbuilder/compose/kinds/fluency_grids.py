"""Fluency grids: items again and again, none twice in a row; a child's page and an adult's page with counts."""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Item, Sources
from kitbuilder.model.text import Placed
from kitbuilder.phonics import grids

_PAGES = (("fluency-grid-child", "child's page"), ("fluency-grid-adult", "adult's page"))


def compose_fluency_grids(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return for each form the child's page and the adult's page; nothing when the unit has fewer than two items."""
    items = _items(job, sources)
    if len({str(item["text"]) for item in items}) < 2:
        return ()
    rows, columns = int(job.options["rows"]), int(job.options["columns"])
    cells = tuple(grids.Item(str(i["text"]), bool(i.get("new")), tuple(i.get("graphemes", ()))) for i in items)
    placed = {cell.text: Placed(cell.text, item["place"]) for cell, item in zip(cells, items, strict=True)}
    pieces: list[Piece] = []
    for form in range(1, job.forms + 1):
        grid = grids.fluency_grid(cells, rows, columns, job.seed, form)
        scope: dict[str, Any] = {
            "unit": {"number": job.unit.unit, "title": str(job.unit.title)},
            "options": job.options,
            "form": form,
            "forms": job.forms,
            "made_up": job.options["of"] == "made-up",
            "rows": tuple(
                {"cells": tuple(placed[text] for text in row), "count": (i + 1) * columns} for i, row in enumerate(grid)
            ),
            "row_count": rows,
            "column_count": columns,
            "learner": {"code": str(job.learner.code) if job.learner else ""},
        }
        for face, title in _PAGES:
            frame = faces.draw(face, scope, job.format, job.asked_at, f"the fluency grid ({title})")
            pieces.append(_piece(job, Page(frame, "front"), len(pieces), form, title))
    return tuple(pieces)


def _items(job: Job, sources: Sources) -> tuple[Item, ...]:
    """Return what the grid is made of; each item is decodable at the unit."""
    of = job.options["of"]
    if of == "made-up":
        return sources.nonsense_words(job)
    if of == "sounds":
        taught = sources.listed("taught-correspondences", job)
        return tuple({**item, "new": item["unit"] == job.unit.unit, "graphemes": (item["text"],)} for item in taught)
    return sources.words(job)


def _piece(job: Job, page: Page, order: int, form: int, title: str) -> Piece:
    return Piece(
        id="",
        kind=job.kind.name,
        unit=job.unit.unit,
        set_id=job.set_id,
        order=order,
        pages=(page,),
        format=job.format,
        stock=job.stock,
        durable=False,
        learner=str(job.learner.code) if job.learner else None,
        copy=form,
        title=title,
        binding=job.kind.binding,
        asked_at=job.asked_at,
    )
