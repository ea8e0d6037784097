"""Kinds to pieces: a job, its list and its faces in, pieces without ids out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.compose.after_cutting import with_ring_hole
from kitbuilder.compose.expression_filters import ExpressionError
from kitbuilder.compose.expressions import as_text, compile_value
from kitbuilder.compose.face_items import truth
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import piece_of
from kitbuilder.compose.job_scope import scope_of
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.kinds.bingo import compose_bingo
from kitbuilder.compose.kinds.booklets import compose_booklets
from kitbuilder.compose.kinds.dice_pages import compose_dice_pages
from kitbuilder.compose.kinds.envelope_labels import compose_envelope_labels
from kitbuilder.compose.kinds.flip_books import compose_flip_books
from kitbuilder.compose.kinds.fluency_grids import compose_fluency_grids
from kitbuilder.compose.kinds.handwriting import compose_handwriting
from kitbuilder.compose.kinds.paths import compose_paths
from kitbuilder.compose.kinds.reference_charts import compose_reference_charts
from kitbuilder.compose.kinds.sorts import compose_sorts
from kitbuilder.compose.kinds.tile_mats import compose_tile_mats
from kitbuilder.compose.kinds.unit_sheets import compose_unit_sheets
from kitbuilder.compose.sources import Item, Sources
from kitbuilder.diagnostics import stop
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Size

MOST_COPIES = 200

# kinds that must paginate or compute; every other kind is its template alone
MODULES: Mapping[str, Callable[[Job, Sources, FaceBook], tuple[Piece, ...]]] = {
    "booklets": compose_booklets,
    "flip-books": compose_flip_books,
    "fluency-grids": compose_fluency_grids,
    "handwriting": compose_handwriting,
    "bingo": compose_bingo,
    "envelope-labels": compose_envelope_labels,
    "dice-pages": compose_dice_pages,
    "paths": compose_paths,
    "reference-charts": compose_reference_charts,
    "sorts": compose_sorts,
    "tile-mats": compose_tile_mats,
    "unit-sheets": compose_unit_sheets,
}


def compose_job(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the job's pieces in order, ids still empty."""
    kind = job.kind
    pieces = _composed(job, sources, faces)
    if not kind.make and not kind.cautions:
        return pieces
    try:
        make = as_text(compile_value(kind.make)(scope_of(job))).strip() if kind.make else ""
    except ExpressionError as error:
        raise stop(f"kind {kind.name!r}: {error}", "bad-kind", "correct the kind's template", kind.location) from None
    return tuple(replace(piece, make=make, cautions=kind.cautions) for piece in pieces)


def _composed(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    kind = job.kind
    if kind.module:
        if kind.module not in MODULES:
            known = ", ".join(sorted(MODULES))
            raise stop(
                f"kind {kind.name!r}: there is no module {kind.module!r}",
                "bad-kind",
                f"known are {known}",
                kind.location,
            )
        return MODULES[kind.module](job, sources, faces)
    pieces: list[Piece] = []
    items = sources.listed(kind.made_for, job)
    if job.count is not None and kind.made_for != "unit":
        items = items[: job.count]
    for item in items:
        pieces += _pieces_of_item(job, item, faces, len(pieces))
    return tuple(pieces)


def _pieces_of_item(job: Job, item: Item, faces: FaceBook, first: int) -> list[Piece]:
    kind = job.kind
    scope = scope_of(job, item)
    try:
        if kind.picked and not truth(compile_value(kind.picked)(scope)):
            return []
        copies = compile_value(kind.copies)(scope)
        copies = int(copies) if str(copies).isdigit() else 0
        panels = 2 if str(compile_value(kind.panels)(scope)) == "2" else 1
        colour = as_text(compile_value(kind.colour)(scope)) if kind.colour else ""
        name = as_text(compile_value(kind.piece_name)(scope)) if kind.piece_name else str(item.get("text", ""))
    except ExpressionError as error:
        raise stop(f"kind {kind.name!r}: {error}", "bad-kind", "correct the kind's template", kind.location) from None
    if not 0 <= copies <= MOST_COPIES:
        raise stop(
            f"kind {kind.name!r} asks for {copies} copies of one piece",
            "bad-kind",
            f"{MOST_COPIES} is the most",
            kind.location,
        )
    place = item.get("place") or job.asked_at
    what = f"the {kind.name.replace('-', ' ')} for {name!r}" if name else f"the {kind.name.replace('-', ' ')}"
    page = unfolded(job.wide_format if item.get("wide") else job.format, panels)
    pages = tuple(
        Page(
            with_ring_hole(
                faces.draw(face, scope, page, place, what, mirrored=role == "back"), page, back=role == "back"
            ),
            role,
        )
        for role, face in kind.faces
    )
    return [
        piece_of(job, pages, first + copy, name, page=page, copy=copy + 1, colour=colour, place=place)
        for copy in range(copies)
    ]


def unfolded(page: Format, panels: int) -> Format:
    """Return the format of a flat of so many panels side by side."""
    if panels == 1:
        return page
    return replace(page, trim=Size(page.trim.width * panels, page.trim.height), division=0)
