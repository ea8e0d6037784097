"""A fixed, evenly spread number for a choice, so that the same plan always gives the same words."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import blake2b


def rank(seed: int, unit: int, kind: str, learner: str, word: str) -> int:
    """A number below 2**64 that depends on nothing but these five, the same on every machine."""
    text = "\x1f".join((str(seed), str(unit), kind, learner, word))
    return int.from_bytes(blake2b(text.encode(), digest_size=8).digest(), "big")


def ranked(words: Iterable[str], seed: int, unit: int, kind: str, learner: str = "") -> tuple[str, ...]:
    """The words in the order of their rank: a shuffle that adding or taking away a word leaves as it is."""
    return tuple(sorted(words, key=lambda word: (rank(seed, unit, kind, learner, word), word)))
