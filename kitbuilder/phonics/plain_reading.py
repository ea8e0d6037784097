"""How a child would read letters that are no known word: by what was taught, longest graphemes first."""

from __future__ import annotations

from collections.abc import Collection

from kitbuilder.phonics.alignment import VOWEL_LETTERS, Segment
from kitbuilder.phonics.correspondences import Correspondence, load_table


def read_plainly(word: str, correspondences: Collection[Correspondence]) -> tuple[Segment, ...]:
    """The fewest segments of taught graphemes that make up the letters; empty when none do or no vowel is in them.

    A grapheme with several taught sounds is read with its most usual one. A vowel letter, one consonant grapheme and a
    final e are read as a split digraph when it was taught, and not otherwise.
    """
    usual = _usual_sounds(correspondences)
    best: list[tuple[Segment, ...] | None] = [None] * len(word) + [()]
    for at in range(len(word) - 1, -1, -1):
        for segments, after in _starts(word, at, usual):
            rest = best[after]
            found = best[at]
            if rest is not None and (found is None or len(segments) + len(rest) < len(found)):
                best[at] = segments + rest
    whole = best[0] or ()
    return whole if any(segment.correspondence.is_vowel for segment in whole) else ()


def _starts(word: str, at: int, usual: dict[str, str]) -> list[tuple[tuple[Segment, ...], int]]:
    """The ways to read on from a letter, with the letter that comes next; longer graphemes first."""
    found: list[tuple[tuple[Segment, ...], int]] = []
    split = f"{word[at]}_e"
    for middle in range(2, 0, -1):
        tail = at + 1 + middle
        consonants = word[at + 1 : tail]
        if tail == len(word) - 1 and word[tail] == "e" and consonants in usual and split in usual:
            vowel = Segment(split, usual[split], at, at + 1, tail)
            found.append(((vowel, Segment(consonants, usual[consonants], at + 1, tail)), tail + 1))
    for end in range(min(len(word), at + 5), at, -1):
        letters = word[at:end]
        silent_e = letters == "e" and end == len(word) > 2 and word[at - 1] not in VOWEL_LETTERS
        if letters in usual and not silent_e:
            found.append(((Segment(letters, usual[letters], at, end),), end))
    return found


def _usual_sounds(correspondences: Collection[Correspondence]) -> dict[str, str]:
    table = load_table()
    usual: dict[str, tuple[float, str]] = {}
    for link in correspondences:
        row = table.row(link)
        rank = (row.cost if row else 99.0, link.phoneme)
        usual[link.grapheme] = min(usual.get(link.grapheme, rank), rank)
    return {grapheme: phoneme for grapheme, (_, phoneme) in usual.items()}
