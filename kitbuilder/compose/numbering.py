"""Ids on pieces: unit, kind code, number, and a check letter made from the drawing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from kitbuilder.artwork.frame import Frame, Path
from kitbuilder.artwork.frame_code import check_letter, frame_digest
from kitbuilder.artwork.piece import Page, Piece
from kitbuilder.artwork.type_metrics import FontMetrics
from kitbuilder.compose.pen import stamped


def number_pieces(
    pieces: Iterable[Piece], codes: Mapping[str, str], font: Callable[[str], FontMetrics]
) -> tuple[Piece, ...]:
    """Return the pieces with ids such as `03-LC-4K`, printed where their faces say, a child's with the child's code.

    Numbers run within a unit and kind, in the order given. The check letter comes from the drawing without its id, so
    that the same number on a card of another pack is noticed when the drawing differs. Equal drawings and equal
    outlines become one object: when pieces come one by one, what three children get alike is in memory once.
    """
    numbers: dict[tuple[int, str], int] = defaultdict(int)
    frames: dict[str, Frame] = {}  # by digest
    paths: dict[Path, Path] = {}
    before: Mapping[int, tuple[Frame, str]] = {}
    done: list[Piece] = []
    for piece in pieces:
        key = (piece.unit, piece.kind)
        numbers[key] += 1
        # copies of a piece share their frame objects and follow each other: one digest for all of them
        before = {
            id(page.frame): before.get(id(page.frame)) or (page.frame, frame_digest(page.frame)) for page in piece.pages
        }
        digests = [before[id(page.frame)][1] for page in piece.pages]
        piece_id = f"{piece.unit:02d}-{codes[piece.kind]}-{numbers[key]}{check_letter(''.join(digests))}"
        # two children at one unit get like pages: their code beside the id tells them apart when a pile is sorted
        printed = f"{piece_id} {piece.learner}" if piece.learner else piece_id
        pages = []
        for page, digest in zip(piece.pages, digests, strict=True):
            if digest not in frames:
                frames[digest] = _sharing(page.frame, paths)
            pages.append(Page(stamped(frames[digest], printed, font), page.role))
        done.append(replace(piece, id=piece_id, pages=tuple(pages)))
    return tuple(done)


def _sharing(frame: Frame, paths: dict[Path, Path]) -> Frame:
    """Return the frame with every outline that was met before taken from `paths`: a year's letters to trace repeat."""
    items = (paths.setdefault(item, item) if isinstance(item, Path) else item for item in frame.items)
    return replace(frame, items=tuple(items))
