"""Booklets: cover, story pages, word list, padded inside the covers to a number of pages that folds."""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.piece import Making, Page, Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import stop
from kitbuilder.model.unit import Booklet

LEAST_PAGES, MOST_PAGES = 4, 48


def compose_booklets(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return one piece for each booklet of the unit, pages in reading order."""
    return tuple(_booklet(job, booklet, faces, order) for order, booklet in enumerate(job.unit.booklets))


def _booklet(job: Job, booklet: Booklet, faces: FaceBook, order: int) -> Piece:
    place = booklet.title.location
    what = f"a page of the booklet {str(booklet.title)!r}"
    words = tuple(sorted(_words_of(booklet), key=str.lower))
    story = [page for page in booklet.pages]
    total = _folding_count(len(story) + 2)
    if total > MOST_PAGES:
        raise stop(f"the booklet {str(booklet.title)!r} has {len(story)} pages; {MOST_PAGES - 2} is the most",
                   "too-many-pages", "split the story into two booklets", place)
    base: dict[str, Any] = {
        "unit": {"number": job.unit.unit, "title": str(job.unit.title)},
        "options": job.options,
        "booklet": {"title": str(booklet.title), "pages": len(story), "words": words},
        "learner": {"code": str(job.learner.code) if job.learner else "",
                    "left_handed": bool(job.learner and job.learner.left_handed)},
    }
    pages: list[Page] = []

    def add(face: str, role: str, **scope: Any) -> None:
        number = len(pages) + 1
        # the binding edge is on the left of odd pages and on the right of even ones
        even = number % 2 == 0
        frame = faces.draw(face, {**base, **scope, "page": number, "even": even}, job.format, scope.get("place") or place,
                           what, mirrored=even)
        pages.append(Page(frame, role))

    first = next((p.picture for p in story if p.picture), None)
    add("booklet-cover", "cover", picture=booklet.picture or first or "")
    blanks = total - len(story) - 2
    # a reader expects blank pages inside the covers: one inside the front cover first, the others before the back
    if blanks >= 2:
        add("booklet-blank", "blank")
    for page in story:
        add("booklet-page", "page", text=str(page.text), picture=page.picture or "", place=page.text.location)
    for _ in range(blanks - (1 if blanks >= 2 else 0)):
        add("booklet-blank", "blank")
    add("booklet-words", "words")
    return Piece(
        id="", kind=job.kind.name, unit=job.unit.unit, set_id=job.set_id, order=order, pages=tuple(pages),
        format=job.format, stock=job.stock, durable=False, making=Making.SADDLE,
        learner=str(job.learner.code) if job.learner else None, title=str(booklet.title), may_turn=True,
        binding="right" if job.learner and job.learner.left_handed and job.options.get("left-handed-binding") else "left",
        asked_at=place,
    )


def _folding_count(pages: int) -> int:
    return max(LEAST_PAGES, -(-pages // 4) * 4)


def _words_of(booklet: Booklet) -> set[str]:
    found: dict[str, str] = {}
    for page in booklet.pages:
        for raw in str(page.text).split():
            word = raw.strip(".,!?;:\"'()“”‘’–—-")
            if word:
                key = word.lower()
                # a word once seen in small letters is no name
                if key not in found or word == key:
                    found[key] = word if found.get(key, word) == word or word == key else found[key]
    return set(found.values())
