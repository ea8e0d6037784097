"""Outlines as one string: "M 0 0 L 9 0 C 1 2 3 4 5 6 Z". A year of drawings holds a hundred thousand such steps.

Absolute whole micrometres, a single blank between all words. As a string an outline takes a tenth of the room that
tuples of numbers would, compares and hashes at once, and stands in the drawing file as it is.
"""

from __future__ import annotations

from collections.abc import Iterable

# ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y), ("Z",)
PathCommand = tuple[str | int, ...]

NUMBERS_BEHIND = {"M": 2, "L": 2, "C": 6, "Z": 0}


def outline_of(commands: Iterable[PathCommand]) -> str:
    """Return the outline that these commands draw."""
    return " ".join([" ".join(map(str, command)) for command in commands])


def commands_of(outline: str) -> tuple[PathCommand, ...]:
    """Return the commands that `outline_of` wrote."""
    words = outline.split()
    commands: list[PathCommand] = []
    at = 0
    while at < len(words):
        end = at + 1 + NUMBERS_BEHIND[words[at]]
        commands.append((words[at], *map(int, words[at + 1 : end])))
        at = end
    return tuple(commands)
