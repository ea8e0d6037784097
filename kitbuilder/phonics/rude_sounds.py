"""Whether a made-up word is rude, sounds rude, or is one small slip of the ear away from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from importlib.resources import files

from kitbuilder.phonics.fitness import NOT_WORTH_IT, why_unfit

# Pairs told apart by the voice alone, th as many say it, and vowels that are next to each other in the mouth.
_VOICING = "P B, T D, K G, F V, S Z, SH ZH, CH JH, TH DH, TH F"
_NEAR_VOWELS = "IY IH, IH EH, EH AE, EH EY, AE AH, AE AA, AA AH, AA AO, AO OW, AH UH, UH UW"


def rude_word(text: str, paths: Sequence[Sequence[str]]) -> str:
    """The rude word that a string, read in any of these ways, is or is too close to; empty when there is none.

    Close means: the same letters or sounds; for most, one sound with or without voice, th for f, or one neighbouring
    vowel; for the few worst also their letters or sounds anywhere inside, and one sound more or less.
    """
    words, near, inside = _core()
    if text in words or why_unfit(text) not in ("", NOT_WORTH_IT):
        return text
    for path in paths:
        sounds = " ".join(path).replace(".", " ")
        if sounds in near:
            return near[sounds]
        for word, core in inside:
            if word in text or f" {core} " in f" {sounds} " or _is_one_more(core, sounds) or _is_one_more(sounds, core):
                return word
    return ""


@cache
def _core() -> tuple[frozenset[str], dict[str, str], tuple[tuple[str, str], ...]]:
    """The core list: its words, every near sound with its word, and the worst as (letters, sounds)."""
    text = (files("kitbuilder.phonics") / "data" / "rude_core.txt").read_text(encoding="utf-8")
    rows = [line.split() for line in text.splitlines() if line and not line.startswith("#")]
    near: dict[str, str] = {}
    for word, *sounds in rows:
        for variant in (sounds,) if word.startswith("=") else _variants(sounds):
            near.setdefault(" ".join(variant), word.lstrip("!="))
        for plural in ("S", "Z"):  # a made-up word in -x may sound like one
            near.setdefault(" ".join((*sounds, plural)), word.lstrip("!="))
    inside = tuple((word[1:], " ".join(sounds)) for word, *sounds in rows if word.startswith("!"))
    return frozenset(word.lstrip("!=") for word, *_ in rows), near, inside


def _is_one_more(fewer: str, more: str) -> bool:
    """Whether one of these strings of sounds is the other with one sound put in."""
    few, many = fewer.split(), more.split()
    return len(many) == len(few) + 1 > 3 and any(many[:at] + many[at + 1 :] == few for at in range(len(many)))


def _variants(sounds: Sequence[str]) -> Iterator[tuple[str, ...]]:
    yield tuple(sounds)
    pairs = [pair.split() for pair in f"{_VOICING}, {_NEAR_VOWELS}".split(", ")]
    for place, sound in enumerate(sounds):
        for pair in pairs:
            if sound in pair:
                other = pair[1 - pair.index(sound)]
                yield (*sounds[:place], other, *sounds[place + 1 :])
