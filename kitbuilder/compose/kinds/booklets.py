"""Booklets: cover, story pages, word list, padded inside the covers to a number of pages that can be made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from kitbuilder.artwork.piece import Making, Page, Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import piece_of
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.phrases import without_slashes
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import stop
from kitbuilder.measure.format import Format
from kitbuilder.model.text import place_of
from kitbuilder.model.unit import Booklet
from kitbuilder.phonics.tokens import words_in

LEAST_PAGES, MOST_PAGES = 4, 48
SLIT_PAGES = 8
MOST_WORDS = 18  # two columns in a size a child can read
LEAST_READ_UM = 6_350  # 18 pt: what a child reads is never smaller, however small the page
_ROW_MM = 8.2  # of words in that size, one below the other
_WORDS_ABOVE_MM, _WORDS_BELOW_MM, _SIGNING_MM = 11, 6, 44  # heading; id; the lines "I read this to"
_LEAST_FOR_SIGNING_MM = 110  # lower pages have no such lines


def compose_booklets(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return one piece for each booklet of the unit, pages in reading order."""
    return tuple(_booklet(job, booklet, sources, faces, order) for order, booklet in enumerate(job.unit.booklets))


def page_wanted(booklet: Booklet, options: Mapping[str, Any]) -> tuple[str, str]:
    """Return the size of the pages as written, empty for the kind's, and the making: the booklet's own comes first."""
    return str(booklet.page or options.get("page") or ""), str(booklet.making or options.get("making") or "saddle")


def bound_right(job: Job) -> bool:
    """Tell whether the job's booklets are bound on the right: for a left-handed child, unless the family says no."""
    return bool(job.learner and job.learner.left_handed and job.options.get("left-handed-binding"))


def _booklet(job: Job, booklet: Booklet, sources: Sources, faces: FaceBook, order: int) -> Piece:
    wanted = page_wanted(booklet, job.options)
    page, making = job.pages.get(wanted, job.format), Making(wanted[1])
    total = _page_count(booklet, making)
    cover_stock = _cover_stock(job, booklet, making)
    pages = _pages(job, booklet, sources, faces, page, total, making)
    return replace(
        piece_of(job, pages, order, str(booklet.title), making=making, page=page, place=booklet.title.location),
        binding="right" if bound_right(job) else "left",
        cover_stock=cover_stock,
    )


def _page_count(booklet: Booklet, making: Making) -> int:
    """Return how many pages the booklet has with its covers and blanks; raises ProblemsFound when it has too many."""
    written = len(booklet.pages) + 2
    most = SLIT_PAGES if making is Making.SLIT else MOST_PAGES
    if written > most:
        hint = "split the story into two booklets"
        if making is Making.SLIT:
            hint += ", or take making: saddle, which folds as many sheets as it needs"
        raise stop(
            f"the booklet {str(booklet.title)!r} has {written - 2} pages; {most - 2} is the most",
            "too-many-pages",
            hint,
            booklet.title.location,
        )
    if making is Making.SLIT:
        return SLIT_PAGES
    return written if making is Making.SIDE else max(LEAST_PAGES, -(-written // 4) * 4)


def _cover_stock(job: Job, booklet: Booklet, making: Making) -> str:
    cover = str(job.options.get("cover-stock") or "")
    if cover and cover != job.stock and making is Making.SLIT:
        raise stop(
            f"the booklet {str(booklet.title)!r} is one folded sheet: its cover cannot be of another stock",
            "cover-of-slit-booklet",
            "leave 'cover-stock' out, or take making: saddle or side",
            booklet.title.location,
        )
    return "" if cover == job.stock else cover


def _pages(
    job: Job, booklet: Booklet, sources: Sources, faces: FaceBook, page: Format, total: int, making: Making
) -> tuple[Page, ...]:
    place = booklet.title.location
    what = f"a page of the booklet {str(booklet.title)!r}"
    least = _lines_for_words(page)
    words = _word_list(booklet, job.unit.unit, sources, 2 * least)
    columns = _columns(words, page, faces)
    words = words if columns == 2 else _word_list(booklet, job.unit.unit, sources, least)
    base: dict[str, Any] = {
        "unit": {"number": job.unit.unit, "title": str(job.unit.title)},
        "options": job.options,
        "booklet": {
            "title": str(booklet.title),
            "named_as_unit": _letters(booklet.title) == _letters(job.unit.title),
            "pages": len(booklet.pages),
            "words": words,
            "columns": columns,
            "texts": tuple(str(told.text or "") for told in booklet.pages),
            "below_pictures": tuple(str(told.text or "") for told in booklet.pages if told.picture),
        },
        "learner": {
            "code": str(job.learner.code) if job.learner else "",
            "left_handed": bool(job.learner and job.learner.left_handed),
        },
    }
    pages: list[Page] = []

    def add(face: str, role: str, **scope: Any) -> None:
        number = len(pages) + 1
        # bound on the left, the outer edge of odd pages is the right one; single leaves have no other pages
        turned = number % 2 == 0 and making is not Making.SIDE
        outer = "left" if turned != bound_right(job) else "right"
        named = {**base, **scope, "page": number, "even": outer == "left", "outer": outer}
        frame = faces.draw(face, named, page, scope.get("place") or place, what, mirrored=turned)
        pages.append(Page(frame, role))

    story = list(booklet.pages)
    blanks = total - len(story) - 2
    first = next((p.picture for p in story if p.picture), None)
    add("booklet-cover", "cover", picture=booklet.picture or first or "")
    # a reader expects blank pages inside the covers: one inside the front cover first, the others before the back
    if blanks >= 2:
        add("booklet-blank", "blank")
    for told in story:
        where = place_of(told.text) or place
        text, breaks = without_slashes(str(told.text or ""))
        add(
            "booklet-page",
            "page",
            text=text,
            breaks=breaks,
            written=str(told.text or ""),
            picture=told.picture or "",
            adult_reads=str(told.adult_reads or ""),
            place=where,
        )
    for _ in range(blanks - (1 if blanks >= 2 else 0)):
        add("booklet-blank", "blank")
    add("booklet-words", "words")
    return tuple(pages)


def _letters(title: str | None) -> str:
    """Return the letters of a title alone, small: two titles that differ in capitals and marks are one to a reader."""
    return "".join(char for char in str(title or "").lower() if char.isalnum())


def _lines_for_words(page: Format) -> int:
    """Return how many lines of words fit on the last page beside what else stands there."""
    clear = (page.trim.height.um - page.keep_clear.top.um - page.keep_clear.bottom.um) / 1000
    below = _SIGNING_MM if clear >= _LEAST_FOR_SIGNING_MM else _WORDS_BELOW_MM
    return max(1, min(MOST_WORDS // 2, int((clear - _WORDS_ABOVE_MM - below) / _ROW_MM)))


def _columns(words: tuple[str, ...], page: Format, faces: FaceBook) -> int:
    """Return 2 columns of words where the longest fits in half the page, else 1."""
    clear = page.trim.width.um - page.keep_clear.left.um - page.keep_clear.right.um
    font = faces.workshop.font("Andika")
    widest = max((font.width_um(word, LEAST_READ_UM) for word in words), default=0)
    return 2 if widest <= clear // 2 - 2_000 else 1


def _word_list(booklet: Booklet, unit: int, sources: Sources, most: int) -> tuple[str, ...]:
    """Return at most `most` of the story's words in alphabetical order: those new in this unit first, then the longest.

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
    return tuple(sorted(ranked[: min(most, MOST_WORDS)]))
