"""The links between letters and sounds that English spelling uses, as data."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Correspondence:
    """One grapheme and the phoneme it stands for.

    grapheme: the letters, lower case; a split digraph is "a_e".
    phoneme: ARPAbet without stress, AX for the unstressed vowel; two sounds in one grapheme are joined by a dot (K.S).
    """

    grapheme: str
    phoneme: str

    @property
    def sounds(self) -> tuple[str, ...]:
        """The single sounds of the phoneme, in order."""
        return tuple(self.phoneme.split("."))

    @property
    def is_split(self) -> bool:
        """True for a split digraph, whose final e stands apart from its vowel."""
        return "_" in self.grapheme
