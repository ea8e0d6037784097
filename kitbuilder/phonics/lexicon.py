"""The words of the language with their pronunciations, how common they are, and their alignments."""

from __future__ import annotations

import gzip
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from kitbuilder.phonics.accents import british, british_pronunciations
from kitbuilder.phonics.alignment import Alignment, Segment, align
from kitbuilder.phonics.correspondences import Accent, Correspondence, load_table
from kitbuilder.remembering import remembered

Pronunciations = tuple[tuple[str, ...], ...]

SIZES = (10, 20, 35, 40, 50, 55, 60, 70, 80, 95)
FIRST_CODE = 0x100
"""Code point of the first correspondence in the file: its head line lists them, its rows hold one character each."""

_DATA = Path(__file__).parent / "data"
_NO_WORDS: Mapping[str, Pronunciations] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Entry:
    """One word of the lexicon.

    word: as it is written ("June" keeps its capital when only the capital form is a word).
    pronunciations: the ordinary ones, most usual first, sounds without stress, AX for the unstressed vowel.
    level: SCOWL size (10 the most common words, 95 the rarest); frequency: Zipf scale, 0 when never met.
    alignments: best alignment of each pronunciation, in the same order (each carries its pronunciation).
    guessed: the pronunciation was worked out from the spelling. proper: only a name or always with a capital.
    two_way: the pronunciations are different words in the same letters (read, wind), not two ways to say one word.
    """

    word: str
    pronunciations: Pronunciations
    level: int
    frequency: float
    alignments: tuple[Alignment, ...]
    guessed: bool = False
    proper: bool = False
    two_way: bool = False


class Lexicon:
    """The words of one accent, with a family's own words on top."""

    def __init__(self, rows: bytes, accent: Accent, extra: Mapping[str, Pronunciations]) -> None:
        head, _, _ = rows.partition(b"\n")
        self.accent: Accent = accent
        self._rows = rows
        self._first = len(head) + 1
        self._links = tuple(Correspondence(*link.split("=")) for link in head.decode().split(" "))
        self._extra = {word.lower(): _own_entry(word, pronunciations) for word, pronunciations in extra.items()}
        self._known: dict[str, Entry | None] = {}

    def get(self, word: str) -> Entry | None:
        """The word's entry, whatever its capitals; None when it is not known."""
        key = word.lower().replace("\u2019", "'")
        if key in self._extra:
            return self._extra[key]
        if key not in self._known:
            row = self._find(key.encode())
            self._known[key] = self._entry(row.decode()) if row else None
        return self._known[key]

    def words(self) -> Iterator[str]:
        """Every word in sorted order, as written in `Entry.word`."""
        shipped = (_written(row) for row in self._rows[self._first :].decode().splitlines())
        own = [entry.word for _, entry in sorted(self._extra.items())]
        hidden = frozenset(self._extra)
        yield from sorted([*own, *(word for word in shipped if word.lower() not in hidden)], key=str.lower)

    def coded_rows(self) -> str:
        """The shipped rows as text, for passes over all words: word, size and marks, frequency, coded alignments."""
        return self._rows[self._first :].decode()

    def coded_links(self) -> tuple[tuple[str, Correspondence], ...]:
        """The characters of the coded alignments with the correspondences they stand for."""
        return tuple((chr(FIRST_CODE + place), link) for place, link in enumerate(self._links))

    def own_words(self) -> tuple[str, ...]:
        """The family's own words, in sorted order, lower case."""
        return tuple(sorted(self._extra))

    def _find(self, key: bytes) -> bytes | None:
        """The row of a word, by halving the sorted text: no index has to be built at start-up."""
        rows, low, high = self._rows, self._first, len(self._rows)
        while low < high:
            start = rows.rfind(b"\n", low, (low + high) // 2) + 1 or low
            end = rows.find(b"\n", start)
            found = rows[start : rows.find(b"\t", start)]
            if found == key:
                return rows[start:end]
            if found < key:
                low = end + 1
            else:
                high = start
        return None

    def _entry(self, row: str) -> Entry:
        word, marks, frequency, coded = row.split("\t")
        alignments = tuple(self._alignment(word, codes) for codes in coded.split(";"))
        if self.accent == "uk":
            alignments = _british(word, alignments)
        return Entry(
            _written(row),
            tuple(alignment.pronunciation for alignment in alignments),
            SIZES[int(marks[0])],
            int(frequency) / 100,
            alignments,
            two_way="2" in marks[1:],
            guessed="g" in marks,
            proper="p" in marks,
        )

    def _alignment(self, word: str, codes: str) -> Alignment:
        table = load_table()
        segments: list[Segment] = []
        at, open_at, cost = 0, -1, 0.0
        for link in (self._links[ord(code) - FIRST_CODE] for code in codes):
            if open_at >= 0 and at > segments[open_at].end and word[at] == "e":
                segments[open_at] = _closed(segments[open_at], at)
                at, open_at = at + 1, -1
            if link.is_split:
                open_at = len(segments)
            end = at + (1 if link.is_split else len(link.grapheme))
            segments.append(Segment(link.grapheme, link.phoneme, at, end))
            row = table.row(link)
            cost += row.cost if row else 0.0
            at = end
        if open_at >= 0:
            segments[open_at] = _closed(segments[open_at], at)
        sounds = tuple(sound for segment in segments for sound in segment.phoneme.split("."))
        return Alignment(tuple(segments), sounds, round(cost, 3))


def _british(word: str, alignments: tuple[Alignment, ...]) -> tuple[Alignment, ...]:
    known = british_pronunciations().get(word)
    if known:
        return tuple(align(word, sounds, 1)[0] for sounds in known)
    changed = (british(word, alignment) for alignment in alignments)
    return tuple({alignment.pronunciation: alignment for alignment in changed}.values())


def _closed(segment: Segment, tail: int) -> Segment:
    return Segment(segment.grapheme, segment.phoneme, segment.start, segment.end, tail)


def _written(row: str) -> str:
    word, marks, _ = row.split("\t", 2)
    return word.capitalize() if "p" in marks or word == "i" else word


def _own_entry(word: str, pronunciations: Pronunciations) -> Entry:
    """A family's word: as common as a word can be, its alignments worked out now."""
    found = [align(word, sounds, 1) for sounds in pronunciations]
    alignments = tuple(paths[0] for paths in found if paths)
    return Entry(word, pronunciations, SIZES[0], 4.0, alignments, proper=word[:1].isupper())


@remembered()
def _rows() -> bytes:
    return gzip.decompress((_DATA / "lexicon.gz").read_bytes())


def load_lexicon(accent: Accent = "us", extra: Mapping[str, Pronunciations] = _NO_WORDS) -> Lexicon:
    """The lexicon for an accent; `extra` gives words (with pronunciations) that win over the shipped ones."""
    return Lexicon(_rows(), accent, extra)
