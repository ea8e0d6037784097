"""What the engine chooses for a unit, each choice made once a run: words, made-up words, spellable words, chains."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from functools import cached_property

from kitbuilder.compose.tile_groups import tiles_of
from kitbuilder.model.home import Home
from kitbuilder.model.unit import Unit
from kitbuilder.phonics.chains import ChainStep, chain
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.irregular import irregular_letters
from kitbuilder.phonics.nonsense_words import NonsenseWord, nonsense_words
from kitbuilder.phonics.spelling import spellable, spellable_words
from kitbuilder.phonics.word_choice import ChosenWord, choose_words, new_words
from kitbuilder.phonics.word_pool import readable

TRIES = 6  # of chains for a later form
Spelled = Mapping[str, tuple[str, ...]]  # word -> graphemes


class Choices:
    """Answers for one family. The seed is the sequence's; nothing depends on what was chosen for another unit."""

    def __init__(self, home: Home, reader: Reader) -> None:
        self.home = home
        self.reader = reader
        self._words: dict[tuple[int, int, str, str], tuple[ChosenWord, ...]] = {}
        self._nonsense: dict[tuple[int, int], tuple[NonsenseWord, ...]] = {}
        self._spellable: dict[int, Spelled] = {}
        self._repeats: dict[tuple[int, frozenset[str]], Mapping[str, int]] = {}

    @cached_property
    def _allow(self) -> frozenset[str]:
        return frozenset(str(w).lower() for w in self.home.sequence.allow)

    @cached_property
    def _reject(self) -> frozenset[str]:
        return frozenset(str(w).lower() for w in self.home.sequence.reject)

    def words(self, unit: Unit, wanted: int, kind: str = "words", learner: str = "") -> tuple[ChosenWord, ...]:
        """Return the unit's words: those its file names, filled up to `wanted` by the engine."""
        key = (unit.unit, wanted, kind, learner)
        if key not in self._words:
            self._words[key] = choose_words(
                self.reader,
                unit.unit,
                wanted,
                self.home.sequence.seed,
                kind,
                learner,
                tuple(str(w) for w in unit.words),
                self._allow,
                self._reject,
            )
        return self._words[key]

    def review(self, unit: Unit, wanted: int, kind: str) -> tuple[ChosenWord, ...]:
        """Return words that earlier units made readable, the unit's own left out; `kind` makes the choice its own."""
        key = (unit.unit, wanted, kind, "review")
        if key not in self._words:
            number = unit.unit
            skipped = {*new_words(self.reader, number), *(str(w).lower() for w in unit.words)}
            chosen = choose_words(
                self.reader, number, wanted, self.home.sequence.seed, kind, "", (), self._allow, self._reject | skipped
            )
            self._words[key] = tuple(word for word in chosen if not word.new)
        return self._words[key]

    def nonsense(self, unit: Unit, wanted: int) -> tuple[NonsenseWord, ...]:
        """Return made-up words for the unit; those its file names are not among them."""
        key = (unit.unit, wanted)
        if key not in self._nonsense:
            named = {str(w).lower() for w in unit.nonsense}
            found = nonsense_words(self.reader, unit.unit, wanted + len(named), self.home.sequence.seed)
            self._nonsense[key] = tuple(n for n in found if n.word not in named)[:wanted]
        return self._nonsense[key]

    def spellable(self, unit_number: int) -> Spelled:
        """Return every word a child at the unit can spell, with its graphemes."""
        if unit_number not in self._spellable:
            found = spellable_words(self.reader, unit_number)
            self._spellable[unit_number] = {w: tuple(link.grapheme for link in links) for w, links in found.items()}
        return self._spellable[unit_number]

    def repeats(self, unit_number: int, taught: frozenset[str]) -> Mapping[str, int]:
        """Return, for tiles that some spellable word needs twice or more, how often the neediest word needs them.

        `taught` are the tiles there are. Only words that would raise a count are asked for their spelling: of two
        thousand readable words a handful.
        """
        key = unit_number, taught
        if key not in self._repeats:
            self._repeats[key] = self._count_repeats(unit_number, taught)
        return self._repeats[key]

    def _count_repeats(self, unit_number: int, taught: frozenset[str]) -> Mapping[str, int]:
        most: dict[str, int] = {}
        for word, links in readable(self.reader.lexicon, self.reader.taught(unit_number)).items():
            if len(word) < 3 or len(set(word)) == len(word):
                continue
            tiles = [tile for link in links for tile in tiles_of(link.grapheme, taught)]
            if len(set(tiles)) == len(tiles):
                continue
            more = {t: n for t, n in Counter(tiles).items() if n > max(1, most.get(t, 1))}
            if more and spellable(word, self.reader, unit_number):
                most.update(more)
        return most

    def chain(self, unit_number: int, length: int, form: int = 1) -> tuple[ChainStep, ...]:
        """Return a chain of spellable words, each one change from the one before; each form has one of its own.

        Of some that could be, a later form takes the one that has least in common with those before it.
        """
        seed = self.home.sequence.seed + form - 1
        known = {step.word for earlier in range(1, form) for step in self.chain(unit_number, length, earlier)}
        tried = [chain(self.reader, unit_number, length, seed + 1_000 * n) for n in range(TRIES if known else 1)]
        return min(tried, key=lambda steps: sum(step.word in known for step in steps) - len(steps))

    def new_spellings(self, word: str, unit_number: int) -> tuple[str, ...]:
        """Return the word's graphemes whose sound the unit brings: s in `is`, not in `us`, where that s is new."""
        fresh = self.reader.fresh(unit_number)
        links = [s.correspondence for s in self.reader.verdict(word, unit_number).segments]
        return tuple(link.grapheme for link in links if (link.grapheme, link.phoneme) in fresh)

    def graphemes(self, word: str, unit_number: int) -> tuple[str, ...]:
        """Return the word's graphemes as the child reads it; its letters when it is read by heart."""
        segments = self.reader.verdict(word, unit_number).segments
        return tuple(s.grapheme for s in segments) or tuple(word)

    def odd_letters(self, word: str, unit_number: int) -> tuple[tuple[int, int], ...]:
        """Return the spans of letters that do not follow what was taught up to the unit."""
        return irregular_letters(word, self.reader.taught(unit_number), self.reader.lexicon)


class WrittenChoices(Choices):
    """Chooses as little as may be: for `check`, which looks at what is written.

    What the engine would add can be read by its nature, and is looked at when a pack is made.
    """

    def words(self, unit: Unit, wanted: int, kind: str = "words", learner: str = "") -> tuple[ChosenWord, ...]:
        if len(unit.words) < 2:
            return super().words(unit, wanted, kind, learner)
        return tuple(ChosenWord(str(word), True, "the unit asks for it") for word in unit.words)

    def review(self, unit: Unit, wanted: int, kind: str) -> tuple[ChosenWord, ...]:
        return ()

    def nonsense(self, unit: Unit, wanted: int) -> tuple[NonsenseWord, ...]:
        return ()

    def repeats(self, unit_number: int, taught: frozenset[str]) -> Mapping[str, int]:
        return {}
