"""Words for the fields of a game: each once before any comes again, never the same twice in a row."""

from __future__ import annotations

from collections.abc import Sequence

from kitbuilder.phonics.ranking import ranked


def word_rounds(words: Sequence[str], count: int, seed: int, unit: int, kind: str, in_row: int = 2) -> tuple[str, ...]:
    """Return so many words in rounds, each round in another order; the words must differ, and be two at least.

    `in_row`: no word comes twice among so many neighbours, as far as there are words enough.
    """
    apart = min(in_row, len(words)) - 1
    found: list[str] = []
    number = 0
    while len(found) < count:
        order = list(ranked(words, seed, unit, f"{kind} {number}"))
        while order:
            near = found[-apart:] if apart else []
            found.append(order.pop(next((at for at, word in enumerate(order) if word not in near), 0)))
        number += 1
    return tuple(found[:count])
