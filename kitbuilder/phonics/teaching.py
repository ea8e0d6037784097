"""What each unit teaches, and what a child knows after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from kitbuilder.phonics.correspondences import Accent, Correspondence
from kitbuilder.phonics.merging import covered_by


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


@dataclass(frozen=True)
class Taught:
    """Everything taught up to and including a unit. Irregular and adult-read words are in lower case."""

    unit: int
    correspondences: frozenset[Correspondence]
    shapes: frozenset[str]
    suffixes: frozenset[str]
    spelling_rules: frozenset[str]
    irregular: frozenset[str]
    names: frozenset[str]
    adult_reads: frozenset[str]
    accent: Accent = "us"

    @cached_property
    def covered(self) -> frozenset[tuple[str, str]]:
        """Every grapheme and phoneme that can be read, mergers counted."""
        return covered_by(self.correspondences, self.accent)


def taught_by(teachings: Sequence[Teaching], unit: int, accent: Accent = "us") -> Taught:
    """Everything that the units up to and including `unit` teach."""
    past = [teaching for teaching in teachings if teaching.unit <= unit]
    return Taught(
        unit,
        frozenset(link for teaching in past for link in teaching.correspondences),
        frozenset(shape for teaching in past for shape in teaching.shapes),
        frozenset(suffix for teaching in past for suffix in teaching.suffixes),
        frozenset(rule for teaching in past for rule in teaching.spelling_rules),
        frozenset(_lower(word) for teaching in past for word in teaching.irregular),
        frozenset(name.replace("\u2019", "'") for teaching in past for name in teaching.names),
        frozenset(_lower(word) for teaching in past for word in teaching.adult_reads),
        accent,
    )


def _lower(word: str) -> str:
    return word.lower().replace("\u2019", "'")
