"""Made-up words: readable with what was taught, no words of English, neither rude nor against English spelling."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.made_up_parts import (
    Covered,
    Graphemes,
    Parts,
    put_together,
    readings,
    sounds_at,
    take_apart,
    untaught,
    why_not_apart,
)
from kitbuilder.phonics.made_up_rules import against_habit, never_allowed
from kitbuilder.phonics.ranking import rank
from kitbuilder.phonics.rude_sounds import rude_word
from kitbuilder.phonics.shapes import accepts
from kitbuilder.phonics.sound_index import FREQUENT, frequent_strings, sound_index, sound_keys, string_digest
from kitbuilder.phonics.teaching import Taught

REAL_LEVEL = 70  # the largest SCOWL size whose words count as words
_COMMON = 4.0  # Zipf scale; in lenient judgement only words at least as frequent are sounded like


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
    for reason in _objections(word, take_apart(word), reader.lexicon, taught, strict):
        return Judgement(word, False, reason)
    return Judgement(word, True, "a made-up word this child can read")


def nonsense_words(reader: Reader, unit: int, wanted: int, seed: int, strict: bool = True) -> tuple[NonsenseWord, ...]:
    """Made-up words for a unit, at most `wanted`, spread over vowels, beginnings and ends.

    About two thirds need something new. Where too few do, others fill up; where strict spelling leaves too few, lenient
    spelling does, and the words' notes say so. None comes twice: fewer than wanted means that there are no more.
    """
    taught = reader.taught(unit)
    before = reader.taught(unit - 1).correspondences
    fresh = frozenset(link.grapheme for link in taught.correspondences - before)
    chosen: list[NonsenseWord] = []
    for lenient in (False, True) if strict else (True,):
        pool = _ranked(reader.lexicon, taught, seed, lenient)
        note = "spelt less usually, because strict spelling left too few" if lenient and strict else ""
        new = [parts for parts in pool if not fresh.isdisjoint(parts.graphemes)]
        old = [parts for parts in pool if fresh.isdisjoint(parts.graphemes)]
        share = len(chosen) + (-(-2 * (wanted - len(chosen)) // 3) if old else wanted)
        for parts_list, goal in ((new, share), (old, wanted), (new, wanted)):
            found = _spread(parts_list, chosen, goal, reader.lexicon, taught, not lenient)
            chosen += [_made(parts, taught, fresh, note) for parts in found]
        if len(chosen) >= wanted:
            break
    return tuple(chosen)


def _objections(word: str, ways: Sequence[Parts], lexicon: Lexicon, taught: Taught, strict: bool) -> Iterator[str]:
    """What speaks against a string, the most telling first."""
    if _is_real(word, lexicon, taught, strict):
        yield f"{word} is a word or a name"
        return
    if not ways:
        yield why_not_apart(word)
        return
    paths = [path for parts in ways for path in readings(parts)]
    if rude := rude_word(word, paths):
        yield f"it is too close to a rude word ({rude[0]}...)"
    index = sound_index(lexicon)
    for like in _sounds_like(paths, lexicon, 0.0 if strict else _COMMON):
        yield f"it sounds like {like}"
    if missing := untaught(ways[0], taught.covered):
        yield f"not taught yet: {', '.join(missing)}"
    elif taught.shapes and not accepts(taught.shapes, ways[0].shape):
        yield f"the shape {ways[0].shape} is not taught yet"
    if wrong := never_allowed(ways[0]):
        yield wrong
    if strict and (wrong := against_habit(ways[0], index)):
        yield wrong


def _sounds_like(paths: Sequence[Graphemes], lexicon: Lexicon, least: float) -> Iterator[str]:
    """The words of at least this frequency that a string sounds like in either accent."""
    sounds = sound_index(lexicon).sounds
    for word in dict.fromkeys(sounds[key] for path in paths for key in sound_keys(path) if key in sounds):
        entry = lexicon.get(word)
        if entry is None or entry.frequency >= least:
            yield word


def _is_real(word: str, lexicon: Lexicon, taught: Taught, strict: bool) -> bool:
    entry = lexicon.get(word)
    if entry and entry.level <= REAL_LEVEL and not entry.proper:
        return True
    if word in {name.lower() for name in (*taught.names, *taught.irregular, *taught.adult_reads)}:
        return True
    return strict and (bool(entry and entry.frequency >= FREQUENT) or string_digest(word) in frequent_strings())


@lru_cache(maxsize=64)
def _candidates(covered: Covered, shapes: frozenset[str]) -> tuple[Parts, ...]:
    return tuple(parts for parts in put_together(covered, shapes) if not never_allowed(parts))


def _ranked(lexicon: Lexicon, taught: Taught, seed: int, lenient: bool) -> list[Parts]:
    """All strings that break no rule of form, those first whose beginning and rime both stand in English words."""
    index = sound_index(lexicon)
    keyed: list[tuple[int, int, Parts]] = []
    known: dict[tuple[Graphemes, str, Graphemes], tuple[bool, str, bool]] = {}  # what the last letters decide
    for parts in _candidates(taught.covered, taught.shapes):
        ending = (parts.onset[-1:], parts.vowel, parts.coda)
        if ending not in known:
            first, split, last = parts.vowel.partition("_")
            rime = "".join((first, *parts.coda, last if split else ""))
            known[ending] = (lenient or not against_habit(parts, index), first, rime not in index.rimes)
        usual, first, strange_rime = known[ending]
        if usual:
            strange = strange_rime + ("".join((*parts.onset, first)) not in index.bodies)
            keyed.append((strange, rank(seed, taught.unit, "nonsense", "", parts.text), parts))
    keyed.sort(key=lambda entry: entry[:2])
    return [parts for *_, parts in keyed]


def _spread(
    pool: Iterable[Parts],
    chosen: Sequence[NonsenseWord],
    wanted: int,
    lexicon: Lexicon,
    taught: Taught,
    strict: bool,
) -> list[Parts]:
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
            elif parts.text not in texts and not _refused(parts, lexicon, taught, strict):
                found.append(parts)
                texts.add(parts.text)
                used.update(parts.graphemes)
                rimes[parts.graphemes[-2:]] += 1
        waiting = left
    return found


def _refused(parts: Parts, lexicon: Lexicon, taught: Taught, strict: bool) -> bool:
    return any(_objections(parts.text, take_apart(parts.text), lexicon, taught, strict))


def _made(parts: Parts, taught: Taught, fresh: frozenset[str], note: str) -> NonsenseWord:
    phonemes = []
    for place, grapheme in enumerate(parts.graphemes):
        sounds = sounds_at(parts, place)
        phonemes.append(next((sound for sound in sounds if (grapheme, sound) in taught.covered), sounds[0]))
    new = not fresh.isdisjoint(parts.graphemes)
    return NonsenseWord(parts.text, parts.graphemes, tuple(phonemes), parts.shape, new, note)
