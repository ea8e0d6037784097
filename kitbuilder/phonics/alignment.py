"""A word's letters tied to the sounds of one of its pronunciations."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from kitbuilder.phonics.correspondences import Correspondence, Row, Table, load_table

VOWEL_LETTERS = frozenset("aeiou")
_BETWEEN = frozenset((*"bcdfgklmnprstvz", "st", "ng", "th", "ch", "qu", "gu", "ph", "sh", "sl"))
"""What may stand between the two letters of a split digraph (make, taste, change, bathe, unique, vague)."""
_BETWEEN_BEGUN = frozenset(letters[:count] for letters in _BETWEEN for count in (1, 2))


@dataclass(frozen=True, slots=True)
class Segment:
    """One grapheme of a word, the phoneme it stands for, and the letters it covers.

    start, end: letters of the word, counted from 0, end not included. For a split digraph they cover the vowel letter,
    and `tail` is the place of its e; otherwise `tail` is None.
    """

    grapheme: str
    phoneme: str
    start: int
    end: int
    tail: int | None = None

    @property
    def correspondence(self) -> Correspondence:
        """The same grapheme and phoneme without the place."""
        return Correspondence(self.grapheme, self.phoneme)


@dataclass(frozen=True, slots=True)
class Alignment:
    """A word cut into segments, in reading order, for one pronunciation; a lower cost is a more usual spelling."""

    segments: tuple[Segment, ...]
    pronunciation: tuple[str, ...]
    cost: float


PARTED_DOUBLE = 4.0  # nats; doubled consonants belong together (ball is b a ll), except where two words meet

_SPLIT_PASSED_BY = 4.0  # nats; a long vowel letter that leaves its e to the consonant (five is f i_e v, not f i ve)
_LONG = frozenset(("EY", "IY", "AY", "OW", "UW", "Y.UW"))

CostOf = Callable[[Row, int, int], float]
"""What a row costs when it covers the letters from start to end of the word; inf bars it."""


def align(word: str, pronunciation: tuple[str, ...], k: int = 3) -> tuple[Alignment, ...]:
    """The k best alignments, best first; empty when the letters cannot give the sounds."""
    return best_paths(word.lower(), pronunciation, k, load_table(), own_cost)


def own_cost(row: Row, start: int, end: int) -> float:
    """The row's cost as it stands in the table; rows that only a unit may ask for are out of reach."""
    return math.inf if row.place == "asked" else row.cost


# A state is (letters read, sounds said, where the consonants after an open split digraph begin; 0 when none is open).
_State = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class _Step:
    """One way to reach a state: total cost, the step before, and the row used (None for the e of a split digraph)."""

    cost: float
    before: _Step | None
    row: Row | None
    start: int
    end: int


def best_paths(
    word: str, pronunciation: tuple[str, ...], k: int, table: Table, cost_of: CostOf
) -> tuple[Alignment, ...]:
    """The k cheapest alignments under `cost_of`, best first; ties keep table order."""
    sounds = len(pronunciation)
    columns: list[dict[_State, list[_Step]]] = [{} for _ in range(len(word) + 1)]
    columns[0][(0, 0, 0)] = [_Step(0.0, None, None, 0, 0)]
    for column in columns:
        for state, steps in column.items():
            steps.sort(key=_cost)
            del steps[k:]
            parted = PARTED_DOUBLE if parts_a_double(word, state[0]) else 0.0
            split_waits = e_waits(word, state[0])
            for row, end, target in _moves(word, pronunciation, state, table):
                cost = parted + (cost_of(row, state[0], end) if row else _closing_cost(word, end))
                if cost == math.inf:
                    continue
                if split_waits and row and _passes_by(row):
                    cost += _SPLIT_PASSED_BY
                reached = columns[target[0]].setdefault(target, [])
                reached.extend(_Step(step.cost + cost, step, row, state[0], end) for step in steps)
    final = columns[-1].get((len(word), sounds, 0), [])
    return tuple(Alignment(_segments(step), pronunciation, round(step.cost, 3)) for step in final[:k] if word)


def _cost(step: _Step) -> float:
    return step.cost


def _moves(
    word: str, pronunciation: tuple[str, ...], state: _State, table: Table
) -> list[tuple[Row | None, int, _State]]:
    """The rows that can follow a state, with the letter where each ends and the state it leads to."""
    at, said, opened = state
    moves: list[tuple[Row | None, int, _State]] = []
    for end in range(at + 1, min(len(word), at + table.longest) + 1):
        letters = word[at:end]
        if opened and word[opened:end] not in _BETWEEN_BEGUN:
            break
        for row in table.whole.get(letters, ()):
            after = said + len(row.sounds)
            if pronunciation[said:after] == row.sounds and may_stand(row, word, at, end):
                moves.append((row, end, (end, after, opened)))
    if opened:
        if may_close(word, opened, at):
            moves.append((None, at + 1, (at + 1, said, 0)))
        return moves
    if at + 2 < len(word):
        for row in table.split.get(word[at], ()):
            after = said + len(row.sounds)
            if pronunciation[said:after] == row.sounds:
                moves.append((row, at + 1, (at + 1, after, at + 1)))
    return moves


def may_stand(row: Row, word: str, start: int, end: int) -> bool:
    if row.place == "start":
        return start == 0
    if row.place == "syllable" and (start == 0 or word[start - 1] in VOWEL_LETTERS):
        return False
    if row.place == "end" and word[end - 1] == "e" and word[end:] == "d":
        return False  # the e of a final -ed belongs to the suffix
    if row.place in ("end", "syllable"):
        return end == len(word) or not (word[end] in VOWEL_LETTERS or word[end] == "y")
    return True


def may_close(word: str, opened: int, at: int) -> bool:
    """Whether the letter at `at` can be the e of the split digraph whose consonants begin at `opened`."""
    if at >= len(word) or word[at] != "e" or word[opened:at] not in _BETWEEN:
        return False
    return word[at + 1 :] != "d"  # the -ed of hoped is a suffix, a unit of its own


def parts_a_double(word: str, at: int) -> bool:
    return 0 < at < len(word) and word[at] == word[at - 1] and word[at] not in VOWEL_LETTERS


def e_waits(word: str, at: int) -> bool:
    """Whether a vowel letter, consonants and an e end the word from here, as in five and cakes."""
    rest = word[at:].removesuffix("s")
    return len(rest) > 2 and rest[0] in VOWEL_LETTERS and rest[-1] == "e" and rest[1:-1] in _BETWEEN


def _passes_by(row: Row) -> bool:
    link = row.correspondence
    return len(link.grapheme) == 1 and link.phoneme in _LONG


def _closing_cost(word: str, end: int) -> float:
    """Nothing, or a lot when a vowel letter follows: only compounds have that (makeup)."""
    return 4.0 if end < len(word) and word[end] in VOWEL_LETTERS else 0.0


def _segments(step: _Step | None) -> tuple[Segment, ...]:
    steps = []
    while step and step.before:
        steps.append(step)
        step = step.before
    segments: list[Segment] = []
    open_at = -1
    for taken in reversed(steps):
        if taken.row is None:
            opened = segments[open_at]
            segments[open_at] = Segment(opened.grapheme, opened.phoneme, opened.start, opened.end, taken.start)
            continue
        link = taken.row.correspondence
        if link.is_split:
            open_at = len(segments)
        segments.append(Segment(link.grapheme, link.phoneme, taken.start, taken.end))
    return tuple(segments)
