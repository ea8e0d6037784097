"""Which sounds count as the same: mergers of accents, the unclear vowel of unstressed syllables."""

from __future__ import annotations

from collections.abc import Iterable

from kitbuilder.phonics.correspondences import VOWEL_SOUNDS, Accent, Correspondence

_MERGED = {"AO": "AA", "AX": "IH", "AH": "IH"}
_SHORT = {"a": ("AE",), "e": ("EH",), "i": ("IH",), "o": ("AA", "OH"), "u": ("AH",)}
_ONSETS = frozenset(
    (
        "bl",
        "br",
        "ch",
        "cl",
        "cr",
        "dr",
        "fl",
        "fr",
        "gl",
        "gr",
        "ph",
        "pl",
        "pr",
        "q",
        "qu",
        "sc",
        "sch",
        "scr",
        "sh",
        "shr",
        "sk",
        "sl",
        "sm",
        "sn",
        "sp",
        "spl",
        "spr",
        "st",
        "str",
        "sw",
        "th",
        "thr",
        "tr",
        "tw",
        "wh",
    )
)
_CLEAR = ("IH", "AH")
"""Vowels that speakers use for the unclear one, or that differ from it by stress alone."""


def sounds_alike(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """True when two pronunciations differ at most in AA and AO, or in AX, IH and AH."""
    return len(one) == len(other) and all(
        a == b or _MERGED.get(a, a) == _MERGED.get(b, b) for a, b in zip(one, other, strict=True)
    )


def sound_key(pronunciation: tuple[str, ...], accent: Accent) -> tuple[str, ...]:
    """A form of the sounds that is equal for two words exactly when they sound the same in the accent.

    American: AO is AA, except before r. Southern English: r is heard before a vowel only, so saw and sore are the same.
    AX is not made equal to IH or AH: stress is not kept, and bit and but must stay apart.
    """
    key = []
    for sound, after in zip(pronunciation, (*pronunciation[1:], ""), strict=True):
        if accent == "uk" and sound == "R" and after not in VOWEL_SOUNDS:
            continue
        key.append("AA" if accent == "us" and sound == "AO" and after != "R" else sound)
    return tuple(key)


def covered_by(taught: Iterable[Correspondence], accent: Accent = "us") -> frozenset[tuple[str, str]]:
    """Every grapheme and phoneme that someone reads who was taught these: the same ones, and what merges with them.

    In American speech AA and AO alone stand for each other (hot, dog; not before r). IH or AH taught covers the
    unclear AX of the same letter (rabbit, circus); an AX taught covers an IH in teams of letters (captain, bargain).
    """
    found: set[tuple[str, str]] = set()
    for link in taught:
        grapheme, phoneme = link.grapheme, link.phoneme
        found.add((grapheme, phoneme))
        if accent == "us" and phoneme in ("AA", "AO"):
            found.update(((grapheme, "AA"), (grapheme, "AO")))
        if phoneme in _CLEAR:
            found.add((grapheme, "AX"))
        if phoneme == "AX" and len(grapheme) > 1:
            found.add((grapheme, "IH"))
        if phoneme in ("AX.D", "AX.Z", "IH.D", "IH.Z"):
            found.update(((grapheme, "AX" + phoneme[2:]), (grapheme, "IH" + phoneme[2:])))
    return frozenset(found)


def is_coloured(word: str, grapheme: str, phoneme: str, end: int) -> bool:
    """Whether a vowel read apart from the r after it belongs to that r: fork is f or k, never f o r k.

    An r is heard with its vowel when no vowel letter but a final e follows it (for, care); AA and AO are near to it
    even where one does (story).
    """
    if word[end : end + 1] != "r" or phoneme[-2:] not in VOWEL_SOUNDS or grapheme[-1] == "r":
        return False
    after = word[end + 1 :]
    if after == "e" or not after or after[0] not in "aeiouyr":
        return True
    return phoneme in ("AA", "AO") and after[0] != "r"


def reads_as_short(word: str, start: int, end: int, phoneme: str, covered: frozenset[tuple[str, str]]) -> bool:
    """Whether a vowel letter is near enough to its short vowel for a child who knows that one.

    The unclear vowel in a closed syllable (carrot, kitchen; not about, sofa: their syllables are open), and a before r
    where Americans say EH (carry).
    """
    letter = word[start:end]
    if not any((letter, short) in covered for short in _SHORT.get(letter, ())):
        return False
    if phoneme == "AX":
        return _is_closed(word, end)
    return phoneme == "EH" and letter == "a" and word.startswith("rr", end)


def _is_closed(word: str, at: int) -> bool:
    """True when consonants only follow, or more of them than can begin a syllable (lemon, carrot; not afraid)."""
    rest = word[at:].replace("'", "")
    consonants = rest[: len(rest) - len(rest.lstrip("bcdfghjklmnpqrstvwxz"))]
    return bool(consonants) and (consonants == rest or (len(consonants) > 1 and consonants not in _ONSETS))
