"""What an adult listens for when new sounds are read: how they are made, and which letters look or sound alike.

How sounds are made comes from the phonetic alphabet; which are mixed up is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from kitbuilder.phonics.ipa import CONSONANTS

Item = Mapping[str, Any]
LOOK_ALIKE = (
    *(("b", "d"), ("b", "p"), ("d", "p"), ("p", "q")),
    *(("m", "n"), ("n", "u"), ("n", "h"), ("f", "t"), ("v", "w"), ("i", "l")),
)
SOUND_ALIKE = (
    *(("EH", "IH"), ("AE", "AH"), ("AA", "AH"), ("AE", "EH")),
    *(("TH", "F"), ("DH", "V"), ("F", "V"), ("S", "Z"), ("CH", "JH"), ("SH", "CH")),
    *(("B", "P"), ("D", "T"), ("G", "K"), ("M", "N"), ("NG", "N")),
)


def listen_for(taught: Sequence[Item]) -> tuple[str, ...]:
    """Return lines for the sounds that are new among those taught."""
    return tuple(_lines(taught))


def _lines(taught: Sequence[Item]) -> Iterator[str]:
    new = [item for item in taught if item["new"]]
    short = [i["text"] for i in new if i["phoneme"] in CONSONANTS and not CONSONANTS[i["phoneme"]].held]
    held = [i["text"] for i in new if i["phoneme"] in CONSONANTS and CONSONANTS[i["phoneme"]].held]
    vowels = [i["text"] for i in new if i["phoneme"] not in CONSONANTS and "." not in i["phoneme"]]
    if short:
        yield f"{_listed(short)}: short and clean, with no “uh” after it"
    if held:
        yield f"{_listed(held)}: drawn out, and joined to the next sound without a stop"
    if vowels:
        yield f"{_listed(vowels)}: the mouth stays open; watch its shape"
    yield from _mixed_up(taught, new)


def _mixed_up(taught: Sequence[Item], new: Sequence[Item]) -> Iterator[str]:
    known = [item for item in taught if not item["new"]]
    fresh = {str(item["text"]) for item in new} - {str(item["text"]) for item in known}  # not n, now of wink too
    letters = {str(item["text"]) for item in taught}
    pairs = [f"{a} and {b}" for a, b in LOOK_ALIKE if {a, b} <= letters and {a, b} & fresh]
    if pairs:
        yield f"{_listed(pairs)}: do they look alike to the child? Trace both, a day apart"
    first: dict[str, str] = {}
    for item in taught:
        first.setdefault(str(item["phoneme"]), str(item["text"]))
    sounds = {str(item["phoneme"]) for item in new} - {str(item["phoneme"]) for item in known}
    near = [(first[a], first[b]) for a, b in SOUND_ALIKE if a in first and b in first and {a, b} & sounds]
    pairs = [f"{a} and {b}" for a, b in near if a != b]
    if pairs:
        yield f"{_listed(pairs)}: do they sound alike to the child? Say both slowly, lips in sight"


def _listed(texts: Sequence[str]) -> str:
    return ", ".join(dict.fromkeys(texts))
