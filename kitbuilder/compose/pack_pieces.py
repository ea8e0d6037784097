"""All pieces of a pack: jobs in, numbered pieces out, problems of every job collected."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.box import owned_beside
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.kind_templates import compose_job
from kitbuilder.compose.numbering import number_pieces
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.model.templates import KindTemplate


def compose_pieces(
    jobs: Iterable[Job], sources: Sources, faces: FaceBook, kinds: Mapping[str, KindTemplate]
) -> tuple[Piece, ...]:
    """Return the pieces of all jobs in order, with ids.

    Raises:
        ProblemsFound: with the problems of all jobs, when there are any.
    """
    composed = each_piece(jobs, sources, faces, kinds)
    pieces = number_pieces(composed, {kind.name: kind.code for kind in kinds.values()}, faces.workshop.font)
    faces.workshop.log.stop_if_any()
    return pieces


def each_piece(
    jobs: Iterable[Job], sources: Sources, faces: FaceBook, kinds: Mapping[str, KindTemplate]
) -> Iterator[Piece]:
    """Yield the pieces of all jobs in order, ids still empty; problems go into the workshop's log."""
    sources.kinds = kinds
    owned = owned_beside(sources.home)
    for job in jobs:
        try:
            for piece in compose_job(job, sources, faces):
                if owned[piece.kind, piece.title] > 0:
                    owned[piece.kind, piece.title] -= 1  # box.yaml: the family has this one already
                else:
                    yield piece
        except ProblemsFound as found:
            faces.workshop.log.extend(found.problems)
