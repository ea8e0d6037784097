"""Suffixes at the end of a word, and the spelling rules that joined them to it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.merging import sounds_alike

SUFFIXES = ("-s", "-es", "-ed", "-ing", "-er", "-est")
DOUBLING, DROP_E, Y_TO_I = "doubling", "drop-e", "y-to-i"
SPELLING_RULES = (DOUBLING, DROP_E, Y_TO_I)

_SOUNDS: dict[str, tuple[tuple[str, ...], ...]] = {
    "-s": (("S",), ("Z",), ("AX", "Z")),
    "-es": (("Z",), ("AX", "Z")),
    "-ed": (("T",), ("D",), ("AX", "D")),
    "-ing": (("IH", "NG"),),
    "-er": (("ER",),),
    "-est": (("AX", "S", "T"),),
}
_SYLLABIC_AFTER = {
    "-s": ("S", "Z", "SH", "ZH", "CH", "JH"),
    "-es": ("S", "Z", "SH", "ZH", "CH", "JH"),
    "-ed": ("T", "D"),
}
"""The last sounds of a stem after which the suffix is a syllable of its own, and only after them."""
_NEEDS_DOUBLING = re.compile(r"[^aeiou]*[aeiou][bdgmnprt]")
_DATA = Path(__file__).parent / "data"
_DOUBLED = "bdfgklmnprtvz"
_DEEPEST = 2  # hunters: hunt -er -s


@dataclass(frozen=True, slots=True)
class SuffixUse:
    """A word as a stem and a suffix: the letter where the suffix begins, and the spelling rule used, if any."""

    suffix: str
    stem: str
    start: int
    rule: str | None = None


def suffix_uses(word: str, pronunciation: tuple[str, ...], lexicon: Lexicon) -> tuple[tuple[SuffixUse, ...], ...]:
    """Each way to take suffixes off, outermost first: hunters gives (-s) and (-s, -er).

    A way counts only when the stem is a word and its sounds with the suffix's give the word's: sister has no -er.
    """
    return tuple(_uses(word, pronunciation, lexicon, _DEEPEST))


def _uses(word: str, pronunciation: tuple[str, ...], lexicon: Lexicon, depth: int) -> Iterator[tuple[SuffixUse, ...]]:
    for use in () if word in without_suffix() else _cuts(word):
        entry = lexicon.get(use.stem)
        if not entry:
            continue
        for sounds in entry.pronunciations:
            if not _adds_up(sounds, use.suffix, pronunciation) or _is_plain_s(use, sounds):
                continue
            yield (use,)
            if depth > 1:
                yield from ((use, *more) for more in _uses(use.stem, sounds, lexicon, depth - 1))


def _is_plain_s(use: SuffixUse, stem: tuple[str, ...]) -> bool:
    """True for comes: come and -s; horses has the syllable of -es, whose e is that of horse."""
    return use.suffix == "-es" and use.stem.endswith("e") and stem[-1] not in _SYLLABIC_AFTER["-es"]


def _adds_up(stem: tuple[str, ...], suffix: str, whole: tuple[str, ...]) -> bool:
    is_syllable = stem[-1] in _SYLLABIC_AFTER.get(suffix, ())
    endings = [e for e in _SOUNDS[suffix] if suffix not in _SYLLABIC_AFTER or (len(e) > 1) == is_syllable]
    return any(sounds_alike(stem + ending, whole) for ending in endings)


@cache
def without_suffix() -> frozenset[str]:
    """Words that only look as if they had a suffix."""
    lines = (_DATA / "no_suffix.txt").read_text("utf-8").splitlines()
    return frozenset(word for line in lines if not line.startswith("#") for word in line.split())


def _cuts(word: str) -> Iterator[SuffixUse]:
    for mark in ("'s", "s'"):
        if word.endswith(mark):
            yield SuffixUse("-s", word[:-2], len(word) - 2)
    if word.endswith("s") and not word.endswith(("ss", "'s")):
        yield SuffixUse("-s", word[:-1], len(word) - 1)
    for suffix in SUFFIXES[1:]:
        letters = suffix[1:]
        start = len(word) - len(letters)
        if start < 2 or not word.endswith(letters):
            continue
        stem = word[:start]
        if suffix == "-es" or not _NEEDS_DOUBLING.fullmatch(stem):
            yield SuffixUse(suffix, stem, start)
        if suffix == "-es":
            yield SuffixUse(suffix, stem + "e", start)  # horses: the sounds of -es, the e of horse
        elif stem[-1] not in "eioy":  # being is be and -ing, not bee
            yield SuffixUse(suffix, stem + "e", start, DROP_E)
        if stem[-1] == stem[-2] and stem[-1] in _DOUBLED:
            yield SuffixUse(suffix, stem[:-1], start, DOUBLING)
        if stem[-1] == "i":
            yield SuffixUse(suffix, stem[:-1] + "y", start, Y_TO_I)
