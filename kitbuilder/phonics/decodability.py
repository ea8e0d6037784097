"""Whether a child who was taught up to some unit can read a word, and if not, why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from kitbuilder.phonics.alignment import Segment
from kitbuilder.phonics.lexicon import Entry, Lexicon
from kitbuilder.phonics.plain_reading import read_plainly
from kitbuilder.phonics.reading_path import Path, Sounded, find_path, sounded
from kitbuilder.phonics.reasons import Missing as Missing
from kitbuilder.phonics.reasons import Reasons, first, needs
from kitbuilder.phonics.suffixes import suffix_uses
from kitbuilder.phonics.teaching import Taught, Teaching, taught_by
from kitbuilder.phonics.tokens import plain, words_in
from kitbuilder.phonics.two_way import load_readings

VerdictName = Literal["decodable", "irregular", "name", "adult-reads", "not-yet", "two-way", "unknown"]
_WORST_LAST: tuple[VerdictName, ...] = (
    "decodable",
    "irregular",
    "name",
    "adult-reads",
    "two-way",
    "not-yet",
    "unknown",
)

_LONGEST_ABBREVIATION = 4  # letters


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a child at a unit can do with a word, and why.

    Segments are whole, taught or not; of an unknown word they are its plain reading, empty when it has none.
    """

    word: str
    verdict: VerdictName
    segments: tuple[Segment, ...]
    missing: tuple[Missing, ...]
    note: str


class Reader:
    """Answers for one sequence of teaching. Answers are kept: ask as often as you like."""

    def __init__(self, lexicon: Lexicon, teachings: Sequence[Teaching]) -> None:
        self.lexicon = lexicon
        self._teachings = tuple(sorted(teachings, key=lambda teaching: teaching.unit))
        self._taught: dict[int, Taught] = {}
        self._sounded: dict[str, tuple[Sounded, ...]] = {}
        self._verdicts: dict[tuple[str, int], Verdict] = {}
        self._since_ever: dict[str, int | None] = {}
        self._reasons = Reasons(lexicon, tuple(teaching.unit for teaching in self._teachings), self.taught)

    def taught(self, unit: int) -> Taught:
        """Everything taught up to and including `unit`."""
        if unit not in self._taught:
            self._taught[unit] = taught_by(self._teachings, unit, self.lexicon.accent)
        return self._taught[unit]

    def fresh(self, unit: int) -> frozenset[tuple[str, str]]:
        """The correspondences, grapheme and phoneme, that `unit` brings."""
        return self.taught(unit).covered - self.taught(unit - 1).covered

    def verdict(self, word: str, unit: int) -> Verdict:
        """Whether a child at `unit` can read `word`; capitals count for names only."""
        key = (plain(word), unit)
        if key not in self._verdicts:
            self._verdicts[key] = self._judge(key[0], self.taught(unit))
        return self._verdicts[key]

    def check_text(self, text: str, unit: int) -> tuple[Verdict, ...]:
        """One verdict for each word of the text, in the order of `words_in`."""
        return tuple(self.verdict(token.text, unit) for token in words_in(text))

    def decodable_since(self, word: str, unit: int) -> int | None:
        """The first unit up to `unit` at which the word, lists left aside, can be decoded; None when there is none."""
        key = plain(word).lower()
        if key not in self._since_ever:
            units = tuple(teaching.unit for teaching in self._teachings)
            self._since_ever[key] = first(
                units, lambda at: self._judge_spelling(key, key, self.taught(at)).verdict == "decodable"
            )
        since = self._since_ever[key]
        return since if since is not None and since <= unit else None

    def _judge(self, word: str, taught: Taught) -> Verdict:
        key = word.lower()
        if _is_listed(word, taught.names):
            return Verdict(word, "name", self._segments(key, taught), (), "a name, read with help")
        if key in taught.irregular:
            return Verdict(word, "irregular", self._segments(key, taught), (), self._since(key, taught))
        if key in taught.adult_reads:
            return Verdict(word, "adult-reads", self._segments(key, taught), (), "read by the adult")
        found = self._judge_spelling(word, key, taught)
        if found.verdict in ("not-yet", "two-way"):
            found = self._by_heart_with_suffix(word, key, taught) or found
        if found.verdict in ("not-yet", "unknown") and (listed := self._listed_later(word, key, taught)):
            return replace(found, note=f"{found.note}; {listed}" if found.note else listed)
        return found

    def _listed_later(self, word: str, key: str, taught: Taught) -> str:
        """Which later unit teaches the word by heart or as a name, in words; empty when none does."""
        later = self._reasons.later(taught.unit)
        if unit := first(later, lambda at: key in self.taught(at).irregular):
            return f"learnt by heart in unit {unit}"
        if unit := first(later, lambda at: _is_listed(word, self.taught(at).names)):
            return f"a name from unit {unit} on"
        return ""

    def _judge_spelling(self, word: str, key: str, taught: Taught) -> Verdict:
        entry = self.lexicon.get(key)
        if entry:
            paths = self._paths(key, entry, taught)
            if entry.two_way:
                return self._judge_two_way(word, paths, taught)
            return self._judge_paths(word, paths, taught, entry)
        if "-" in key:
            return self._judge_parts(word, taught)
        return self._judge_unknown(word, key, taught)

    def _judge_paths(self, word: str, paths: tuple[Path, ...], taught: Taught, entry: Entry) -> Verdict:
        guess = "; its sounds were worked out from its spelling" if entry.guessed else ""
        if not paths:
            return Verdict(word, "unknown", (), (), "its letters do not fit its sounds in the list of words")
        best = min(paths, key=lambda path: path.lacks)  # ties: the most usual pronunciation
        if best.is_open:
            return Verdict(word, "decodable", best.segments, (), guess.removeprefix("; "))
        best, missing = self._reasons.of(best, taught)
        return Verdict(word, "not-yet", best.segments, missing, needs(missing) + guess)

    def _judge_two_way(self, word: str, paths: tuple[Path, ...], taught: Taught) -> Verdict:
        readings = load_readings()[word.lower()]
        entry = self.lexicon.get(word)
        open_paths = [number for number, path in enumerate(paths) if path.is_open]
        if not open_paths and entry:
            return self._judge_paths(word, paths, taught, entry)
        first = open_paths[0]
        told = "; ".join(
            f"as in “{reading.phrase}” it {'can be read' if number in open_paths else 'cannot be read yet'}"
            for number, reading in enumerate(readings)
        )
        other = next((number for number in range(len(paths)) if number not in open_paths), None)
        missing = self._reasons.of(paths[other], taught)[1] if other is not None else ()
        return Verdict(word, "two-way", paths[first].segments, missing, f"two words in the same letters: {told}")

    def _judge_parts(self, word: str, taught: Taught) -> Verdict:
        verdicts = [self.verdict(part, taught.unit) for part in word.split("-") if part]
        worst = max(verdicts, key=lambda verdict: _WORST_LAST.index(verdict.verdict))
        segments, at = [], 0
        for verdict in verdicts:
            segments += [_moved(segment, at) for segment in verdict.segments]
            at += len(verdict.word) + 1
        missing = tuple(dict.fromkeys(m for verdict in verdicts for m in verdict.missing))
        note = "; ".join(f"{verdict.word}: {verdict.note}" for verdict in verdicts if verdict.note)
        return Verdict(word, worst.verdict, tuple(segments), missing, note)

    def _judge_unknown(self, word: str, key: str, taught: Taught) -> Verdict:
        if not any(letter.isalpha() for letter in word) or word[0].isdigit():
            return Verdict(word, "unknown", (), (), "a numeral or a sign: write it in words")
        if _is_abbreviation(word):
            return Verdict(word, "unknown", (), (), "perhaps an abbreviation: write it in full")
        possessed = self._judge_possessive(word, key, taught)
        if possessed:
            return possessed
        segments = read_plainly(key, taught.correspondences)
        if segments:
            note = "not in the list of words, but read plainly it is made of what was taught"
        else:
            note = "not in the list of words, and read plainly it needs more than was taught"
        return Verdict(word, "unknown", segments, (), f"{note}; add it with its sounds if it is right")

    def _judge_possessive(self, word: str, key: str, taught: Taught) -> Verdict | None:
        """The verdict on a word with an apostrophe and s, worked out from the word without it."""
        if not key.endswith("'s") or not self.lexicon.get(key[:-2]):
            return None
        owner = self.verdict(word[:-2], taught.unit)
        last = self.lexicon.get(key[:-2])
        sound = _possessive_sound(last.pronunciations[0][-1] if last else "")
        ending = Segment("'s", sound, len(word) - 2, len(word))
        missing = owner.missing
        if "-s" not in taught.suffixes and ("'s", sound) not in taught.covered:
            missing += (self._reasons.possessive(sound, taught.unit),)
        name = "not-yet" if missing and owner.verdict in ("decodable", "irregular") else owner.verdict
        return Verdict(word, name, (*owner.segments, ending), missing, needs(missing) if missing else owner.note)

    def _by_heart_with_suffix(self, word: str, key: str, taught: Taught) -> Verdict | None:
        """The verdict on a word learnt by heart with a taught suffix (comes); None when it is no such word."""
        entry = self.lexicon.get(key)
        for sounds in entry.pronunciations if entry else ():
            for use, *more in suffix_uses(key, sounds, self.lexicon):
                if not more and use.rule is None and use.suffix in taught.suffixes and use.stem in taught.irregular:
                    return Verdict(
                        word, "irregular", self._segments(key, taught), (), f"{use.stem}, by heart, and {use.suffix}"
                    )
        return None

    def _paths(self, key: str, entry: Entry, taught: Taught) -> tuple[Path, ...]:
        if key not in self._sounded:
            self._sounded[key] = tuple(sounded(key, sounds, self.lexicon) for sounds in entry.pronunciations)
        found = (find_path(item, taught, self.lexicon) for item in self._sounded[key])
        return tuple(path for path in found if path)

    def _segments(self, key: str, taught: Taught) -> tuple[Segment, ...]:
        entry = self.lexicon.get(key)
        paths = self._paths(key, entry, taught) if entry else ()
        return min(paths, key=lambda path: path.lacks).segments if paths else ()

    def _since(self, key: str, taught: Taught) -> str:
        since = self.decodable_since(key, taught.unit)
        return "taught by heart" if since is None else f"taught by heart; decodable since unit {since}"


def _is_listed(word: str, names: frozenset[str]) -> bool:
    """Whether a word as written is a listed name, its possessive, or the name in capitals."""
    bare = word.removesuffix("'s").removesuffix("'S")
    return bare in names or (len(bare) > 1 and bare.isupper() and any(name.upper() == bare for name in names))


def _is_abbreviation(word: str) -> bool:
    """Whether an unknown word looks like letters said one by one: no vowel, stops, two to four capitals (TV, USA)."""
    capitals = word.isupper() and 1 < len(word) <= _LONGEST_ABBREVIATION
    return "." in word or capitals or word == "ok" or not any(letter in "aeiouy" for letter in word.lower())


def _possessive_sound(last: str) -> str:
    if last in ("S", "Z", "SH", "ZH", "CH", "JH"):
        return "AX.Z"
    return "S" if last in ("P", "T", "K", "F", "TH") else "Z"


def _moved(segment: Segment, by: int) -> Segment:
    tail = None if segment.tail is None else segment.tail + by
    return Segment(segment.grapheme, segment.phoneme, segment.start + by, segment.end + by, tail)
