"""A fixed, evenly spread number for a choice, so that the same plan always gives the same words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from hashlib import blake2b


def rank(seed: int, unit: int, kind: str, learner: str, word: str) -> int:
    """A number below 2**64 that depends on nothing but these five, the same on every machine."""
    return ranker(seed, unit, kind, learner)(word)


def ranker(seed: int, unit: int, kind: str, learner: str) -> Callable[[str], int]:
    """The function from a word to its rank: the same numbers as `rank`, faster for a list of words."""
    start = blake2b("\x1f".join((str(seed), str(unit), kind, learner, "")).encode(), digest_size=8)

    def of(word: str) -> int:
        hashed = start.copy()
        hashed.update(word.encode())
        return int.from_bytes(hashed.digest(), "big")

    return of


def ranked(words: Iterable[str], seed: int, unit: int, kind: str, learner: str = "") -> tuple[str, ...]:
    """The words in the order of their rank: a shuffle that adding or taking away a word leaves as it is."""
    rank_of = ranker(seed, unit, kind, learner)
    return tuple(sorted(words, key=lambda word: (rank_of(word), word)))
