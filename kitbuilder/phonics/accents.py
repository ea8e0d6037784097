"""Southern English from American pronunciations: by spelling where rules hold, by a list where they do not.

Sources: J. C. Wells, Accents of English (1982), for the sets of words named here (from memory). r stays written in the
phonemes (car is K AA R) although it is not heard; `merging.sound_key` leaves it out where it matters.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

from kitbuilder.phonics.alignment import Alignment, Segment

_DATA = Path(__file__).parent / "data"
_LONG_U = ("u", "u_e", "ue", "ew", "eu", "ui")
_AFTER_W = re.compile(r"(?:w|wh|qu)a")
_ENDINGS = r"(?:s|es|d|ed|ing|r|er|ers|st|est|y|ly|ful|fully|less|work|room|man|men|hood|land)?"


def british(word: str, alignment: Alignment) -> Alignment:
    """The alignment as southern English says it: hot with OH, bath with AA, new with a y."""
    segments: list[Segment] = []
    for number, segment in enumerate(alignment.segments):
        before = alignment.segments[number - 1] if number else None
        segments.append(replace(segment, phoneme=_phoneme(word, segment, before)))
    sounds = tuple(sound for segment in segments for sound in segment.phoneme.split("."))
    return Alignment(tuple(segments), sounds, alignment.cost)


def _phoneme(word: str, segment: Segment, before: Segment | None) -> str:
    grapheme, phoneme = segment.grapheme, segment.phoneme
    if _is_short_o(word, segment):
        return phoneme.replace("AA", "OH").replace("AO", "OH")
    if phoneme == "AE" and grapheme in ("a", "al", "au", "a_e") and (grapheme != "a" or _is_broad(word)):
        return "AE" if grapheme == "a_e" else "AA"
    if phoneme == "UW" and grapheme in _LONG_U and before and before.phoneme in ("T", "D", "N"):
        return "Y.UW"
    if phoneme == "ER" and grapheme in ("urr", "orr"):
        return "AH.R"
    if grapheme == "a" and phoneme == "EH" and word.startswith("rr", segment.end):
        return "AE"
    return phoneme


def _is_short_o(word: str, segment: Segment) -> bool:
    if segment.grapheme in ("o", "ho", "o_e", "ow", "ou"):
        return segment.phoneme in ("AA", "AO")
    if segment.grapheme != "a" or segment.phoneme not in ("AA", "AO", "AH") or word.startswith("water"):
        return False
    after_w = any(match.end() == segment.end for match in _AFTER_W.finditer(word))
    return after_w and not word.startswith(("l", "r"), segment.end)


def _is_broad(word: str) -> bool:
    return _broad().fullmatch(word) is not None


@cache
def _broad() -> re.Pattern[str]:
    lines = (_DATA / "broad_a.txt").read_text("utf-8").splitlines()
    words = [word for line in lines if not line.startswith("#") for word in line.split()]
    return re.compile(rf"(?:{'|'.join(words)}){_ENDINGS}")


@cache
def british_pronunciations() -> dict[str, tuple[tuple[str, ...], ...]]:
    """Words whose southern English form no rule gives."""
    found = {}
    for line in (_DATA / "british.txt").read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            word, *pronunciations = line.split("; ")
            found[word] = tuple(tuple(sounds.split()) for sounds in pronunciations)
    return found
