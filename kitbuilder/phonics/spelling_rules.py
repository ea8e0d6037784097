"""Which of several graphemes for a sound English spelling wants at a place in a word.

The rules on ff ll ss zz ck, tch, ve, n before k, and k before e i y are those of the National Curriculum in England,
English Appendix 1 (2013), year 1; dge and ge at the end are of its year 2; ai oi inside and ay oy at the end, year 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kitbuilder.phonics.correspondences import Correspondence

_SHORT = {("a", "AE"), ("e", "EH"), ("i", "IH"), ("o", "AA"), ("o", "AO"), ("o", "OH"), ("u", "AH")}
_DOUBLED_AT_END = {"F": ("f", "ff"), "L": ("l", "ll"), "S": ("s", "ss"), "Z": ("z", "zz"), "K": ("c", "ck")}
_INSIDE_AND_LAST = {"EY": ("ai", "ay"), "OY": ("oi", "oy"), "AW": ("ou", "ow"), "AO": ("au", "aw")}


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a word a grapheme stands, as far as spelling rules ask.

    after_short: straight after a short vowel written with one letter. before: the letter that follows, or "".
    """

    first: bool
    last: bool
    after_short: bool
    before: str


def places(links: tuple[Correspondence, ...]) -> tuple[Place, ...]:
    """The place of each grapheme of a word. The e of a split digraph counts as a following letter, not as an end."""
    found = []
    for at, _ in enumerate(links):
        left = links[at - 1] if at else None
        split = left is not None and left.is_split
        rest = links[at + 1 :]
        before = rest[0].grapheme[0] if rest else "e" if split else ""
        after_short = left is not None and (left.grapheme, left.phoneme) in _SHORT
        found.append(Place(at == 0, not rest and not split, after_short, before))
    return tuple(found)


def possible(grapheme: str, phoneme: str, place: Place, taught: Mapping[str, frozenset[str]]) -> bool:
    """Whether the rules let this grapheme stand for the phoneme here. taught: the graphemes taught for each phoneme.

    A rule decides only between graphemes that were taught: before ck is taught, k may end a word.
    """
    known = taught.get(phoneme, frozenset())
    if phoneme == "K" and not _k_sound(grapheme, place, known):
        return False
    if phoneme in _DOUBLED_AT_END:
        single, double = _DOUBLED_AT_END[phoneme]
        at_end = place.last and place.after_short
        if (
            double in known
            and ((grapheme == double) != at_end)
            and grapheme in (single, double, "k" if phoneme == "K" else "s")
        ):
            return False
    if phoneme == "CH" and {"ch", "tch"} <= known and grapheme in ("ch", "tch"):
        return (grapheme == "tch") == (place.last and place.after_short)
    if phoneme == "JH" and not _j_sound(grapheme, place, known):
        return False
    if phoneme == "V" and {"v", "ve"} <= known and grapheme in ("v", "ve"):
        return (grapheme == "ve") == (place.last)
    if phoneme == "NG" and {"n", "ng"} <= known and grapheme in ("n", "ng"):
        return (grapheme == "n") == (place.before in ("k", "g", "x", "c", "q"))
    if phoneme in _INSIDE_AND_LAST and grapheme in _INSIDE_AND_LAST[phoneme]:
        return (grapheme == _INSIDE_AND_LAST[phoneme][1]) == place.last or phoneme in ("AW", "AO")
    return True


def _k_sound(grapheme: str, place: Place, known: frozenset[str]) -> bool:
    if not {"c", "k"} <= known or grapheme not in ("c", "k"):
        return True
    wants_k = place.before in ("e", "i", "y") or place.last
    return (grapheme == "k") == wants_k


def _j_sound(grapheme: str, place: Place, known: frozenset[str]) -> bool:
    if place.last and {"dge", "ge"} & known:
        if place.after_short and "dge" in known:
            return grapheme == "dge"
        return grapheme != "j" and grapheme != "dge"
    if grapheme in ("dge", "ge"):
        return place.last
    return grapheme != "g" or place.before in ("e", "i", "y")
