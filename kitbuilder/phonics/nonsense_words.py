"""Made-up words: readable with what was taught, no words of English, neither rude nor against English spelling."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.made_up_parts import (
    Covered,
    Graphemes,
    Parts,
    put_together,
    readable_graphemes,
    sounds_at,
)
from kitbuilder.phonics.made_up_rules import against_habit, never_allowed
from kitbuilder.phonics.nonsense_judge import Judge
from kitbuilder.phonics.ranking import ranker
from kitbuilder.phonics.shapes import accepts
from kitbuilder.phonics.sound_index import sound_index
from kitbuilder.phonics.teaching import Taught
from kitbuilder.remembering import remembered

_SHAPES = tuple("C" * onset + "V" + "C" * coda for onset in range(4) for coda in range(4))
_ENOUGH = 60  # candidates for each word wanted; about one in three passes, and spreading needs a choice


@dataclass(frozen=True, slots=True)
class NonsenseWord:
    """A made-up word with its graphemes and the sounds they were taught with, one a grapheme.

    new: it needs something this unit teaches. note: empty, or how the choice was widened because little was left.
    """

    word: str
    graphemes: Graphemes
    phonemes: Graphemes
    shape: str
    new: bool
    note: str = ""


@dataclass(frozen=True, slots=True)
class Judgement:
    """Whether a string will do as a made-up word, and if not, why."""

    word: str
    accepted: bool
    reason: str


def judge_nonsense(text: str, reader: Reader, unit: int, strict: bool = True) -> Judgement:
    """The judgement on a string for a child at this unit.

    Strict keeps to the habits of English spelling; lenient lets a single final consonant, an unusual rime and a rare
    name pass, as England's phonics screening check does.
    """
    word = text.strip().lower()
    taught = reader.taught(unit)
    reason = next(Judge(reader.lexicon, taught, strict, strict).objections(word), "")
    return Judgement(word, not reason, reason or "a made-up word this child can read")


def nonsense_words(reader: Reader, unit: int, wanted: int, seed: int, strict: bool = True) -> tuple[NonsenseWord, ...]:
    """Made-up words for a unit, at most `wanted`, spread over vowels, beginnings and ends.

    About two thirds need something new. Where too few do, others fill up; where strict spelling leaves too few, lenient
    spelling does, and the words' notes say so. None comes twice: fewer than wanted means that there are no more.
    """
    taught = reader.taught(unit)
    known = _Known(reader.taught(unit - 1))
    chosen: list[NonsenseWord] = []
    for usual in (True, False) if strict else (False,):
        pool = _ranked(reader.lexicon, taught, seed, usual, wanted)
        note = "spelt less usually, because strict spelling left too few" if strict and not usual else ""
        new: list[Parts] = []
        old: list[Parts] = []
        for parts in pool:
            (old if known.reads(parts) else new).append(parts)
        share = len(chosen) + (-(-2 * (wanted - len(chosen)) // 3) if old else wanted)
        for parts_list, goal in ((new, share), (old, wanted), (new, wanted)):
            found = _spread(parts_list, chosen, goal, Judge(reader.lexicon, taught, strict, usual))
            chosen += [_made(parts, taught, not known.reads(parts), note) for parts in found]
        if len(chosen) >= wanted:
            break
    return tuple(chosen)


@remembered(64)
def _candidates(
    lexicon: Lexicon, covered: Covered, shapes: frozenset[str], usual: bool
) -> tuple[tuple[Parts, ...], ...]:
    """All strings that break no rule of form, in three lists: beginning and rime both stand in words, one, neither.

    usual: only those that keep to the habits of English spelling.
    """
    index = sound_index(lexicon)
    lists: tuple[list[Parts], ...] = ([], [], [])
    known = _endings(lexicon, usual)
    for parts in put_together(covered, shapes):
        ending = (parts.onset[-1:], parts.vowel, parts.coda)
        if ending not in known:
            first, split, last = parts.vowel.partition("_")
            rime = "".join((first, *parts.coda, last if split else ""))
            wrong = never_allowed(parts) or (usual and against_habit(parts, index))
            known[ending] = (not wrong, first, rime not in index.rimes)
        allowed, first, strange_rime = known[ending]
        if allowed:
            lists[strange_rime + ("".join((*parts.onset, first)) not in index.bodies)].append(parts)
    return tuple(tuple(found) for found in lists)


@remembered(8)
def _endings(lexicon: Lexicon, usual: bool) -> dict[tuple[Graphemes, str, Graphemes], tuple[bool, str, bool]]:
    """A table that `_candidates` fills with what the last letters decide, whatever was taught."""
    return {}


def _ranked(lexicon: Lexicon, taught: Taught, seed: int, usual: bool, wanted: int) -> list[Parts]:
    """The candidates in the order in which they are tried: near to English words first, then by the seed."""
    found: list[Parts] = []
    rank_of = ranker(seed, taught.unit, "nonsense", "")
    for candidates in _candidates(lexicon, taught.covered, taught.shapes, usual):
        found += sorted(candidates, key=lambda parts: rank_of(parts.text))
        if len(found) > _ENOUGH * wanted:
            break
    return found


def _spread(pool: Iterable[Parts], chosen: Sequence[NonsenseWord], wanted: int, judge: Judge) -> list[Parts]:
    """The first of the pool that pass the judgement, no grapheme or rime used much more often than it must be."""
    found: list[Parts] = []
    used = Counter(grapheme for word in chosen for grapheme in word.graphemes)
    texts = {word.word for word in chosen}
    rimes = Counter(word.graphemes[-2:] for word in chosen)
    waiting = list(pool)
    for cap in (1, 2, 3, 5, 8, 10_000):
        left: list[Parts] = []
        for parts in waiting:
            if len(chosen) + len(found) >= wanted:
                return found
            most = max(used[grapheme] for grapheme in (*parts.onset, *parts.coda)) if parts.onset or parts.coda else 0
            if most >= cap or used[parts.vowel] >= 2 * cap or rimes[parts.graphemes[-2:]] >= cap:
                left.append(parts)
            elif parts.text not in texts and not any(judge.objections(parts.text)):
                found.append(parts)
                texts.add(parts.text)
                used.update(parts.graphemes)
                rimes[parts.graphemes[-2:]] += 1
        waiting = left
    return found


def _made(parts: Parts, taught: Taught, new: bool, note: str) -> NonsenseWord:
    phonemes = []
    for place, grapheme in enumerate(parts.graphemes):
        sounds = sounds_at(parts, place)
        phonemes.append(next((sound for sound in sounds if (grapheme, sound) in taught.covered), sounds[0]))
    return NonsenseWord(parts.text, parts.graphemes, tuple(phonemes), parts.shape, new, note)


class _Known:
    """Which made-up words could be read before a unit."""

    def __init__(self, before: Taught) -> None:
        self._graphemes = readable_graphemes(before.covered)
        self._nasal = ("n", "NG") in before.covered
        self._shapes = {shape: not before.shapes or accepts(before.shapes, shape) for shape in _SHAPES}

    def reads(self, parts: Parts) -> bool:
        """True when every grapheme and the shape were taught."""
        nasal = self._nasal or parts.coda != ("n", "k")
        return nasal and self._graphemes.issuperset(parts.graphemes) and self._shapes[parts.shape]
