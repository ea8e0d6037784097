"""Fluency grids: items again and again, none twice in a row; a child's page and an adult's page with counts."""

from __future__ import annotations

from hashlib import blake2b
from typing import Any

from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources


def compose_fluency_grids(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return for each form the child's page and the adult's page; nothing when the unit has fewer than two words."""
    words = tuple(dict.fromkeys(str(item["text"]) for item in sources.listed("words", job)))
    if len(words) < 2:
        return ()
    rows, columns = int(job.options["rows"]), int(job.options["columns"])
    pieces: list[Piece] = []
    for form in range(1, job.forms + 1):
        grid = arrange(words, rows, columns, job.seed, f"{job.unit.unit}/{job.kind.name}/{form}")
        scope: dict[str, Any] = {
            "unit": {"number": job.unit.unit, "title": str(job.unit.title)},
            "options": job.options,
            "form": form,
            "forms": job.forms,
            "rows": tuple({"cells": row, "count": (i + 1) * columns} for i, row in enumerate(grid)),
            "row_count": rows,
            "column_count": columns,
            "learner": {"code": str(job.learner.code) if job.learner else ""},
        }
        for face, title in (("fluency-grid-child", "child's page"), ("fluency-grid-adult", "adult's page")):
            what = f"the fluency grid ({title})"
            frame = faces.draw(face, scope, job.format, job.asked_at, what)
            pieces.append(
                Piece(
                    id="",
                    kind=job.kind.name,
                    unit=job.unit.unit,
                    set_id=job.set_id,
                    order=len(pieces),
                    pages=(Page(frame, "front"),),
                    format=job.format,
                    stock=job.stock,
                    durable=False,
                    learner=str(job.learner.code) if job.learner else None,
                    copy=form,
                    title=title,
                    binding=job.kind.binding,
                    asked_at=job.asked_at,
                )
            )
    return tuple(pieces)


def arrange(words: tuple[str, ...], rows: int, columns: int, seed: int, name: str) -> tuple[tuple[str, ...], ...]:
    """Return rows x columns of words: each about equally often, none beside, above or below itself where avoidable."""
    cells: list[str] = []
    used = dict.fromkeys(words, 0)
    for index in range(rows * columns):
        beside = {cells[-1]} if cells else set()  # row ends count: the next row's first word is read next
        above = {cells[index - columns]} if index >= columns else set()
        pool = [w for w in words if w not in beside | above] or [w for w in words if w not in beside]
        fewest = min(used[w] for w in pool)
        chosen = min((w for w in pool if used[w] == fewest), key=lambda w: _rank(seed, name, index, w))
        used[chosen] += 1
        cells.append(chosen)
    return tuple(tuple(cells[r * columns : (r + 1) * columns]) for r in range(rows))


def _rank(seed: int, name: str, index: int, word: str) -> bytes:
    # the round, not the cell, decides the order within it, so that adding a word moves few others
    return blake2b(f"{seed}/{name}/{index}/{word}".encode(), digest_size=8).digest()
