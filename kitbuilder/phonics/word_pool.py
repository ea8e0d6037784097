"""The words the engine may choose from, and which of them can be read after a unit, for whole word lists at a time.

`Reader.verdict` judges one word by searching for a path through it. Lists of all words need something faster: here a
word counts when one of its stored alignments is made of taught correspondences alone, or when it is such a word with a
taught suffix, or two of them joined. A stem need not be a word that may be chosen (frills). What is found is decodable
by `Reader` too; a few words that it allows on other grounds are not found.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from kitbuilder.phonics.alignment import Segment
from kitbuilder.phonics.coded_suffixes import BY_LAST_LETTER, Head, Suffixing, stems
from kitbuilder.phonics.coded_words import ready
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.fitness import is_fit, is_foreign, is_odd
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.shapes import COMPOUND, accepts, shape_of_segments
from kitbuilder.phonics.suffixes import DROP_E, suffix_uses, without_suffix
from kitbuilder.phonics.teaching import Taught
from kitbuilder.remembering import remembered

Links = tuple[Correspondence, ...]
_ROW = re.compile(r"^(a|[a-z]{2,10})\t([0-2])([^\tp2]*)\t(2[5-9]\d|[3-9]\d\d)\t(.+)$", re.MULTILINE)
"""Plain words of SCOWL sizes 10 to 35 and Zipf frequency 2.5 or more: no names, and no two words in one."""
_ODD = 3.0  # Zipf units: an odd word counts as one a thousand times as rare


@dataclass(frozen=True, slots=True)
class PoolWord:
    """A word that may be chosen: its Zipf frequency and its alignments, one character a correspondence."""

    word: str
    frequency: float
    coded: tuple[str, ...]

    @property
    def worth(self) -> float:
        """How useful the word is to a child: its frequency, and less for an odd word."""
        return self.frequency - _ODD * is_odd(self.word)


@dataclass(frozen=True, slots=True)
class Derived:
    """One way in which a word is a stem with a suffix, and the alignments of both that go together."""

    suffix: str
    rule: str | None
    stem: str
    stem_coded: str
    coded: str


_Suffixed = tuple[dict[str, list[tuple[str, Derived]]], tuple[tuple[str, str, Head], ...]]


@dataclass(frozen=True)
class Pool:
    """All words that may be chosen, by word, and what their characters stand for."""

    words: Mapping[str, PoolWord]
    links: Mapping[str, Correspondence]

    def spelled(self, coded: str) -> Links:
        """The correspondences that a coded alignment stands for."""
        return tuple(self.links[code] for code in coded)

    def uses(self, word: str) -> tuple[Derived, ...]:
        """Every way in which a word is another word and a suffix, in letters and in sounds; empty for most."""
        if word not in self._uses:
            self._uses[word] = () if word in without_suffix() else tuple(self._find_uses(word))
        return self._uses[word]

    @cached_property
    def _uses(self) -> dict[str, tuple[Derived, ...]]:
        return {}

    @cached_property
    def suffixing(self) -> Suffixing:
        """How suffixes are coded."""
        return Suffixing(self.links)

    def derived(self, letter: str) -> Mapping[str, list[tuple[str, Derived]]]:
        """For each stem the words ending in a letter that are it and a suffix, and how."""
        return self._by_letter(letter)[0]

    def heads(self, letter: str) -> tuple[tuple[str, str, Head], ...]:
        """Words ending in a letter that may be readable where `uses` knows no readable stem: code, and how it is cut.

        They have a stem outside the pool, or one whose e (giving) or double letter (adding: ad) need not be known.
        """
        return self._by_letter(letter)[1]

    def _by_letter(self, letter: str) -> _Suffixed:
        if letter not in self._suffixed:
            all_uses = [(word, self.uses(word)) for word in self.words if word[-1] == letter]
            odd = (word for word, uses in all_uses if not uses or all(_may_be_other(use) for use in uses))
            rows = ((word, coded) for word in odd for coded in self.words[word].coded)
            heads = tuple((word, coded, head) for word, coded in rows for head in self.suffixing.heads(word, coded))
            derived: dict[str, list[tuple[str, Derived]]] = defaultdict(list)
            for word, uses in all_uses:
                for use in uses:
                    derived[use.stem].append((word, use))
            self._suffixed[letter] = dict(derived), heads
        return self._suffixed[letter]

    @cached_property
    def _suffixed(self) -> dict[str, _Suffixed]:
        return {}

    def _find_uses(self, word: str) -> Iterator[Derived]:
        entry, coding = self.words.get(word), self.suffixing
        for suffix, stem, rule in stems(word) if entry else ():
            endings = coding.endings[suffix]
            for base in self.words[stem].coded if stem in self.words else ():
                start = coding.joint(base, rule)
                for whole in entry.coded if entry else ():
                    if whole[len(start) :] in endings and coding.begins(whole, start):
                        yield Derived(suffix, rule, stem, base, whole)


@remembered(4)
def word_pool(lexicon: Lexicon) -> Pool:
    """The pool of a lexicon: its common plain words that are fit for children, and every word the family added."""
    rows = [r for r in _ROW.findall(lexicon.coded_rows()) if is_fit(r[0]) and not is_foreign(r[0], lexicon.accent)]
    coded, links = ready(((row[0], row[4]) for row in rows), lexicon)
    words = {row[0]: PoolWord(row[0], int(row[3]) / 100, coded[row[0]]) for row in rows if row[0] in coded}
    codes = {link: code for code, link in links.items()}
    for word in lexicon.own_words():
        entry = lexicon.get(word)
        paths = [[codes.get(s.correspondence, "") for s in a.segments] for a in entry.alignments] if entry else []
        if entry and entry.word.islower() and paths and all(all(path) for path in paths):
            words[word] = PoolWord(word, entry.frequency, tuple("".join(path) for path in paths))
    return Pool(words, links)


def readable(lexicon: Lexicon, taught: Taught) -> dict[str, Links]:
    """Every word of the pool that can be read after a unit, in sorted order, with its correspondences."""
    return _readable(lexicon, taught.covered, taught.shapes, taught.suffixes, taught.spelling_rules)


@remembered(80)  # a year of units and the units before them
def _readable(
    lexicon: Lexicon,
    covered: frozenset[tuple[str, str]],
    shapes: frozenset[str],
    suffixes: frozenset[str],
    rules: frozenset[str],
) -> dict[str, Links]:
    pool = word_pool(lexicon)
    codes = {code for code, link in pool.links.items() if (link.grapheme, link.phoneme) in covered}
    manageable = _Shapes(pool, shapes)
    spelled: dict[str, str] = {}
    long: list[tuple[str, str]] = []
    for word, entry in pool.words.items():
        for coded in entry.coded:
            if codes.issuperset(coded):
                if manageable(coded):
                    spelled.setdefault(word, coded)
                else:
                    long.append((word, coded))
    if COMPOUND in shapes:
        spelled |= {word: coded for word, coded in long if word not in spelled and _joined(word, coded, spelled)}
    letters = tuple(letter for letter, ways in BY_LAST_LETTER.items() if suffixes.intersection(ways))
    last = spelled
    for _ in range(2):  # twice: hunters is hunter and -s, hunter is hunt and -er
        last = {
            word: use.coded
            for derived in map(pool.derived, letters)
            for stem, coded in last.items()
            for word, use in derived.get(stem, ())
            if word not in spelled
            and coded == use.stem_coded
            and use.suffix in suffixes
            and (use.rule is None or use.rule in rules)
        }
        spelled |= last
    heads = (row for letter in letters for row in pool.heads(letter))
    spelled |= _rare_stems(lexicon, spelled, codes, manageable, suffixes, rules, heads)
    return {word: pool.spelled(spelled[word]) for word in sorted(spelled)}


def _rare_stems(
    lexicon: Lexicon,
    spelled: Mapping[str, str],
    codes: set[str],
    manageable: _Shapes,
    suffixes: frozenset[str],
    rules: frozenset[str],
    heads: Iterable[tuple[str, str, Head]],
) -> dict[str, str]:
    """The words with suffixes that can be read though their stem may not be chosen or cannot be read (having)."""
    pool = word_pool(lexicon)
    found: dict[str, str] = {}
    for word, coded, (chain, rule, head) in heads:
        if codes.issuperset(head) and word not in spelled and suffixes.issuperset(chain) and manageable(head):
            sounds = tuple(sound for link in pool.spelled(coded) for sound in link.sounds)
            if (rule is None or rule in rules) and _has_suffixes(lexicon, word, sounds, chain, rule):
                found.setdefault(word, coded)
    return found


@remembered(4096)
def _has_suffixes(
    lexicon: Lexicon, word: str, sounds: tuple[str, ...], chain: tuple[str, ...], rule: str | None
) -> bool:
    """Whether the whole list of words has a stem that, with these suffixes, is this word."""
    ways = suffix_uses(word, sounds, lexicon)
    return any(tuple(use.suffix for use in uses) == chain and rule in (None, uses[-1].rule) for uses in ways)


def _joined(word: str, coded: str, spelled: Mapping[str, str]) -> bool:
    """True for a compound of two words that can be read."""
    return any(
        word[:cut] in spelled and word[cut:] in spelled and spelled[word[:cut]] + spelled[word[cut:]] == coded
        for cut in range(2, len(word) - 1)
    )


def _may_be_other(use: Derived) -> bool:
    return use.rule == DROP_E or use.stem[-1] == use.stem[-2]


class _Shapes:
    """Whether a child can manage the shape of a coded alignment; every pattern of vowels is looked at once."""

    def __init__(self, pool: Pool, shapes: frozenset[str]) -> None:
        self._pool, self._shapes = pool, shapes
        self._letters = {ord(code): "V" if link.is_vowel else "C" for code, link in pool.links.items()}
        self._known: dict[str, bool] = {}

    def __call__(self, coded: str) -> bool:
        if not self._shapes:
            return True
        letters = coded.translate(self._letters)
        if letters not in self._known:
            segments = [Segment(link.grapheme, link.phoneme, 0, 0) for link in self._pool.spelled(coded)]
            self._known[letters] = accepts(self._shapes, shape_of_segments(segments))
        return self._known[letters]
