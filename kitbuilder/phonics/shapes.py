"""The shape of a word: how its consonants and vowels follow each other, or how many syllables it has."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from kitbuilder.phonics.alignment import Alignment, Segment
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.merging import sounds_alike

COMPOUND = "compound"
_SYLLABLES = ("", "", "two-syllable", "three-syllable", "four-syllable", "five-syllable", "six-syllable")
_LETTERS = re.compile(r"(C*)V(C*)")
_MEETING = (
    "bookkeeper bookkeepers bookkeeping cannot earring earrings filmmaker filmmakers filmmaking granddad granddads "
    "granddaughter granddaughters headdress headdresses lamppost lampposts nighttime outtake outtakes roommate "
    "roommates teammate teammates"
)
_HEARD_ONCE = frozenset(_MEETING.split())
"""Compounds in which a letter that both words have is written twice and heard once; by hand, no source."""
_RAREST_PART = 50  # SCOWL size


def is_shape(name: str) -> bool:
    """True for a name that a unit may teach: VC, CVC, CCVCC, ..., two-syllable, ..., compound."""
    return name == COMPOUND or name in _SYLLABLES[2:] or bool(_LETTERS.fullmatch(name))


def shape_of(alignment: Alignment) -> str:
    """The shape of a whole word, one C or V a grapheme (ship and make are CVC), or "two-syllable" and so on."""
    return shape_of_segments(alignment.segments)


def shape_of_segments(segments: Sequence[Segment]) -> str:
    """The shape of some segments; words of more than six syllables count as six."""
    letters = "".join("V" if segment.correspondence.is_vowel else "C" for segment in segments)
    syllables = letters.count("V")
    return letters if syllables < 2 else _SYLLABLES[min(syllables, len(_SYLLABLES) - 1)]


def accepts(taught: Iterable[str], shape: str) -> bool:
    """Whether a child who was taught some shapes can manage another: no cluster is longer, no more syllables.

    CVC covers VC, CV and V; CVCC and CCVC together do not cover CCVCC; two syllables say nothing about three.
    """
    taught = tuple(taught)
    if shape in _SYLLABLES[2:]:
        return any(shape in _SYLLABLES[2 : _SYLLABLES.index(known) + 1] for known in taught if known in _SYLLABLES[2:])
    wanted = _LETTERS.fullmatch(shape)
    if not wanted:
        return shape in taught
    for known in taught:
        if known in _SYLLABLES[2:]:
            continue
        has = _LETTERS.fullmatch(known)
        if has and all(len(want) <= len(have) for want, have in zip(wanted.groups(), has.groups(), strict=True)):
            return True
    return False


def compound_parts(word: str, pronunciation: tuple[str, ...], lexicon: Lexicon) -> tuple[str, str] | None:
    """The two common words that make up a compound (sun, set), None when their sounds do not add up to its own.

    A letter written twice where they meet may be heard once, in a few words (can, not): too many others are like them
    by chance (address, dipper).
    """
    for cut in range(2, len(word) - 1):
        first, second = lexicon.get(word[:cut]), lexicon.get(word[cut:])
        if not first or not second or max(first.level, second.level) > _RAREST_PART:
            continue
        if first.proper or second.proper or first.guessed or second.guessed:
            continue
        for one in first.pronunciations:
            for other in second.pronunciations:
                if sounds_alike(one + other, pronunciation) or _meets_in_one(
                    word, cut, one + other, len(one), pronunciation
                ):
                    return word[:cut], word[cut:]
    return None


def compound_seam(word: str, pronunciation: tuple[str, ...], lexicon: Lexicon) -> int | None:
    """Where the doubled letter begins that two words of a compound share in sound (cannot: 2); None for other words."""
    parts = compound_parts(word, pronunciation, lexicon) if word in _HEARD_ONCE else None
    return len(parts[0]) - 1 if parts else None


def _meets_in_one(word: str, cut: int, joined: Sequence[str], first_sounds: int, pronunciation: Sequence[str]) -> bool:
    """Whether the last sound of the first word and the first of the second are said as one."""
    once = (*joined[: first_sounds - 1], *joined[first_sounds:])
    return word in _HEARD_ONCE and word[cut - 1] == word[cut] and sounds_alike(once, tuple(pronunciation))
