"""Pieces of one flat for kinds that compute: what a job says of every piece of its set, once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.compose.after_cutting import bound_edge
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.job_scope import scope_of
from kitbuilder.compose.jobs import Job
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import mm


class SetMaker:
    """Draws the pieces of one set in order; `pieces` are those drawn so far."""

    def __init__(self, job: Job, faces: FaceBook) -> None:
        self.job = job
        self.faces = faces
        self.pieces: list[Piece] = []
        self._scope = scope_of(job)

    def add(
        self,
        face: str,
        title: str,
        scope: Mapping[str, Any],
        *,
        page: Format | None = None,
        copies: int = 1,
        colour: str = "",
        stock: str = "",
    ) -> None:
        """Draw the face and add so many pieces of it. `page` is the job's own format unless a part has its own."""
        job = self.job
        to = page or job.format
        place = scope.get("place") or job.asked_at
        what = f"the {job.kind.name.replace('-', ' ')} ({title})"
        frame = self.faces.draw(face, {**self._scope, **scope}, to, place, what)
        for copy in range(copies):
            self.pieces.append(
                Piece(
                    id="",
                    kind=job.kind.name,
                    unit=job.unit.unit,
                    set_id=job.set_id,
                    order=len(self.pieces),
                    pages=(Page(frame, "front"),),
                    format=to,
                    stock=stock or job.stock,
                    durable=job.kind.durable,
                    learner=str(job.learner.code) if job.learner else None,
                    copy=copy + 1,
                    title=title,
                    colour=colour,
                    may_turn=job.kind.may_turn,
                    binding=bound_edge(job.kind.binding, job.learner) if to is job.format else "none",
                    asked_at=place,
                )
            )

    @property
    def done(self) -> tuple[Piece, ...]:
        return tuple(self.pieces)


def small_format(width_mm: float, height_mm: float, clear_mm: float = 3.5) -> Format:
    """Return the format of a part that is cut out by itself: a card, a counter."""
    return Format(Size(mm(width_mm), mm(height_mm)), Insets.even(mm(clear_mm)))
