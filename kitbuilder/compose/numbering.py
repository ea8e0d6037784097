"""Ids on pieces: unit, kind code, number, and a check letter made from the drawing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from kitbuilder.artwork.frame import Frame
from kitbuilder.artwork.frame_code import check_letter, frame_digest
from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.artwork.type_metrics import FontMetrics
from kitbuilder.compose.pen import stamped


def number_pieces(
    pieces: Iterable[Piece], codes: Mapping[str, str], font: Callable[[str], FontMetrics]
) -> tuple[Piece, ...]:
    """Return the pieces with ids such as `03-LC-4K`, printed where their faces say, a child's with the child's code.

    Numbers run within a unit and kind, in the order given. The check letter comes from the drawing without its id, so
    that the same number on a card of another pack is noticed when the drawing differs.
    """
    numbers: dict[tuple[int, str], int] = defaultdict(int)
    digests: dict[int, str] = {}
    done: list[Piece] = []
    for piece in pieces:
        key = (piece.unit, piece.kind)
        numbers[key] += 1
        letter = check_letter("".join(_digest(page.frame, digests) for page in piece.pages))
        piece_id = f"{piece.unit:02d}-{codes[piece.kind]}-{numbers[key]}{letter}"
        # two children at one unit get like pages: their code beside the id tells them apart when a pile is sorted
        printed = f"{piece_id} {piece.learner}" if piece.learner else piece_id
        pages = tuple(Page(stamped(page.frame, printed, font), page.role) for page in piece.pages)
        done.append(replace(piece, id=piece_id, pages=pages))
    return tuple(done)


def _digest(frame: Frame, known: dict[int, str]) -> str:
    # copies share their frames, so one digest a frame object is enough
    key = id(frame)
    if key not in known:
        known[key] = frame_digest(frame)
    return known[key]
