"""Answers that are worked out once and kept while words are chosen and pieces drawn, and let go when that is done.

The words, sounds and pictures that a year is made from take as much room as its drawings. Once the pieces are drawn
nobody asks for them any more, and what lays out and writes comes next.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import ParamSpec, TypeVar, cast

Given = ParamSpec("Given")
Answer = TypeVar("Answer")

_LETTING_GO: list[Callable[[], None]] = []


def remembered(most: int | None = None) -> Callable[[Callable[Given, Answer]], Callable[Given, Answer]]:
    """Return a decorator: the function's answers are kept, the `most` last asked for, until `let_go`."""

    def keep(function: Callable[Given, Answer]) -> Callable[Given, Answer]:
        kept = lru_cache(maxsize=most)(function)
        _LETTING_GO.append(kept.cache_clear)
        return cast("Callable[Given, Answer]", kept)

    return keep


def let_go() -> None:
    """Forget all answers of remembered functions; they are worked out again when somebody asks."""
    for forget in _LETTING_GO:
        forget()
