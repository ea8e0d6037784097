"""The sound boxes of a word: one box for each sound a child hears, never one for each letter.

The idea of one box a sound is D. B. Elkonin's (The psychology of mastering the elements of reading, 1963). Two choices
are common practice without a source: a vowel with its r (far) and the long u of cute are one box each, because a child
hears them as one; x and qu are two sounds and lie across two boxes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitbuilder.phonics.alignment import Segment
from kitbuilder.phonics.correspondences import VOWEL_SOUNDS
from kitbuilder.phonics.decodability import Reader

_ONE_BOX = frozenset({"Y.UW", "Y.AX", "Y.UH", "Y.ER", "W.AH"})


@dataclass(frozen=True, slots=True)
class Box:
    """One box. `letters` is empty where the grapheme of the box before lies across this one too.

    spans: how many boxes the letters lie across (0 where they began one box earlier).
    behind: a letter that stands behind this box without a box of its own: the e of a split digraph.
    partner: where `behind` is set, the place (from 0) of the box whose vowel that e belongs to; else None.
    """

    phoneme: str
    letters: str
    spans: int = 1
    behind: str = ""
    partner: int | None = None


def sound_boxes(word: str, reader: Reader, unit: int | None = None) -> tuple[Box, ...]:
    """The boxes of a word as a child at this unit reads it, or in its most usual reading; empty for an unknown word."""
    if unit is not None and (segments := reader.verdict(word, unit).segments):
        return boxes_of(word, segments)
    entry = reader.lexicon.get(word)
    return boxes_of(word, entry.alignments[0].segments) if entry and entry.alignments else ()


def boxes_of(word: str, segments: Sequence[Segment]) -> tuple[Box, ...]:
    """The boxes of a word that was cut into these segments, in reading order."""
    boxes: list[Box] = []
    tails: dict[int, int] = {}  # place of a split digraph's e in the word -> the box of its vowel
    ends: list[tuple[int, int]] = []  # where each segment's letters end, and the segment's last box
    for segment in segments:
        sounds = _boxed_sounds(segment.phoneme)
        if segment.tail is not None:
            tails[segment.tail] = len(boxes)
        letters = word[segment.start : segment.end]
        if not sounds:
            _write_behind(boxes, letters)
            continue
        boxes.append(Box(sounds[0], letters, len(sounds)))
        boxes.extend(Box(sound, "", 0) for sound in sounds[1:])
        ends.append((segment.end, len(boxes) - 1))
    for place, vowel in sorted(tails.items()):
        last = max((box for end, box in ends if end <= place), default=vowel)
        old = boxes[last]
        boxes[last] = Box(old.phoneme, old.letters, old.spans, word[place], vowel)
    return tuple(boxes)


def _boxed_sounds(phoneme: str) -> tuple[str, ...]:
    sounds = tuple(sound for sound in phoneme.split(".") if sound)
    vowel_with_r = len(sounds) == 2 and sounds[0] in VOWEL_SOUNDS and sounds[1] in {"R", "AX"}
    return (phoneme,) if phoneme in _ONE_BOX or vowel_with_r else sounds


def _write_behind(boxes: list[Box], letters: str) -> None:
    """Letters without a sound stand behind the box before them."""
    if boxes:
        last = boxes[-1]
        boxes[-1] = Box(last.phoneme, last.letters, last.spans, last.behind + letters, last.partner)
