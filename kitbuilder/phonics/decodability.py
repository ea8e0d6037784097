"""Whether a child who was taught up to some unit can read a word, and if not, why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from kitbuilder.phonics.alignment import Segment
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.lexicon import Lexicon

VerdictName = Literal["decodable", "irregular", "name", "adult-reads", "not-yet", "two-way", "unknown"]


@dataclass(frozen=True, slots=True)
class Teaching:
    """What one unit teaches. Suffixes are written "-s", "-ed"; spelling rules "doubling", "drop-e", "y-to-i"."""

    unit: int
    correspondences: tuple[Correspondence, ...] = ()
    shapes: tuple[str, ...] = ()
    suffixes: tuple[str, ...] = ()
    spelling_rules: tuple[str, ...] = ()
    irregular: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    adult_reads: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing a word needs that was not taught yet; `unit` is the later unit that teaches it, None when none does.

    For a missing shape grapheme and phoneme are empty and `shape` names it.
    """

    grapheme: str
    phoneme: str
    unit: int | None
    shape: str | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a child at a unit can do with a word, and why. Segments are whole, taught or not (empty when unknown)."""

    word: str
    verdict: VerdictName
    segments: tuple[Segment, ...]
    missing: tuple[Missing, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Token:
    """A word as it stands in a text: `start` and `end` are offsets in the text as given."""

    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Taught:
    """Everything taught up to and including a unit."""

    unit: int
    correspondences: frozenset[Correspondence]
    shapes: frozenset[str]
    suffixes: frozenset[str]
    spelling_rules: frozenset[str]
    irregular: frozenset[str]
    names: frozenset[str]
    adult_reads: frozenset[str]


def words_in(text: str) -> tuple[Token, ...]:
    """The words of a text with their offsets, numerals included."""
    raise NotImplementedError


class Reader:
    """Answers for one sequence of teaching, in unit order."""

    def __init__(self, lexicon: Lexicon, teachings: Sequence[Teaching]) -> None:
        raise NotImplementedError

    def taught(self, unit: int) -> Taught:
        """Everything taught up to and including `unit`."""
        raise NotImplementedError

    def verdict(self, word: str, unit: int) -> Verdict:
        """Whether a child at `unit` can read `word`."""
        raise NotImplementedError

    def check_text(self, text: str, unit: int) -> tuple[Verdict, ...]:
        """One verdict for each word of the text, in order."""
        raise NotImplementedError
