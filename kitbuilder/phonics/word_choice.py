"""Words for a unit: newly readable ones first, useful, fit for children, spread over what was taught; with reasons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.ranking import ranker
from kitbuilder.phonics.word_pool import Links, readable, word_pool

# Weights of a choice, in Zipf units (1 is a word ten times as frequent). Set by reading the lists they give.
_CHANCE = 1.5  # how far the seed may move a word
_CROWDED = 0.5  # for each use of a grapheme at that place of a word by a word already chosen
_BARE = 1.0  # for each taught grapheme at a place where none of the chosen has it
_SUFFIXED = 1.2  # for a word that is another word and a suffix
_LONG = 0.2  # for each grapheme after the fourth
_FREQUENT_ENOUGH = 5.0  # nothing is gained above: the, of, to would else come first everywhere


_At = tuple[str, str]  # a grapheme and its place in a word


@dataclass(frozen=True, slots=True)
class ChosenWord:
    """A word, whether this unit makes it readable, and why it was chosen."""

    word: str
    new: bool
    why: str


@dataclass(frozen=True, slots=True)
class _Candidate:
    word: str
    links: Links
    base: float  # frequency and chance
    new: bool


def decodable_words(reader: Reader, unit: int) -> tuple[str, ...]:
    """Every word fit for children that can be read after a unit with what was taught, in sorted order."""
    return tuple(readable(reader.lexicon, reader.taught(unit)))


def new_words(reader: Reader, unit: int) -> tuple[str, ...]:
    """The decodable words of a unit that could not be read before it, in sorted order."""
    before = readable(reader.lexicon, reader.taught(unit - 1))
    return tuple(word for word in decodable_words(reader, unit) if word not in before)


def choose_words(
    reader: Reader,
    unit: int,
    wanted: int,
    seed: int,
    kind: str = "words",
    learner: str = "",
    must: Sequence[str] = (),
    allow: Collection[str] = frozenset(),
    reject: Collection[str] = frozenset(),
) -> tuple[ChosenWord, ...]:
    """The words of a unit: those it must have, then new ones, then review, `wanted` in all if there are so many.

    allow: words that the family wants considered though the engine would leave them out; they must be decodable.
    reject: words never chosen; what the unit itself asks for comes all the same. The choice depends on nothing that was
    chosen for other units, only on what was taught: editing a later unit changes nothing here.
    """
    taught = reader.taught(unit)
    words = readable(reader.lexicon, taught)
    before = readable(reader.lexicon, reader.taught(unit - 1))
    given = tuple(dict.fromkeys(must))
    chosen = [ChosenWord(word, word.lower() not in before, "the unit asks for it") for word in given]
    if len(given) >= wanted:
        return tuple(chosen)
    taken = {word.lower() for word in (*given, *reject)}
    pool = _pool(reader, unit, words, before, seed, kind, learner, taken, allow)
    fresh = reader.fresh(unit)
    spread = _Spread(reader, [words[word.lower()] for word in given if word.lower() in words])
    for new in (True, False):
        candidates = (_Candidate(word, links, -worth, new) for worth, word, links, is_new in pool if is_new is new)
        picked = spread.pick(candidates, wanted - len(chosen))
        chosen += [ChosenWord(one.word, new, _why(one, fresh, allow)) for one in picked]
    return tuple(chosen)


def _pool(
    reader: Reader,
    unit: int,
    words: Mapping[str, Links],
    before: Mapping[str, Links],
    seed: int,
    kind: str,
    learner: str,
    taken: Collection[str],
    allow: Collection[str],
) -> list[tuple[float, str, Links, bool]]:
    """Everything that may be chosen, best first: its worth before any spreading (negative), word, links, newness."""
    pool = word_pool(reader.lexicon)
    chance = ranker(seed, unit, kind, learner)
    found = []
    for word, links in (*words.items(), *_allowed(reader, unit, words, allow).items()):
        if word in taken:
            continue
        entry = pool.words.get(word)
        base = min(entry.worth if entry else _FREQUENT_ENOUGH, _FREQUENT_ENOUGH)
        base += _CHANCE * chance(word) / 2**64
        base -= _SUFFIXED * bool(pool.uses(word)) + _LONG * max(0, len(links) - 4)
        known = word in before or (word not in words and reader.verdict(word, unit - 1).verdict == "decodable")
        found.append((-base, word, links, not known))
    return sorted(found)


def _allowed(reader: Reader, unit: int, words: Mapping[str, Links], allow: Iterable[str]) -> dict[str, Links]:
    """The family's allowed words that the pool lacks and that can be read."""
    found: dict[str, Links] = {}
    for word in sorted({word.lower() for word in allow} - words.keys()):
        verdict = reader.verdict(word, unit)
        if verdict.verdict == "decodable":
            found[word] = tuple(segment.correspondence for segment in verdict.segments)
    return found


class _Spread:
    """Picks words one by one, each the most worthwhile beside those already picked."""

    _DEPTH = 150  # candidates looked at for each pick: beyond, usefulness is too low to make up
    _FULL = 4  # uses of a place beyond which one more changes nothing

    def __init__(self, reader: Reader, given: Iterable[Links]) -> None:
        self._pool = word_pool(reader.lexicon)
        self._used: Counter[_At] = Counter()
        self._stems: set[str] = set()
        for links in given:
            self._used.update(_places(links))

    def pick(self, candidates: Iterable[_Candidate], wanted: int) -> list[_Candidate]:
        waiting, picked = iter(candidates), list[_Candidate]()
        near = [self._weighed(one, _places(one.links)) for one in islice(waiting, self._DEPTH)]
        while near and len(picked) < wanted:
            chosen = max(near)
            near.remove(chosen)
            near += [self._weighed(one, _places(one.links)) for one in islice(waiting, 1)]
            _, _, places, best = chosen
            family = self._family(best.word)
            if not family.isdisjoint(self._stems):
                continue  # cat and cats in one list: one of them is enough
            picked.append(best)
            self._stems |= family
            changed = {place for place in places if self._used[place] < self._FULL}
            self._used.update(places)
            if changed:  # only words with such a place are worth more or less than before
                near = [row if changed.isdisjoint(row[2]) else self._weighed(row[3], row[2]) for row in near]
        return picked

    def _weighed(self, one: _Candidate, places: list[_At]) -> tuple[float, str, list[_At], _Candidate]:
        """The candidate behind its worth and its word, by which candidates are ordered."""
        used = [self._used[place] for place in places]
        crowding = sum(min(uses, self._FULL) for uses in used) / len(places)
        bare = used.count(0) / len(places)
        return one.base - _CROWDED * crowding + _BARE * bare, one.word, places, one

    def _family(self, word: str) -> set[str]:
        return {word, *(use.stem for use in self._pool.uses(word))}


def _places(links: Links) -> list[_At]:
    """Each grapheme with its place in the word: first, last or between."""
    last = len(links) - 1
    return [
        (link.grapheme, "first" if at == 0 else "last" if at == last else "between") for at, link in enumerate(links)
    ]


def _why(one: _Candidate, fresh: Collection[tuple[str, str]], allow: Collection[str]) -> str:
    if one.word in allow:
        return "the family allows it"
    if not one.new:
        return "review: it could be read before this unit"
    used = [link.grapheme for link in one.links if (link.grapheme, link.phoneme) in fresh]
    names = " and ".join(dict.fromkeys(used))
    return f"new: it has {names}" if names else "new: its shape or ending is taught in this unit"
