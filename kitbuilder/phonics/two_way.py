"""Words that are two words in the same letters: which readings they have, and a phrase that shows each."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

_DATA = Path(__file__).parent / "data"


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a two-way word: its sounds and a phrase in which it is read so."""

    pronunciation: tuple[str, ...]
    phrase: str


@cache
def load_readings() -> dict[str, tuple[Reading, ...]]:
    """The readings of each two-way word, the one a young child meets most first."""
    found = {}
    for line in (_DATA / "two_way.txt").read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            word, *readings = line.split("; ")
            found[word] = tuple(_reading(reading) for reading in readings)
    return found


def _reading(text: str) -> Reading:
    sounds, _, phrase = text.partition(" = ")
    return Reading(tuple(sounds.split()), phrase)
