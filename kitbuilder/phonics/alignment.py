"""A word's letters tied to the sounds of one of its pronunciations."""

from __future__ import annotations

from dataclasses import dataclass

from kitbuilder.phonics.correspondences import Correspondence


@dataclass(frozen=True, slots=True)
class Segment:
    """One grapheme of a word, the phoneme it stands for, and the letters it covers.

    start, end: letters of the word, counted from 0, end not included. For a split digraph they cover the vowel letter,
    and `tail` is the place of its e; otherwise `tail` is None.
    """

    grapheme: str
    phoneme: str
    start: int
    end: int
    tail: int | None = None

    @property
    def correspondence(self) -> Correspondence:
        """The same grapheme and phoneme without the place."""
        return Correspondence(self.grapheme, self.phoneme)


@dataclass(frozen=True, slots=True)
class Alignment:
    """A word cut into segments, in reading order, for one pronunciation; a lower cost is a more usual spelling."""

    segments: tuple[Segment, ...]
    pronunciation: tuple[str, ...]
    cost: float


def align(word: str, pronunciation: tuple[str, ...], k: int = 3) -> tuple[Alignment, ...]:
    """The k best alignments, best first; empty when the letters cannot give the sounds."""
    raise NotImplementedError
