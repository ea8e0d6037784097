"""Which of CMUdict's pronunciations are ordinary, most usual first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from kitbuilder.phonics.alignment import Alignment, Segment, best_paths, own_cost
from kitbuilder.phonics.correspondences import Table

_RARER = 3.0  # nats dearer than the first pronunciation: a slip of the tongue (las', han's), not another way to say it
_MOST = 3
_NEAR_SPELLINGS = re.compile("ear|eer|ere|ier|eir")
_OPEN_O = frozenset(("aw", "au", "augh", "ough", "awe"))

Sounds = tuple[str, ...]


def without_stress(raw: Sounds) -> Sounds:
    """CMUdict's sounds without stress digits; the unstressed AH0 becomes AX."""
    return tuple("AX" if sound == "AH0" else sound.rstrip("012") for sound in raw)


def heard(word: str, raws: Sequence[Sounds]) -> tuple[tuple[Sounds, ...], tuple[Sounds, ...]]:
    """The pronunciations without stress, in order: strong forms, and apart from them weak ones (and = AX N D)."""
    strong = [_plain(word, raw) for raw in raws if not _is_weak(raw)]
    weak = [_plain(word, raw) for raw in raws if _is_weak(raw)]
    return tuple(dict.fromkeys(strong)), tuple(dict.fromkeys(weak))


def _plain(word: str, raw: Sounds) -> Sounds:
    """Without stress; around, which CMUdict begins with ER, begins with AX R like its spelling."""
    begins_apart = word.startswith("ar") and raw[0] == "ER0" and len(raw) > 1 and raw[1][-1].isdigit()
    sounds = without_stress(("AH0", "R", *raw[1:]) if begins_apart else raw)
    return _near(sounds) if _NEAR_SPELLINGS.search(word) else sounds


def _near(sounds: Sounds) -> Sounds:
    """IH before R for IY: CMUdict writes hear with one and near with the other."""
    after = (*sounds[1:], "")
    return tuple(
        "IH" if (sound, next_one) == ("IY", "R") else sound for sound, next_one in zip(sounds, after, strict=True)
    )


def _is_weak(raw: Sounds) -> bool:
    vowels = [sound for sound in raw if sound[-1].isdigit()]
    return len(vowels) == 1 and vowels[0].endswith("0")


def merged(sounds: Sounds) -> Sounds:
    """The sounds with those made equal that American speakers often merge: AA and AO; AX, IH and AH."""
    return tuple({"AO": "AA", "AX": "IH", "AH": "IH"}.get(sound, sound) for sound in sounds)


def ordinary(word: str, pronunciations: Sequence[Sounds], table: Table) -> tuple[Alignment, ...]:
    """The best alignment of each ordinary pronunciation, most usual first; empty when none can be aligned.

    The order is the source's. A later one is kept when it is really another (not a merger's) and its spelling is not
    much odder than the first's; the cheapest never wins over the first for being cheap. Between two that differ in
    AA and AO only, which one source writes now so, now so, the one that fits the spelling better stands.
    """
    kept: list[Alignment] = []
    for sounds in pronunciations:
        found = best_paths(word, sounds, 1, table, own_cost)
        if not found:
            continue
        same = next((n for n, other in enumerate(kept) if merged(sounds) == merged(other.pronunciation)), None)
        if same is not None:
            if found[0].cost < kept[same].cost and _low_backs_apart(sounds, kept[same].pronunciation):
                kept[same] = found[0]
        elif not kept or found[0].cost <= kept[0].cost + _RARER:
            kept.append(found[0])
    return tuple(_in_one_manner(alignment) for alignment in kept[:_MOST])


def _low_backs_apart(one: Sounds, other: Sounds) -> bool:
    return all(a == b or {a, b} == {"AA", "AO"} for a, b in zip(one, other, strict=True))


def _in_one_manner(alignment: Alignment) -> Alignment:
    """The alignment in one manner of writing: AO for aw, au, augh, ough and in all; AX.D and AX.Z in the suffixes."""
    after = (*alignment.segments[1:], None)
    pairs = zip(alignment.segments, after, strict=True)
    segments = tuple(replace(segment, phoneme=_one_manner(segment, next_one)) for segment, next_one in pairs)
    sounds = tuple(sound for segment in segments for sound in segment.phoneme.split("."))
    return Alignment(segments, sounds, alignment.cost)


def _one_manner(segment: Segment, after: Segment | None) -> str:
    if segment.phoneme == "AA" and segment.grapheme in _OPEN_O:
        return "AO"
    if segment.phoneme == "AA" and segment.grapheme == "a" and after and after.grapheme == "ll":
        return "AO"
    return {"IH.D": "AX.D", "IH.Z": "AX.Z"}.get(segment.phoneme, segment.phoneme)


def align_with(word: str, sounds: Sounds, table: Table) -> Alignment:
    """The best alignment of a pronunciation that must have one; ValueError when it has none."""
    found = best_paths(word, sounds, 1, table, own_cost)
    if not found:
        raise ValueError(f"the table has no way to spell {word} for {' '.join(sounds)}")
    return found[0]
