"""What speaks against a string as a made-up word, the most telling first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.made_up_parts import Graphemes, readings, take_apart, untaught, why_not_apart
from kitbuilder.phonics.made_up_rules import against_habit, never_allowed
from kitbuilder.phonics.rude_sounds import rude_word
from kitbuilder.phonics.shapes import accepts
from kitbuilder.phonics.sound_index import FREQUENT, frequent_strings, sound_index, sound_keys, string_digest
from kitbuilder.phonics.teaching import Taught

REAL_LEVEL = 70  # the largest SCOWL size whose words count as words
_COMMON = 4.0  # Zipf scale; where names may pass, only words at least as frequent are sounded like


@dataclass(frozen=True, slots=True)
class Judge:
    """How strictly strings are judged for a child who was taught some things.

    no_names: refuse names, short forms and whatever is often met, too, and what sounds like any word, however rare.
    usual_spelling: refuse what goes against the habits of English spelling.
    """

    lexicon: Lexicon
    taught: Taught
    no_names: bool = True
    usual_spelling: bool = True

    def objections(self, word: str) -> Iterator[str]:
        """Each thing that speaks against the string; none if it will do."""
        if self._is_real(word):
            yield f"{word} is a word or a name"
            return
        ways = take_apart(word)
        if not ways:
            yield why_not_apart(word)
            return
        paths = [path for parts in ways for path in readings(parts)]
        if rude := rude_word(word, paths):
            yield f"it is too close to a rude word ({rude[0]}...)"
        for like in self._sounds_like(paths):
            yield f"it sounds like {like}"
        if wrong := never_allowed(ways[0]):
            yield wrong
        if self.usual_spelling and (wrong := against_habit(ways[0], sound_index(self.lexicon))):
            yield wrong
        if missing := untaught(ways[0], self.taught.covered):
            yield f"not taught yet: {', '.join(missing)}"
        elif self.taught.shapes and not accepts(self.taught.shapes, ways[0].shape):
            yield f"the shape {ways[0].shape} is not taught yet"

    def _is_real(self, word: str) -> bool:
        entry = self.lexicon.get(word)
        if entry and entry.level <= REAL_LEVEL and not entry.proper:
            return True
        taught = self.taught
        if word in unlisted_words() or word in {
            name.lower() for name in (*taught.names, *taught.irregular, *taught.adult_reads)
        }:
            return True
        often = bool(entry and entry.frequency >= FREQUENT) or string_digest(word) in frequent_strings()
        return self.no_names and often

    def _sounds_like(self, paths: Sequence[Graphemes]) -> Iterator[str]:
        """The words that a string sounds like in either accent."""
        sounds = sound_index(self.lexicon).sounds
        for word in dict.fromkeys(sounds[key] for path in paths for key in sound_keys(path) if key in sounds):
            entry = self.lexicon.get(word)
            if self.no_names or entry is None or entry.frequency >= _COMMON:
                yield word


@cache
def unlisted_words() -> frozenset[str]:
    """Words of slang, dialect and comics that no list of words has, and that a child may well know."""
    text = (files("kitbuilder.phonics") / "data" / "unlisted_words.txt").read_text(encoding="utf-8")
    return frozenset(word for line in text.splitlines() if not line.startswith("#") for word in line.split())
