"""The sequence: what holds for all units."""

from __future__ import annotations

from typing import Annotated, Literal

from kitbuilder.model.defined import Defined
from kitbuilder.model.field_types import Choice, Entries, Whole
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Line, Word

DEFAULT_KINDS = ("letter-card", "letter-tile", "sentence-strip", "fluency-grid", "booklet")
ACCENTS = ("us", "uk")


class Sequence(Defined):
    """Title, accent and seed; the kinds made by default; words of the family's own.

    `allow` lets words into what the engine chooses, `reject` keeps them out. `pronunciations` pairs a word with its
    sounds in ARPAbet, for words no list knows.
    """

    title: Line = Placed("Our sequence")
    accent: Annotated[Literal["us", "uk"], Choice(ACCENTS, "an accent")] = "us"
    seed: Annotated[int, Whole(0, 999_999_999)] = 1
    kinds: tuple[Line, ...] = tuple(Placed(kind) for kind in DEFAULT_KINDS)
    allow: tuple[Word, ...] = ()
    reject: tuple[Word, ...] = ()
    pronunciations: Annotated[tuple[tuple[Placed, Line], ...], Entries()] = ()
