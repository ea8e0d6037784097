"""Word chains: each word comes from the one before by swapping, adding or taking away one grapheme and its sound."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.ranking import rank
from kitbuilder.phonics.spelling import spellable_words
from kitbuilder.phonics.word_choice import new_words
from kitbuilder.phonics.word_pool import Pool, word_pool

Change = Literal["swap", "add", "take away"]
Spelling = tuple[Correspondence, ...]
Pairs = frozenset[tuple[str, str]]
_FLOORS = (3.2, 2.7, 0.0)
"""Zipf frequencies that the words of a chain must reach; a lower one only where the one before leaves no chain."""
_SHORTEST = 5  # words of a chain for which rare ones need not be taken
_BLURRED = frozenset(("P", "B", "T", "D", "K", "G", "F", "V", "S", "Z", "SH", "K.S"))  # before a last th: sixth, width
_TRIES = 4000  # steps of the search; more made no chain longer in trials on twelve units


@dataclass(frozen=True, slots=True)
class ChainStep:
    """A word of a chain and how it comes from the word before: in the first step old, new and position are empty.

    old, new: the grapheme that went and the one that came (empty where one was only added or taken away).
    position: the place of the change among the word's graphemes, counted from 0; None in the first step.
    """

    word: str
    change: Change | None
    old: str
    new: str
    position: int | None


@dataclass(frozen=True, slots=True)
class _Link:
    word: str
    change: Change
    old: str
    new: str
    position: int
    own: bool = False  # whether what changes was taught in the unit itself


def chain(reader: Reader, unit: int, length: int, seed: int) -> tuple[ChainStep, ...]:
    """A chain of words that a child at this unit can read and spell, beginning with the unit's new words if it can.

    Of `length` words, or the longest found below that; empty where no two words are one change apart.

    Its words are well known ones, unless there are not enough of them. Steps that change what the unit taught come
    before others.
    """
    spellings = spellable_words(reader, unit)
    pool = word_pool(reader.lexicon)
    plain = {word: links for word, links in spellings.items() if not pool.uses(word) and _is_clear(links)}
    fresh = frozenset(new_words(reader, unit))
    own = reader.fresh(unit)
    best: tuple[ChainStep, ...] = ()
    for floor in _FLOORS:
        known = {word: links for word, links in plain.items() if _frequency(word, pool) >= floor}
        found = chain_of(known, length, seed, unit, fresh, own)
        if len(found) >= min(length, _SHORTEST):
            return found
        best = max(best, found, key=len)
    return best


def _is_clear(links: Spelling) -> bool:
    """False for one sound alone, and for a th at the end that is hard to hear after the sound before it (sixth)."""
    blurred = links[-1].grapheme == "th" and links[-2:-1] and links[-2].phoneme in _BLURRED
    return len(links) > 1 and not blurred


def _frequency(word: str, pool: Pool) -> float:
    entry = pool.words.get(word)
    return entry.worth if entry else 0.0


def chain_of(
    spellings: Mapping[str, Spelling],
    length: int,
    seed: int,
    unit: int,
    fresh: frozenset[str] = frozenset(),
    own: Pairs = frozenset(),
) -> tuple[ChainStep, ...]:
    """The longest chain found through these words, of `length` words at most; of equals that with most of the unit.

    spellings: each word with its graphemes and sounds. fresh: words, own: graphemes and sounds of the unit itself. No
    word comes twice, and no place changes more than twice running, so that a chain does not become a list of rhymes.
    Empty where no two words are one change apart.
    """
    links = links_between(spellings, own)
    starts = sorted(links, key=lambda word: (word not in fresh, rank(seed, unit, "chain", "", word), word))
    best: tuple[_Link, ...] = ()
    tries = _TRIES
    for start in starts[:24]:
        found, used = _longest(start, links, length, seed, unit, fresh, max(40, tries // 24))
        tries -= used
        if _worth(found, fresh) > _worth(best, fresh):
            best = found
        if tries <= 0:
            break
    if len(best) < 2:
        return ()
    first = ChainStep(best[0].word, None, "", "", None)
    return (first, *(ChainStep(link.word, link.change, link.old, link.new, link.position) for link in best[1:]))


def links_between(spellings: Mapping[str, Spelling], own: Pairs = frozenset()) -> dict[str, tuple[_Link, ...]]:
    """Every word with the words that are one swap, addition or removal away; words without any are left out."""
    by_gap: dict[tuple[int, Spelling], list[str]] = defaultdict(list)
    by_spelling: dict[Spelling, list[str]] = defaultdict(list)
    for word in sorted(spellings):
        spelling = spellings[word]
        by_spelling[spelling].append(word)
        for place in range(len(spelling)):
            by_gap[place, spelling[:place] + spelling[place + 1 :]].append(word)
    links: dict[str, dict[str, _Link]] = defaultdict(dict)
    for (place, shorter), words in sorted(by_gap.items()):
        for word in words:
            came = spellings[word][place]
            is_own = (came.grapheme, came.phoneme) in own
            for other in words:
                went = spellings[other][place]
                if other != word and went.grapheme != came.grapheme:
                    either = is_own or (went.grapheme, went.phoneme) in own
                    link = _Link(word, "swap", went.grapheme, came.grapheme, place, either)
                    links[other].setdefault(word, link)
            for other in by_spelling.get(shorter, ()):
                links[other].setdefault(word, _Link(word, "add", "", came.grapheme, place, is_own))
                links[word].setdefault(other, _Link(other, "take away", came.grapheme, "", place, is_own))
    return {word: tuple(found.values()) for word, found in links.items()}


def _longest(
    start: str,
    links: Mapping[str, Sequence[_Link]],
    length: int,
    seed: int,
    unit: int,
    fresh: frozenset[str],
    tries: int,
) -> tuple[tuple[_Link, ...], int]:
    """The best chain from this word within so many steps of a depth-first search, and the steps used."""

    def onward(path: tuple[_Link, ...]) -> list[_Link]:
        seen = {link.word for link in path}
        recent = [link.position for link in path[1:]][-2:]
        stale = recent[0] if len(recent) == 2 and recent[0] == recent[1] else None
        last = path[-1].position if len(path) > 1 else None
        ways = [link for link in links[path[-1].word] if link.word not in seen and link.position != stale]
        # The most promising last: the stack below takes from its end.
        return sorted(
            ways,
            key=lambda link: (
                link.own + (link.word in fresh),
                link.position != last,
                rank(seed, unit, "chain", start, link.word),
            ),
        )

    best: tuple[_Link, ...] = (_Link(start, "swap", "", "", -1),)
    stack = [best]
    used = 0
    while stack and used < tries and len(best) < length:
        path = stack.pop()
        used += 1
        if _worth(path, fresh) > _worth(best, fresh):
            best = path
        stack.extend((*path, link) for link in onward(path))
    return best, used


def _worth(path: Sequence[_Link], fresh: frozenset[str]) -> tuple[int, int]:
    return len(path), sum(link.own + (link.word in fresh) for link in path)
