"""Sentences that YAML read as something else without complaint."""

from __future__ import annotations

from collections.abc import Iterator

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.load.located_yaml import Listing, Mapping, Value, cut
from kitbuilder.model.text import Placed

SENTENCES = ("sentences", "copywork", "questions")
_ENDS = (".", "!", "?", "…")
_CLOSERS = "\"'”’)»"


def watch_sentences(unit: Mapping, log: ProblemLog) -> None:
    """Note sentences split at a comma in square brackets, and sentences cut at a `#`."""
    for listing in _sentence_lists(unit):
        if listing.in_brackets:
            _split(listing, log)
    for text in _texts(unit):
        if text.plain and text.comment is not None and not _ended(text):
            _cut_off(text, log)


def _ended(text: str) -> bool:
    return text.rstrip().rstrip(_CLOSERS).endswith(_ENDS)


def _split(listing: Listing, log: ProblemLog) -> None:
    for item in listing.items[:-1]:
        if isinstance(item, Placed) and item.plain and not _ended(item):
            log.add(
                f"in square brackets a comma ends a text: '{cut(item)}' stands alone here",
                "split-sentence",
                "write one sentence a line, below the name, each starting with '- '",
                item.location,
            )


def _cut_off(text: Placed, log: ProblemLog) -> None:
    place = text.location
    if place is None or not (text.comment or "")[:1].isspace():
        return  # without a space the reader of YAML has told it already
    log.add(
        f"the text ends at '#': '{cut(text)}'; '#{cut(text.comment or '')}' is left out",
        "hash-in-text",
        "put quotes round the whole text, or end the sentence before the note",
        Location(place.file, place.line, place.column),
    )


def _booklets(unit: Mapping) -> Iterator[Mapping]:
    listed = unit.get("booklets")
    if isinstance(listed, Listing):
        yield from (booklet for booklet in listed if isinstance(booklet, Mapping))


def _sentence_lists(unit: Mapping) -> Iterator[Listing]:
    for holder in (unit, *_booklets(unit)):
        for key in SENTENCES:
            listed = holder.get(key)
            if isinstance(listed, Listing):
                yield listed


def _texts(unit: Mapping) -> Iterator[Placed]:
    for listing in _sentence_lists(unit):
        yield from (item for item in listing if isinstance(item, Placed))
    for booklet in _booklets(unit):
        pages = booklet.get("pages")
        for page in pages if isinstance(pages, Listing) else ():
            text: Value | None = page.get("text") if isinstance(page, Mapping) else page
            if isinstance(text, Placed):
                yield text
