"""Where a made-up word goes against English spelling, and where it looks like something it should not.

The rules on ff ll ss zz ck, tch, ve and k before e i y are those of the National Curriculum in England, English
Appendix 1 (2013), year 1; the others are common practice, no source.
"""

from __future__ import annotations

from kitbuilder.phonics.made_up_parts import SHORT_VOWELS, SPLIT_VOWELS, Parts, readings
from kitbuilder.phonics.sound_index import SoundIndex

_DOUBLED = {"f": "ff", "l": "ll", "s": "ss", "z": "zz", "k": "ck", "c": "ck", "ch": "tch"}
_NOT_LAST = frozenset({"ai", "oi", "ou", "oa", "au", "ea"})
_ONLY_LAST = frozenset({"ay", "oy", "ew", "ue", "oe", "ie"})
_W_AND_A = ("w", "wh", "qu")


def never_allowed(parts: Parts) -> str:
    """Why the string cannot be read as it stands, or would not be English at all; empty when nothing is wrong."""
    onset, vowel, coda = parts.onset, parts.vowel, parts.coda
    last = onset[-1] if onset else ""
    if last == "c" and vowel[0] in "ei":
        return f"c before {vowel[0]} sounds like s"
    if last == "k" and vowel[0] in "aou":
        return f"before {vowel[0]} English writes c, not k"
    if coda and coda[-1] in ("v", "j") and vowel not in SPLIT_VOWELS:
        return f"no English word ends in {coda[-1]}"
    if len(coda) > 1 and coda[-1] == "s":
        return "it looks like a plural"
    if not coda and vowel in _NOT_LAST:
        return f"{vowel} does not stand at the end of a word"
    if coda and vowel in _ONLY_LAST:
        return f"{vowel} stands only at the end of a word"
    return ""


def against_habit(parts: Parts, index: SoundIndex) -> str:
    """Which habit of English spelling the string breaks; empty when none."""
    onset, vowel, coda = parts.onset, parts.vowel, parts.coda
    end = coda[0] if len(coda) == 1 else ""
    if vowel in SHORT_VOWELS and end in _DOUBLED:
        return f"after one short vowel letter English ends in {_DOUBLED[end]}, not {end}"
    if onset and onset[-1] in _W_AND_A and vowel == "a" and end not in ("g", "ck", "x", "ng"):
        return f"a after {onset[-1]} is not read as in cat"
    if onset and onset[-1] in _W_AND_A and vowel in ("ar", "or", "u"):
        return f"{vowel} after {onset[-1]} is not read in its usual way"
    if end == "ng" and vowel == "e":
        return "eng is no English ending"
    if vowel in ("aw", "ow") and end not in ("", "n", "l"):
        return f"{vowel} stands at the end of a word or before n or l"
    if vowel == "igh" and end not in ("", "t"):
        return "igh stands at the end of a word or before t"
    return _unusual_reading(parts, index)


def _unusual_reading(parts: Parts, index: SoundIndex) -> str:
    """A warning where most English words with these last letters are read another way (cold, kind, all)."""
    first, _, last = parts.vowel.partition("_")
    rime = "".join((first, *parts.coda, last))
    counted = index.rimes.get(rime)
    if not counted:
        return ""
    ours = {" ".join(path).replace("AO", "AA") for path in readings(Parts((), parts.vowel, parts.coda))}
    agree = sum(count for sounds, count in counted.items() if sounds.replace("AO", "AA") in ours)
    return "" if 2 * agree >= sum(counted.values()) else f"-{rime} is mostly read another way"
