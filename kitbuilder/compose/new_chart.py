"""The chart of what is new: how tall each row is, how many example words it shows, and their one size."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from kitbuilder.measure.length import MM_PER_POINT

Rule = Mapping[str, Any]
CommonSize = Callable[[Iterable[str], float, float, float], str]

HEAD_MM, FOOT_MM = 15.0, 7.0
AIR_MM = 6.0  # of a row, above and below its words together
LEAST_ROW_MM = 30.0
LINE = 1.5  # from line to line of example words, in sizes of their type


@dataclass(frozen=True, slots=True)
class _Look:
    """Widths in mm and sizes in points: of the letters, of the picture, where words begin, and in how many columns."""

    letters: float
    picture: float
    words: float
    across: int
    letter_points: float
    word_points: float


_FEW = _Look(40, 38, 90, 2, 76, 34)
_MANY = _Look(35, 26, 71, 3, 50, 28)
FEW = 3  # rules


def new_chart(rules: Sequence[Rule], width: float, height: float, common_size: CommonSize) -> dict[str, Any]:
    """Return what the face draws: the rows with their places, filling the page; all example words have one size.

    `common_size` is given words, the width for them in mm, the largest and the least size in points.
    """
    look = _FEW if len(rules) <= FEW else _MANY
    column = (width - look.words) / look.across
    least = 18.0
    singles = [word for rule in rules if rule["across"] > 1 for word in rule["examples"]]
    pairs = [pair for rule in rules if rule["across"] == 1 for pair in rule["examples"]]
    size = look.word_points
    for texts, wide in ((singles, column - 5), (pairs, width - look.words)):
        if texts:
            size = float(common_size(texts, wide, size, least).removesuffix(" pt"))
    line = size * MM_PER_POINT * LINE
    room = height - HEAD_MM - FOOT_MM
    most = next((n for n in range(6, 1, -1) if sum(_tall(rule, look, n, line) for rule in rules) <= room), 1)
    spare = max(0.0, room - sum(_tall(rule, look, most, line) for rule in rules)) / len(rules)
    rows = []
    y = HEAD_MM
    for rule in rules:
        tall = _tall(rule, look, most, line) + spare
        examples, across = _shown(rule, look, most)
        down = -(-len(examples) // across)
        rows.append({**rule, "examples": examples, "across": across, "y": y, "tall": tall,
                     "words_y": (tall - down * line) / 2, "step": (width - look.words) / across})  # fmt: skip
        y += tall
    return {
        "rules": tuple(rows),
        "size": f"{size:g} pt",
        "line": line,
        "letters": look.letters,
        "picture": look.picture,
        "words": look.words,
        "letter_points": look.letter_points,
        "letter_tall": look.letter_points * MM_PER_POINT * 0.98,
    }


def _shown(rule: Rule, look: _Look, most: int) -> tuple[tuple[str, ...], int]:
    """Return the example words in at most so many lines, and how many stand in a line.

    No word stands alone on a second line: it is left out.
    """
    across = min(rule["across"], look.across)
    examples = rule["examples"][: most * across]
    if across > 1 and len(examples) > across and len(examples) % across == 1:
        examples = examples[:-1]
    return tuple(examples), across


def _tall(rule: Rule, look: _Look, most: int, line: float) -> float:
    examples, across = _shown(rule, look, most)
    letters = look.letter_points * MM_PER_POINT + 12 if rule["look"] == "letters" else LEAST_ROW_MM
    return max(LEAST_ROW_MM, letters, -(-len(examples) // across) * line + AIR_MM)
