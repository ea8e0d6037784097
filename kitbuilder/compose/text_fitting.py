"""The largest type that fits a box, and where its lines break."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Protocol

from kitbuilder.compose.phrases import end_costs

FEWEST_LINES = 1_000_000_000  # what a line costs beside its end and its left-over space: no gain makes up for it
EASY_LINES = 2_000  # a line more may be spent on better ends
STEP_UM = 176  # half a point: type sizes between are not told apart


class Metrics(Protocol):
    """What fitting needs to know of a font."""

    def width_um(self, text: str, size_um: int) -> int: ...
    def letter_ascent_um(self, size_um: int) -> int: ...
    def letter_descent_um(self, size_um: int) -> int: ...


@dataclass(frozen=True, slots=True)
class FittedText:
    """Type size and lines; heights in micrometres: from the first line's letter tops to the last line's letter feet."""

    size_um: int
    lines: tuple[str, ...]
    leading_um: int
    height_um: int


def fit_text(
    metrics: Metrics,
    text: str,
    width_um: int,
    height_um: int,
    largest_um: int,
    least_um: int,
    *,
    leading: float = 1.3,
    wrap: bool = True,
    breaks: Collection[int] = (),
    line_cost: int = FEWEST_LINES,
) -> FittedText | None:
    """Return the text set in the largest size, from `largest_um` down to `least_um`, that fits; None when none does.

    `breaks` are the places of spaces where the author would have a line end, if one has to.
    """
    size = largest_um
    while size >= least_um:
        fitted = set_text(metrics, text, width_um, size, leading, wrap=wrap, breaks=breaks, line_cost=line_cost)
        if fitted and fitted.height_um <= height_um:
            return fitted
        if size == least_um:
            return None
        size = max(least_um, size - max(STEP_UM, size // 40))
    return None


def with_line_ends(text: str, breaks: Collection[int]) -> str:
    """Return the text with a line end in place of every space at which the author has one."""
    return "".join("\n" if place in breaks else char for place, char in enumerate(text))


def set_text(
    metrics: Metrics,
    text: str,
    width_um: int,
    size_um: int,
    leading: float,
    *,
    wrap: bool = True,
    breaks: Collection[int] = (),
    line_cost: int = FEWEST_LINES,
) -> FittedText | None:
    """Return the text set in one size, however high it gets; None when it is too wide."""
    lines: list[str] = []
    start = 0
    for paragraph in text.split("\n"):
        own = tuple(len(paragraph[: place - start].split()) - 1 for place in breaks if place > start) if breaks else ()
        broken = break_lines(metrics, paragraph, width_um, size_um, own, line_cost) if wrap else (paragraph,)
        if broken is None or any(metrics.width_um(line, size_um) > width_um for line in broken):
            return None
        lines += broken
        start += len(paragraph) + 1
    step = round(size_um * leading)
    height = metrics.letter_ascent_um(size_um) + metrics.letter_descent_um(size_um) + step * (len(lines) - 1)
    return FittedText(size_um, tuple(lines), step, height)


def break_lines(
    metrics: Metrics,
    paragraph: str,
    width_um: int,
    size_um: int,
    own: tuple[int, ...] = (),
    line_cost: int = FEWEST_LINES,
) -> tuple[str, ...] | None:
    """Return the lines of a paragraph, the fewest unless `line_cost` is less; None when one word is too wide.

    Of all ways in the fewest lines it is the one whose lines end where a reader may pause and are as even as may be: by
    dynamic programming over the squares of the left-over space and what each line's end costs (`phrases.end_costs`).
    `own` are the numbers of words after which the author would have a line end.
    """
    words = tuple(paragraph.split())
    if not words:
        return ("",)
    space = metrics.width_um(" ", size_um)
    widths = [metrics.width_um(word, size_um) for word in words]
    if max(widths) > width_um:
        return None
    if sum(widths) + space * (len(words) - 1) <= width_um:  # also with slashes: they say where, not that it ends
        return (" ".join(words),)
    ends = (*end_costs(words, own), 0)
    best: list[tuple[int, int]] = [(0, 0)]  # cost, start of the last line; index = words set
    for end in range(1, len(words) + 1):
        best.append(_best_start(best, widths, space, width_um, end, ends[end - 1] + line_cost))
    lines: list[str] = []
    end = len(words)
    while end:
        start = best[end][1]
        lines.append(" ".join(words[start:end]))
        end = start
    return tuple(reversed(lines))


def _best_start(
    best: list[tuple[int, int]], widths: list[int], space: int, width_um: int, end: int, end_cost: int
) -> tuple[int, int]:
    found: tuple[int, int] | None = None
    used = -space
    for start in range(end - 1, -1, -1):
        used += widths[start] + space
        if used > width_um:
            break
        cost = best[start][0] + end_cost + ((width_um - used) * 100 // width_um) ** 2
        if found is None or cost < found[0]:
            found = cost, start
    assert found is not None  # one word always fits: checked before
    return found
