"""Words for the fields of a game: each once before any comes again, never the same twice in a row."""

from __future__ import annotations

from collections.abc import Sequence

from kitbuilder.phonics.ranking import ranked


def word_rounds(words: Sequence[str], count: int, seed: int, unit: int, kind: str) -> tuple[str, ...]:
    """Return so many words in rounds, each round in another order; the words must differ, and be two at least."""
    found: list[str] = []
    number = 0
    while len(found) < count:
        order = list(ranked(words, seed, unit, f"{kind} {number}"))
        if found and order[0] == found[-1]:
            order.append(order.pop(0))
        found += order
        number += 1
    return tuple(found[:count])
