"""Whether a child can spell a word: what was taught leaves one likely spelling for its sounds.

Reading is not spelling: a child who was taught ai and a_e can read rain and lane, and can spell neither by ear.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping

from kitbuilder.phonics.coded_suffixes import stems
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.spelling_rules import Place, places, possible
from kitbuilder.phonics.teaching import Taught
from kitbuilder.phonics.word_pool import Links, readable, word_pool
from kitbuilder.remembering import remembered

_LIKELY = 0.85  # the share a grapheme must have among the possible ones; 0.75 let kept through as kept or cept
_MERGED = {"AO": "AA", "OH": "AA"}  # heard alike by many; a child cannot choose between letters by it


def spellable(word: str, reader: Reader, unit: int) -> bool:
    """True when the word can be read at this unit and its sounds have one likely spelling among what was taught."""
    key = word.lower()
    taught = reader.taught(unit)
    links = readable(reader.lexicon, taught).get(key)
    if links is None:
        verdict = reader.verdict(word, unit)
        if verdict.verdict != "decodable":
            return False
        links = tuple(segment.correspondence for segment in verdict.segments)
    return _speller(reader.lexicon, taught).can_spell(key, links)


def spellable_words(reader: Reader, unit: int) -> dict[str, Links]:
    """Every decodable word of a unit that a child can also spell, in sorted order, with its correspondences."""
    speller = _speller(reader.lexicon, reader.taught(unit))
    words = readable(reader.lexicon, reader.taught(unit))
    return {word: links for word, links in words.items() if speller.can_spell(word, links)}


@remembered(80)  # a year of units and the units before them
def _speller(lexicon: Lexicon, taught: Taught) -> _Speller:
    return _Speller(lexicon, taught)


class _Speller:
    """Decides for one state of teaching; every grapheme at a kind of place is decided once."""

    def __init__(self, lexicon: Lexicon, taught: Taught) -> None:
        self._shares = grapheme_counts(lexicon)
        self._pool = word_pool(lexicon)
        self._words = readable(lexicon, taught)
        self._taught = taught
        known: dict[str, set[str]] = defaultdict(set)
        for grapheme, phoneme in taught.covered:
            known[_heard(phoneme)].add(grapheme)
        self._known = {phoneme: frozenset(graphemes) for phoneme, graphemes in known.items()}
        self._decided: dict[tuple[str, str, Place], bool] = {}

    def can_spell(self, word: str, links: Links) -> bool:
        """True when every grapheme is the likely one, or the word is one that is, with a taught suffix."""
        for use in self._pool.uses(word):
            rule_taught = use.rule is None or use.rule in self._taught.spelling_rules
            if use.stem in self._words and use.suffix in self._taught.suffixes and rule_taught:
                return self.can_spell(use.stem, self._words[use.stem])
        spots = places(links)
        return all(self._likely(link.grapheme, link.phoneme, spot) for link, spot in zip(links, spots, strict=True))

    def _likely(self, grapheme: str, phoneme: str, place: Place) -> bool:
        key = (grapheme, phoneme, place)
        if key not in self._decided:
            self._decided[key] = self._decide(grapheme, _heard(phoneme), place)
        return self._decided[key]

    def _decide(self, grapheme: str, phoneme: str, place: Place) -> bool:
        rivals = [one for one in self._known.get(phoneme, ()) if possible(one, phoneme, place, self._known)]
        if grapheme not in rivals:
            return False
        counts = self._shares.get((phoneme, place.first, place.last), Counter())
        total = sum(counts[rival] for rival in rivals)
        return len(rivals) == 1 or (total > 0 and counts[grapheme] >= _LIKELY * total)


@remembered(4)
def grapheme_counts(lexicon: Lexicon) -> Mapping[tuple[str, bool, bool], Counter[str]]:
    """How many words of the pool write a phoneme with each grapheme, by (phoneme, first in word, last in word).

    Only words of Zipf frequency 3.5 or more count, and none that may have a suffix: the s of dogs says nothing on how
    to spell a z at the end of a word.
    """
    pool = word_pool(lexicon)
    sample = [
        entry.coded[0]
        for word, entry in pool.words.items()
        if entry.frequency >= 3.5 and not any(stem in pool.words for _, stem, _ in stems(word))
    ]
    splits = {code for code, link in pool.links.items() if link.is_split}
    coded: Counter[tuple[str, bool, bool]] = Counter()
    for first, last, codes in (
        (True, True, (one for one in sample if len(one) == 1)),
        (True, False, (one[0] for one in sample if len(one) > 1)),
        (False, True, (one[-1] for one in sample if len(one) > 1 and one[-2] not in splits)),
        (False, False, (one[1:] if one[-2] in splits else one[1:-1] for one in sample if len(one) > 1)),
    ):
        for code, count in Counter("".join(codes)).items():
            coded[code, first, last] += count
    found: dict[tuple[str, bool, bool], Counter[str]] = defaultdict(Counter)
    for (code, first, last_one), count in coded.items():
        link = pool.links[code]
        found[_heard(link.phoneme), first, last_one][link.grapheme] += count
    return dict(found)


def _heard(phoneme: str) -> str:
    return _MERGED.get(phoneme, phoneme)
