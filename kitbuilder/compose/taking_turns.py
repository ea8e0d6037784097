"""Words in an order in which every new spelling has its turn before any comes again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

Thing = TypeVar("Thing")

_NONE = ("",)  # words that are new by their shape or ending take turns as if that were a spelling too


def in_turn(things: Sequence[Thing], spellings: Callable[[Thing], Iterable[str]]) -> tuple[Thing, ...]:
    """Return the things so that, from the first on, each spelling comes about equally often as far as they go.

    `spellings` tells which of the spellings that should take turns a thing has. Among things that do equally well the
    given order stays: what stood first is still the first with its spelling.
    """
    waiting = [(thing, tuple(dict.fromkeys(spellings(thing))) or _NONE) for thing in things]
    used: Counter[str] = Counter()
    found: list[Thing] = []
    while waiting:
        best = min(range(len(waiting)), key=lambda i: min(used[spelling] for spelling in waiting[i][1]))
        thing, held = waiting.pop(best)
        used.update(held)
        found.append(thing)
    return tuple(found)
