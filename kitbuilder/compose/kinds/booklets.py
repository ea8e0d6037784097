"""Booklets: cover, story pages, word list, padded inside the covers to a number of pages that folds."""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.piece import Making, Page, Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import stop
from kitbuilder.model.text import place_of
from kitbuilder.model.unit import Booklet
from kitbuilder.phonics.tokens import words_in

LEAST_PAGES, MOST_PAGES = 4, 48
MOST_WORDS = 18  # two columns in a size a child can read


def compose_booklets(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return one piece for each booklet of the unit, pages in reading order."""
    return tuple(_booklet(job, booklet, sources, faces, order) for order, booklet in enumerate(job.unit.booklets))


def _booklet(job: Job, booklet: Booklet, sources: Sources, faces: FaceBook, order: int) -> Piece:
    place = booklet.title.location
    what = f"a page of the booklet {str(booklet.title)!r}"
    words = _word_list(booklet, job.unit.unit, sources)
    story = list(booklet.pages)
    total = _folding_count(len(story) + 2)
    if total > MOST_PAGES:
        raise stop(
            f"the booklet {str(booklet.title)!r} has {len(story)} pages; {MOST_PAGES - 2} is the most",
            "too-many-pages",
            "split the story into two booklets",
            place,
        )
    base: dict[str, Any] = {
        "unit": {"number": job.unit.unit, "title": str(job.unit.title)},
        "options": job.options,
        "booklet": {"title": str(booklet.title), "pages": len(story), "words": words},
        "learner": {
            "code": str(job.learner.code) if job.learner else "",
            "left_handed": bool(job.learner and job.learner.left_handed),
        },
    }
    pages: list[Page] = []

    def add(face: str, role: str, **scope: Any) -> None:
        number = len(pages) + 1
        # the binding edge is on the left of odd pages and on the right of even ones
        even = number % 2 == 0
        frame = faces.draw(
            face,
            {**base, **scope, "page": number, "even": even},
            job.format,
            scope.get("place") or place,
            what,
            mirrored=even,
        )
        pages.append(Page(frame, role))

    first = next((p.picture for p in story if p.picture), None)
    add("booklet-cover", "cover", picture=booklet.picture or first or "")
    blanks = total - len(story) - 2
    # a reader expects blank pages inside the covers: one inside the front cover first, the others before the back
    if blanks >= 2:
        add("booklet-blank", "blank")
    for page in story:
        add(
            "booklet-page",
            "page",
            text=str(page.text or ""),
            picture=page.picture or "",
            place=place_of(page.text) or place,
        )
    for _ in range(blanks - (1 if blanks >= 2 else 0)):
        add("booklet-blank", "blank")
    add("booklet-words", "words")
    return Piece(
        id="",
        kind=job.kind.name,
        unit=job.unit.unit,
        set_id=job.set_id,
        order=order,
        pages=tuple(pages),
        format=job.format,
        stock=job.stock,
        durable=False,
        making=Making.SADDLE,
        learner=str(job.learner.code) if job.learner else None,
        title=str(booklet.title),
        may_turn=True,
        binding="right"
        if job.learner and job.learner.left_handed and job.options.get("left-handed-binding")
        else "left",
        asked_at=place,
    )


def _folding_count(pages: int) -> int:
    return max(LEAST_PAGES, -(-pages // 4) * 4)


def _word_list(booklet: Booklet, unit: int, sources: Sources) -> tuple[str, ...]:
    """Return at most 18 of the story's words in alphabetical order: those new in this unit first, then the longest.

    Names and words learnt by heart are left out; they stand on cards of their own. A word that begins a sentence and
    stands nowhere else is given in small letters.
    """
    words: dict[str, bool] = {}
    for page in booklet.pages:
        for token in words_in(str(page.text or "")):
            word = token.text.lower()
            if word not in words and sources.reader.verdict(token.text, unit).verdict == "decodable":
                words[word] = sources.reader.verdict(word, unit - 1).verdict != "decodable"
    ranked = sorted(words, key=lambda word: (not words[word], -len(word), word))
    return tuple(sorted(ranked[:MOST_WORDS]))
