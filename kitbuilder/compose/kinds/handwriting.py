"""Handwriting pages: each new letter as a model with help marks, dotted to trace and fading, then room to write."""

from __future__ import annotations

from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import piece_of
from kitbuilder.compose.job_scope import scope_of
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.compose.writing_pages import page_lines, writing_pages


def compose_handwriting(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the pages, form by form; nothing when the unit has neither letters nor words to write."""
    scope = {**scope_of(job), "gap": page_lines(job).gap}
    pieces: list[Piece] = []
    for form in range(1, job.forms + 1):
        pages = writing_pages(job, sources, form)
        for number, rows in enumerate(pages, 1):
            more = {"rows": rows, "page": number, "pages": len(pages), "form": form}
            frame = faces.draw("handwriting", {**scope, **more}, job.format, job.asked_at, "a handwriting page")
            pieces.append(piece_of(job, (Page(frame, "front"),), len(pieces), f"page {number}", copy=form))
    return tuple(pieces)
