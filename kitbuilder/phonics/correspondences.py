"""The links between letters and sounds that English spelling uses, as data."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

Accent = Literal["us", "uk"]
"""American, or southern English; phonemes before a written r keep it in both (car is K AA.R), heard or not."""

Place = Literal["", "start", "end", "syllable", "asked"]

VOWEL_SOUNDS = frozenset(
    ("AA", "AE", "AH", "AO", "AW", "AX", "AY", "EH", "ER", "EY", "IH", "IY", "OH", "OW", "OY", "UH", "UW")
)
"""ARPAbet vowels, AX for the unstressed one, OH for the southern English vowel of hot (as in the BEEP dictionary)."""

_DATA = Path(__file__).parent / "data"
_UNSEEN_COST = 14.0  # nats; rarer than once among the lexicon's half a million segments


@dataclass(frozen=True, slots=True, order=True)
class Correspondence:
    """One grapheme and the phoneme it stands for.

    grapheme: the letters, lower case; a split digraph is "a_e".
    phoneme: ARPAbet without stress, AX for the unstressed vowel; two sounds in one grapheme are joined by a dot (K.S).
    """

    grapheme: str
    phoneme: str

    @property
    def sounds(self) -> tuple[str, ...]:
        """The single sounds of the phoneme, in order."""
        return tuple(self.phoneme.split("."))

    @property
    def is_split(self) -> bool:
        """True for a split digraph, whose final e stands apart from its vowel."""
        return "_" in self.grapheme

    @property
    def is_vowel(self) -> bool:
        """True when the phoneme holds a vowel (ER, AX.L and Y.UW do)."""
        return not VOWEL_SOUNDS.isdisjoint(self.phoneme.split("."))


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: a correspondence, an example word, where it may stand, and its cost in nats."""

    correspondence: Correspondence
    sounds: tuple[str, ...]
    example: str
    place: Place
    cost: float


@dataclass(frozen=True, slots=True)
class Table:
    """All correspondences: `rows` in file order; whole graphemes and split digraphs (by vowel letter) apart."""

    rows: tuple[Row, ...]
    whole: dict[str, tuple[Row, ...]]
    split: dict[str, tuple[Row, ...]]
    longest: int
    by_link: dict[Correspondence, Row]

    def row(self, correspondence: Correspondence) -> Row | None:
        """The row of a correspondence, None when English spelling does not use it."""
        return self.by_link.get(correspondence)


def parse_table(text: str, costs: dict[Correspondence, float] | None = None) -> Table:
    """The table written in `text`: grapheme, phoneme, example, place a line; # starts a comment."""
    rows = []
    for line in text.splitlines():
        if not line or line.startswith("#"):
            continue
        grapheme, phoneme, example, *place = line.split()
        correspondence = Correspondence(grapheme, phoneme)
        cost = (costs or {}).get(correspondence, _UNSEEN_COST)
        rows.append(Row(correspondence, correspondence.sounds, example, _place(place), cost))
    whole: dict[str, list[Row]] = {}
    split: dict[str, list[Row]] = {}
    for row in rows:
        grapheme = row.correspondence.grapheme
        if row.correspondence.is_split:
            split.setdefault(grapheme[0], []).append(row)
        else:
            whole.setdefault(grapheme, []).append(row)
    return Table(
        tuple(rows),
        {grapheme: tuple(found) for grapheme, found in whole.items()},
        {vowel: tuple(found) for vowel, found in split.items()},
        max(len(grapheme) for grapheme in whole),
        {row.correspondence: row for row in rows},
    )


def _place(words: list[str]) -> Place:
    match words:
        case []:
            return ""
        case ["start"]:
            return "start"
        case ["end"]:
            return "end"
        case ["syllable"]:
            return "syllable"
        case ["asked"]:
            return "asked"
        case _:
            raise ValueError(f"correspondences.txt: {words} is no place")


def parse_costs(text: str) -> dict[Correspondence, float]:
    """Costs in nats from lines of grapheme, phoneme, cost."""
    costs = {}
    for line in text.splitlines():
        if line and not line.startswith("#"):
            grapheme, phoneme, cost = line.split()
            costs[Correspondence(grapheme, phoneme)] = float(cost)
    return costs


@cache
def load_table() -> Table:
    """The shipped table with the shipped costs."""
    costs = parse_costs((_DATA / "costs.txt").read_text("utf-8"))
    return parse_table((_DATA / "correspondences.txt").read_text("utf-8"), costs)
