"""Pronunciations worked out from spelling alone: a model of which correspondence follows which."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from kitbuilder.phonics.alignment import PARTED_DOUBLE, may_close, may_stand, parts_a_double
from kitbuilder.phonics.correspondences import VOWEL_SOUNDS, Correspondence, Row, Table

_BEAM = 60
_RAREST = 12.0  # nats; rarer correspondences are for known words only
_EDGE = Correspondence("", "")


@dataclass(frozen=True, slots=True)
class _Way:
    """A beginning of a reading: minus log probability, the rows so far, the letter reached, an open split's start."""

    cost: float
    rows: tuple[Row, ...]
    at: int
    opened: int


def _fits(row: Row, word: str, start: int, end: int) -> bool:
    """Whether a row may stand here; the suffix ed only after a vowel letter (not in cred)."""
    if row.correspondence.grapheme == "ed" and not any(letter in "aeiouy" for letter in word[:start]):
        return False
    return row.place != "asked" and may_stand(row, word, start, end)


def _stressed(row: Row) -> tuple[str, ...]:
    """The sounds of the one vowel of a word, which cannot be unclear."""
    vowel = {"a": "AE", "e": "EH", "i": "IH", "o": "AA", "u": "AH", "y": "IH"}.get(row.correspondence.grapheme[0], "AH")
    return tuple(vowel if sound == "AX" else sound for sound in row.sounds)


class Guesser:
    """Reads unknown words by the habits of known ones."""

    def __init__(self, table: Table, sequences: Iterable[tuple[Correspondence, ...]]) -> None:
        self._table = table
        self._three: Counter[tuple[Correspondence, Correspondence, Correspondence]] = Counter()
        self._two: Counter[tuple[Correspondence, Correspondence]] = Counter()
        self._one: Counter[Correspondence] = Counter()
        self._before_two: Counter[tuple[Correspondence, Correspondence]] = Counter()
        for sequence in sequences:
            padded = (_EDGE, _EDGE, *sequence, _EDGE)
            for first, second, third in zip(padded, padded[1:], padded[2:], strict=False):
                self._three[first, second, third] += 1
                self._two[second, third] += 1
                self._one[third] += 1
                self._before_two[first, second] += 1
        self._total = sum(self._one.values())
        self._before_one: Counter[Correspondence] = Counter()
        for (second, _), count in self._two.items():
            self._before_one[second] += count

    def read(self, word: str) -> tuple[str, ...] | None:
        """The likeliest sounds of a word, None when it cannot be read at all."""
        waves: list[list[_Way]] = [[] for _ in range(len(word) + 1)]
        waves[0].append(_Way(0.0, (), 0, 0))
        for at in range(len(word)):
            waves[at].sort(key=lambda way: way.cost)
            for way in waves[at][:_BEAM]:
                for more in self._ahead(word, way):
                    waves[more.at].append(more)
        ends = [way for way in waves[-1] if not way.opened]
        if not ends:
            return None
        best = min(ends, key=lambda way: way.cost + self._step(way.rows, _EDGE))
        sounds = tuple(sound for row in best.rows for sound in row.sounds)
        if sum(sound in VOWEL_SOUNDS for sound in sounds) > 1:
            return sounds
        return tuple(sound for row in best.rows for sound in _stressed(row))

    def _ahead(self, word: str, way: _Way) -> Iterable[_Way]:
        at = way.at
        parted = PARTED_DOUBLE if parts_a_double(word, at) else 0.0
        for end in range(at + 1, min(len(word), at + self._table.longest) + 1):
            letters = word[at:end]
            if way.opened and any(letter in "aeiouy" for letter in letters):
                break
            for row in self._table.whole.get(letters, ()):
                if row.cost < _RAREST and _fits(row, word, at, end):
                    cost = parted + way.cost + self._step(way.rows, row.correspondence)
                    yield _Way(cost, (*way.rows, row), end, way.opened)
        if way.opened:
            if may_close(word, way.opened, at):
                yield _Way(way.cost, way.rows, at + 1, 0)
        elif at + 2 < len(word):
            for row in self._table.split.get(word[at], ()):
                cost = way.cost + self._step(way.rows, row.correspondence)
                yield _Way(cost, (*way.rows, row), at + 1, at + 1)

    def _step(self, rows: tuple[Row, ...], link: Correspondence) -> float:
        first = rows[-2].correspondence if len(rows) > 1 else _EDGE
        second = rows[-1].correspondence if rows else _EDGE
        one = (self._one[link] + 0.1) / (self._total + 100)
        two = (self._two[second, link] + 4 * one) / (self._before_one[second] + 4)
        three = (self._three[first, second, link] + 3 * two) / (self._before_two[first, second] + 3)
        return -math.log(three)
