"""Pronunciations of words that CMUdict lacks, from those of the words they are made of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from kitbuilder.phonics.build.pronunciations import Sounds

_VOICELESS = ("P", "T", "K", "F", "TH")
_HISSING = ("S", "Z", "SH", "ZH", "CH", "JH")
_PLAIN_ENDINGS: tuple[tuple[str, Sounds], ...] = (
    ("ing", ("IH", "NG")),
    ("er", ("ER",)),
    ("ers", ("ER", "Z")),
    ("est", ("AX", "S", "T")),
    ("ly", ("L", "IY")),
    ("ness", ("N", "AX", "S")),
    ("less", ("L", "AX", "S")),
    ("ful", ("F", "AX", "L")),
    ("y", ("IY",)),
    ("able", ("AX", "B", "AX", "L")),
)
_PREFIXES: tuple[tuple[str, Sounds], ...] = (
    ("un", ("AH", "N")),
    ("re", ("R", "IY")),
    ("out", ("AW", "T")),
    ("over", ("OW", "V", "ER")),
    ("under", ("AH", "N", "D", "ER")),
    ("non", ("N", "AA", "N")),
    ("mis", ("M", "IH", "S")),
)
_SPELLINGS = (("our", "or"), ("is", "iz"), ("ys", "yz"), ("ll", "l"), ("ence", "ense"), ("ogue", "og"), ("aeo", "eo"))
_SHORTEST_PART = 3


def derive(word: str, known: Mapping[str, Sounds], parts: Mapping[str, float]) -> Sounds | None:
    """The sounds of a word as stem and ending, prefix and stem, or two words; None when it is none of these.

    `known` gives the first pronunciation of words that have one; `parts` the frequencies of those that may stand in a
    compound.
    """
    for american in _american(word):
        if american in known:
            return known[american]
    for stem, ending in _stems(word):
        if stem in known:
            return _joined(known[stem], ending)
    for prefix, sounds in _PREFIXES:
        rest = word.removeprefix(prefix)
        if rest != word and len(rest) > _SHORTEST_PART and rest in known:
            return sounds + known[rest]
    cuts = [
        (min(parts[word[:cut]], parts[word[cut:]]), word[:cut], word[cut:])
        for cut in range(_SHORTEST_PART, len(word) - _SHORTEST_PART + 1)
        if word[:cut] in parts and word[cut:] in parts
    ]
    if not cuts:
        return None
    _, first, second = max(cuts)
    return known[first] + known[second]


def _american(word: str) -> Iterator[str]:
    """The same word as Americans may spell it: colour, realise, centre, traveller, defence."""
    for british, american in _SPELLINGS:
        if british in word:
            yield word.replace(british, american)
    if word.endswith(("tre", "tres")):
        yield word.replace("tre", "ter")


def _stems(word: str) -> Iterator[tuple[str, str | Sounds]]:
    """Stems that the word may have, with the ending: sounds, or "s" or "ed" whose sound depends on the stem."""
    if word.endswith("'s") or (word.endswith("s") and not word.endswith(("ss", "us", "is"))):
        yield word.removesuffix("s").removesuffix("'"), "s"
    if word.endswith("es"):
        yield word[:-2], "s"
        if word.endswith("ies"):
            yield word[:-3] + "y", "s"
    if word.endswith("ed"):
        yield from ((stem, "ed") for stem in _before_vowel(word[:-2]))
    for letters, sounds in _PLAIN_ENDINGS:
        if word.endswith(letters) and len(word) > len(letters) + 2:
            stem = word.removesuffix(letters)
            if letters[0] in "aeiy":
                yield from ((found, sounds) for found in _before_vowel(stem))
            else:
                yield stem, sounds
                if stem.endswith("i"):
                    yield stem[:-1] + "y", sounds


def _before_vowel(stem: str) -> Iterator[str]:
    """The words that a stem may be before a suffix with a vowel: hopp is hop, hop is hop or hope, carri is carry."""
    if len(stem) > 2 and stem[-1] == stem[-2]:
        if stem[-1] in "sflz":
            yield stem
        yield stem[:-1]
    if len(stem) > 2 and stem[-1] not in "aeiou" and stem[-2] in "aeiou" and stem[-3] not in "aeiou":
        yield stem + "e"
        yield stem
    else:
        yield stem
        yield stem + "e"
    if stem.endswith("i"):
        yield stem[:-1] + "y"


def _joined(stem: Sounds, ending: str | Sounds) -> Sounds:
    last = stem[-1]
    if isinstance(ending, tuple):
        return stem + ending
    if ending == "s":
        return stem + (("AX", "Z") if last in _HISSING else ("S",) if last in _VOICELESS else ("Z",))
    return stem + (("AX", "D") if last in ("T", "D") else ("T",) if last in (*_VOICELESS, *_HISSING[::2]) else ("D",))
