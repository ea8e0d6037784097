"""Rows of a page for an adult: a head at the side, and beside it lists, small tables and lines of words.

All is placed here, line by line, in millimetres, because only broken lines tell how tall a row is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from kitbuilder.artwork.type_metrics import FontMetrics
from kitbuilder.compose.text_fitting import break_lines
from kitbuilder.measure.length import MM_PER_POINT, mm, parse_length, pt

SIDE_MM, GAP_MM = 35.0, 7.0  # the heads' column; between cells of a table
LEADING = 1.36
HEAD_POINTS, ASIDE_POINTS = 11.0, 8.5
LEAST_IN_HALVES = 10.0  # points
PLAIN, BOLD = "Andika", "Andika-Bold"
JOIN = "¦"  # in a text: a space at which no line ends

Placed = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Lines:
    """Texts below one another. `bullets`: each is an item whose further lines hang.

    `halves`: they stand in two columns, a little smaller if need be, where none of them is too long for that.
    """

    texts: tuple[str, ...]
    points: float = 10.5
    bullets: bool = False
    halves: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Cells in as many columns as their width allows, filled column by column: a strong word and what is told of it."""

    cells: tuple[tuple[str, str], ...]
    points: float = 10.5
    strong_points: float = 15
    most: int = 3


Part = Lines | Table


@dataclass(frozen=True, slots=True)
class Row:
    """A head, an aside under it, and what stands beside them."""

    head: str
    parts: tuple[Part, ...]
    aside: str = ""


class Setter:
    """Sets rows at one scale of type for a page of this width; lengths are millimetres."""

    def __init__(self, font: Callable[[str], FontMetrics], width_mm: float, scale: float) -> None:
        self.font = font
        self.width = width_mm
        self.scale = scale

    def set(self, rows: Iterable[Row]) -> tuple[tuple[tuple[Placed, ...], float], ...]:
        """Return for each row its texts, placed from its upper left corner, and its height."""
        return tuple((tuple(items), self._foot(items)) for items in map(self._row, rows))

    def _row(self, row: Row) -> list[Placed]:
        found: list[Placed] = []
        # head and first line share their baseline
        first = row.parts[0]
        lower = self._ascent(first.strong_points if isinstance(first, Table) else first.points, PLAIN)
        lower -= self._ascent(HEAD_POINTS, BOLD)
        y = self._stack(found, (row.head,), 0.0, max(0.0, lower), SIDE_MM - 4, HEAD_POINTS, BOLD)
        if row.aside:
            self._stack(found, (row.aside,), 0.0, y + 0.6, SIDE_MM - 4, ASIDE_POINTS, PLAIN, colour="soft")
        y = max(0.0, -lower)
        for part in row.parts:
            y = self._table(found, part, y) if isinstance(part, Table) else self._lines(found, part, y)
            y += 1.2 * self.scale
        return found

    def _lines(self, found: list[Placed], part: Lines, y: float) -> float:
        room = self.width - SIDE_MM
        half = (room - GAP_MM) / 2
        points = part.points
        if part.halves:
            points = min(points, 0.995 * points * half / max(self._wide(text, points, PLAIN) for text in part.texts))
        if part.halves and points * self.scale >= LEAST_IN_HALVES:
            down = -(-len(part.texts) // 2)
            foot = self._stack(found, part.texts[:down], SIDE_MM, y, half, points, PLAIN)
            self._stack(found, part.texts[down:], SIDE_MM + half + GAP_MM, y, half, points, PLAIN)
            return foot
        indent = 4.0 * self.scale if part.bullets else 0.0
        for text in part.texts:
            if part.bullets:
                self._stack(found, ("•",), SIDE_MM, y, indent, part.points, PLAIN)
            y = self._stack(found, (text,), SIDE_MM + indent, y, room - indent, part.points, PLAIN)
        return y

    def _table(self, found: list[Placed], part: Table, y: float) -> float:
        strong = max(self._wide(a, part.strong_points, BOLD) for a, _ in part.cells) + 3
        told = max(self._wide(b, part.points, PLAIN) for _, b in part.cells)
        room = self.width - SIDE_MM
        columns = max(1, min(part.most, len(part.cells), int((room + GAP_MM) / (strong + told + GAP_MM))))
        down = -(-len(part.cells) // columns)
        columns = -(-len(part.cells) // down)
        pitch = (room + GAP_MM) / columns
        step = part.strong_points * self.scale * MM_PER_POINT * 1.3
        # the small words share the baseline of the strong ones
        drop = self._ascent(part.strong_points, BOLD) - self._ascent(part.points, PLAIN)
        for i, (word, text) in enumerate(part.cells):
            x, top = SIDE_MM + i // down * pitch, y + i % down * step
            self._stack(found, (word,), x, top, strong + 1, part.strong_points, BOLD)
            beside = x + strong if word else x
            self._stack(found, (text,), beside, top + drop, pitch - GAP_MM - strong + 1, part.points, PLAIN)
        return y + down * step

    def _stack(
        self, found: list[Placed], texts: Sequence[str], x: float, y: float, wide: float, points: float, font: str,
        *, colour: str = "ink",
    ) -> float:  # fmt: skip
        """Place the lines of the texts one below the other; return where the next one would begin."""
        size = f"{points * self.scale:.2f} pt"
        tall = points * self.scale * MM_PER_POINT
        for text in texts:
            lines = break_lines(self.font(font), text, mm(round(wide, 3)).um, parse_length(size).um)
            for line in lines or (text,):  # a single word too wide for its column goes over its edge
                look = {"font": font, "size": size, "colour": colour, "tall": tall}
                found.append({"text": line.replace(JOIN, " "), "x": x, "y": y, "width": wide, **look})
                y += tall * LEADING
        return y

    def _foot(self, items: Sequence[Placed]) -> float:
        return max((i["y"] + i["tall"] for i in items), default=0.0)

    def _wide(self, text: str, points: float, font: str) -> float:
        return self.font(font).width_um(text, pt(round(points * self.scale, 2)).um) / 1000

    def _ascent(self, points: float, font: str) -> float:
        return self.font(font).letter_ascent_um(pt(round(points * self.scale, 2)).um) / 1000


def kept_together(texts: Iterable[str]) -> Iterator[str]:
    """Yield the texts with no space at which a line may end."""
    return (text.replace(" ", JOIN) for text in texts)
