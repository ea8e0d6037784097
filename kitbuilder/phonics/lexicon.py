"""The words of the language with their pronunciations, how common they are, and their alignments."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from kitbuilder.phonics.alignment import Alignment

Accent = Literal["us", "uk"]


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
    pronunciations: tuple[tuple[str, ...], ...]
    level: int
    frequency: float
    alignments: tuple[Alignment, ...]
    guessed: bool = False
    proper: bool = False
    two_way: bool = False


class Lexicon:
    """The words of one accent, with a family's own words on top."""

    def get(self, word: str) -> Entry | None:
        """The word's entry, whatever its capitals; None when it is not known."""
        raise NotImplementedError

    def words(self) -> Iterator[str]:
        """Every word in sorted order."""
        raise NotImplementedError


def load_lexicon(accent: Accent = "us", extra: Mapping[str, tuple[tuple[str, ...], ...]] = {}) -> Lexicon:
    """The lexicon for an accent; `extra` gives words (with pronunciations) that win over the shipped ones."""
    raise NotImplementedError
