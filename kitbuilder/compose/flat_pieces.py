"""Pieces of a job: what it says of every piece of its set, once; and sets of flats for kinds that compute."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from kitbuilder.artwork.piece import Making, Page, Piece
from kitbuilder.compose.after_cutting import bound_edge
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.job_scope import scope_of
from kitbuilder.compose.jobs import Job
from kitbuilder.diagnostics import Location
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import mm, pt


def piece_of(
    job: Job,
    pages: tuple[Page, ...],
    order: int,
    title: str,
    *,
    making: Making = Making.FLAT,
    page: Format | None = None,
    copy: int = 1,
    colour: str = "",
    stock: str = "",
    place: Location | None = None,
) -> Piece:
    """Return a piece of the job's set, its id still empty; `page`, `stock` and `place` are the job's own if absent."""
    return Piece(
        id="",
        kind=job.kind.name,
        unit=job.unit.unit,
        set_id=job.set_id,
        order=order,
        pages=pages,
        format=page or job.format,
        stock=stock or job.stock,
        durable=job.kind.durable,
        making=making,
        learner=str(job.learner.code) if job.learner else None,
        copy=copy,
        title=title,
        colour=colour,
        may_turn=job.kind.may_turn,
        binding=bound_edge(job.kind.binding, job.learner),
        laminate=bool(job.options.get("laminate")),
        spares=job.kind.spares,
        asked_at=place or job.asked_at,
    )


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
            piece = piece_of(
                job,
                (Page(frame, "front"),),
                len(self.pieces),
                title,
                page=to,
                copy=copy + 1,
                colour=colour,
                stock=stock,
                place=place,
            )
            self.pieces.append(piece if to is job.format else replace(piece, binding="none"))

    def fitting(self, items: Iterable[Mapping[str, Any]], width_mm: float, points: float) -> tuple[Any, ...]:
        """Return the items whose words are no wider than so many millimetres in this size of type.

        A game is made of words that fit it; what a family wants on paper in any case stands on cards and strips.
        """
        font, size = self.faces.workshop.font("Andika"), pt(points).um
        return tuple(item for item in items if font.width_um(str(item["text"]), size) <= mm(width_mm).um)

    def common_size(self, words: Iterable[str], width_mm: float, largest: float, least: float) -> str:
        """Return the largest size, in half points, in which every word is no wider; never under `least` points."""
        font, size = self.faces.workshop.font("Andika"), pt(largest).um
        widest = max(font.width_um(word, size) for word in words)
        points = int(2 * min(largest, largest * mm(width_mm).um / widest)) / 2
        return f"{max(least, points):g} pt"

    @property
    def done(self) -> tuple[Piece, ...]:
        return tuple(self.pieces)


def clear_size_mm(page: Format) -> tuple[float, float]:
    """Return width and height inside the keep-clear margins."""
    clear, trim = page.keep_clear, page.trim
    return (trim.width - clear.left - clear.right).to_mm(), (trim.height - clear.top - clear.bottom).to_mm()


def small_format(width_mm: float, height_mm: float, clear_mm: float = 3.5) -> Format:
    """Return the format of a part that is cut out by itself: a card, a counter."""
    return Format(Size(mm(width_mm), mm(height_mm)), Insets.even(mm(clear_mm)))
