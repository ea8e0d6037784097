"""Letters for the leaves of a flip book: every combination that can come up is a word or a good made-up word.

The stacks turn independently, so the leaves of all slots are multiplied: a choice of leaves is only as good as its
worst combination. From single words the leaves grow one by one, as long as nothing bad can come up.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.nonsense_words import judge_nonsense
from kitbuilder.phonics.ranking import ranked
from kitbuilder.phonics.word_pool import Links, readable

Leaves = tuple[tuple[str, ...], ...]  # slot by slot, top leaf first
_SEEDS = 24  # words from which leaves are grown: more found nothing better in the starter's twelve units
_MADE_UP_WORTH = -0.25  # of a real word: a leaf must bring at least one word for four made-up ones
_NEW_WORTH = 3.0  # for a grapheme of the unit
LEAST_SLOTS, MOST_SLOTS = 2, 4


@dataclass(frozen=True, slots=True)
class FlipSet:
    """Leaves, and what comes up: real words, made-up words, and strings that should not (with the reason)."""

    leaves: Leaves
    words: tuple[str, ...]
    made_up: tuple[str, ...]
    bad: tuple[tuple[str, str], ...] = ()


class FlipJudge:
    """Tells whether a string is a word for this child, a good made-up word, or neither; answers are kept."""

    def __init__(self, reader: Reader, unit: int) -> None:
        self._reader, self._unit = reader, unit
        self.words: Mapping[str, Links] = readable(reader.lexicon, reader.taught(unit))
        self._known: dict[str, str] = {}

    def objection(self, text: str) -> str:
        """Return why the string may not come up; nothing for a word or a good made-up word."""
        if text in self.words:
            return ""
        if text not in self._known:
            judged = judge_nonsense(text, self._reader, self._unit)
            self._known[text] = "" if judged.accepted else judged.reason
        return self._known[text]

    def sorted_out(self, leaves: Leaves) -> FlipSet:
        """Return the leaves with all their combinations sorted into words, made-up words and bad ones."""
        texts = sorted({"".join(parts) for parts in product(*leaves)})
        bad = tuple((text, why) for text in texts if (why := self.objection(text)))
        barred = {text for text, _ in bad}
        real = tuple(text for text in texts if text in self.words)
        return FlipSet(leaves, real, tuple(t for t in texts if t not in self.words and t not in barred), bad)


def flip_set(reader: Reader, unit: int, slots: int, most: int, seed: int) -> FlipSet | None:
    """Return the best leaves found, at most `most` a slot; None when the unit has no words of so many parts.

    Nothing bad can come up. Real words and the unit's own graphemes count, made-up words are put up with.
    """
    judge = FlipJudge(reader, unit)
    parts = {word: split for word, links in judge.words.items() if (split := _parts(links, slots))}
    fresh = reader.fresh(unit)
    new = frozenset(grapheme for grapheme, _ in fresh)
    best: tuple[float, FlipSet] | None = None
    for word in _seeds(parts, new, seed, unit):
        candidates = _candidates(parts, _shape(parts[word]))
        grown = _grow(tuple((part,) for part in parts[word]), candidates, judge, most, new)
        worth = _worth(grown, judge, new)
        if best is None or worth > best[0]:
            best = worth, judge.sorted_out(grown)
    return best[1] if best else None


def _parts(links: Links, slots: int) -> tuple[str, ...] | None:
    """Return what stands on the leaves of a word's slots: a grapheme each; in two slots the rime stays together."""
    graphemes = tuple(link.grapheme for link in links)
    vowels = [i for i, link in enumerate(links) if link.is_vowel]
    if len(vowels) != 1 or any("_" in g for g in graphemes):
        return None
    if slots == LEAST_SLOTS and len(graphemes) == 3 and vowels == [1]:
        return graphemes[0], graphemes[1] + graphemes[2]
    return graphemes if len(graphemes) == slots > LEAST_SLOTS else None


def _shape(parts: Sequence[str]) -> tuple[bool, ...]:
    return tuple(part[0] in "aeiou" for part in parts)


def _seeds(parts: Mapping[str, tuple[str, ...]], new: frozenset[str], seed: int, unit: int) -> Iterator[str]:
    order = ranked(parts, seed, unit, "flip book")
    fresh = [word for word in order if new & set(parts[word]) or any(g in word for g in new)]
    yield from (fresh + [word for word in order if word not in set(fresh)])[:_SEEDS]


def _candidates(parts: Mapping[str, tuple[str, ...]], shape: tuple[bool, ...]) -> list[tuple[str, ...]]:
    """Return for each slot what stands there in some word of the shape, in sorted order."""
    found: list[set[str]] = [set() for _ in shape]
    for split in parts.values():
        if _shape(split) == shape:
            for slot, part in zip(found, split, strict=True):
                slot.add(part)
    return [tuple(sorted(slot)) for slot in found]


def _grow(
    leaves: Leaves, candidates: Sequence[tuple[str, ...]], judge: FlipJudge, most: int, new: frozenset[str]
) -> Leaves:
    while True:
        best: tuple[float, Leaves] | None = None
        for slot, parts in enumerate(candidates):
            if len(leaves[slot]) >= most:
                continue
            for part in parts:
                if part in leaves[slot]:
                    continue
                added = (*leaves[:slot], (part,), *leaves[slot + 1 :])
                texts = ["".join(one) for one in product(*added)]
                if any(judge.objection(text) for text in texts):
                    continue
                worth = _texts_worth(texts, judge) + (_NEW_WORTH if part in new else 0)
                if worth > 0 and (best is None or worth > best[0]):
                    best = worth, (*leaves[:slot], (*leaves[slot], part), *leaves[slot + 1 :])
        if best is None:
            return leaves
        leaves = best[1]


def _texts_worth(texts: Sequence[str], judge: FlipJudge) -> float:
    return sum(1.0 if text in judge.words else _MADE_UP_WORTH for text in texts)


def _worth(leaves: Leaves, judge: FlipJudge, new: frozenset[str]) -> float:
    texts = ["".join(parts) for parts in product(*leaves)]
    return _texts_worth(texts, judge) + _NEW_WORTH * sum(part in new for slot in leaves for part in slot)
