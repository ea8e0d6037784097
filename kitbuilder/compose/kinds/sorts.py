"""Word sorts: columns under graphemes, and words of which each belongs into exactly one of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm, small_format
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.compose.tile_groups import group_of

CARD = small_format(46, 22, 3)
LOOKED_AT = 150  # words
LEAST_WORDS = 2  # a column with one word is no column
TOLD = {"new": "the letters it holds.", "vowels": "its vowel.", "first": "the letters it begins with."}

Item = Mapping[str, Any]


def compose_sorts(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the page and the words; nothing when no two columns can be filled."""
    made = SetMaker(job, faces)
    columns = _columns(job, sources, made)
    if len(columns) < 2:
        return ()
    by = str(job.options["by"])
    if by == "new" and not set(columns) & {str(t.grapheme) for t in job.unit.teach}:
        by = "vowels"  # there was too little for the new letters
    answers = " · ".join(f"{head}: {', '.join(words)}" for head, words in columns.items())
    heads = tuple({"text": head} for head in columns)
    made.add("sort-page", "page", {"heads": heads, "told": TOLD[by], "answers": answers}, colour="page")
    for word in sorted(word for words in columns.values() for word in words):
        made.add("game-word", word, {"word": word}, page=CARD, colour="words")
    return made.done


def _columns(job: Job, sources: Sources, made: SetMaker) -> dict[str, list[str]]:
    items = made.fitting(sources.words(job, LOOKED_AT), clear_size_mm(CARD)[0] - 4, 24)
    most, wanted = int(job.options["columns"]), int(job.options["words"])
    by = str(job.options["by"])
    taught = [str(item["text"]) for item in sources.listed("taught-correspondences", job)]
    if by == "first":
        starts = list(dict.fromkeys(str(item["graphemes"][0]) for item in items))
        return sorted_words(items, starts, most, wanted, first=True)
    vowels = [g for g in dict.fromkeys(taught) if group_of(g).startswith("vowel")]
    if by == "new":
        new = list(dict.fromkeys(str(t.grapheme) for t in job.unit.teach))
        # an s with its old sound is not what the column of the new one holds
        sounding = [item for item in items if all(item["fresh"].count(g) == item["graphemes"].count(g) for g in new)]
        found = sorted_words(sounding, new, most, wanted)
        if len(found) >= 2:
            return found
    return sorted_words(items, vowels, most, wanted)


def sorted_words(
    items: Sequence[Item], heads: Sequence[str], most: int, wanted: int, *, first: bool = False
) -> dict[str, list[str]]:
    """Return the words of each head that has enough, at most `most` heads, the fullest, in the order given.

    A word stands under a head when it holds that grapheme and none of the others: first leaves out all but its
    first grapheme.
    """
    kept = list(heads)
    while True:
        columns: dict[str, list[str]] = {head: [] for head in kept}
        for item in items:
            graphemes = set(item["graphemes"][:1] if first else item["graphemes"])
            held = [head for head in kept if head in graphemes]
            if len(held) == 1:
                columns[held[0]].append(str(item["text"]))
        least = min(kept, key=lambda head: (len(columns[head]), -kept.index(head)), default=None)
        if least is None or (len(columns[least]) >= LEAST_WORDS and len(kept) <= most):
            return {head: words[:wanted] for head, words in columns.items()}
        kept.remove(least)
