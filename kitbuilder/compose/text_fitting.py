"""The largest type that fits a box, and where its lines break."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

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
) -> FittedText | None:
    """Return the text set in the largest size, from `largest_um` down to `least_um`, that fits; None when none does."""
    size = largest_um
    while size >= least_um:
        fitted = _set(metrics, text, width_um, size, leading, wrap)
        if fitted and fitted.height_um <= height_um:
            return fitted
        if size == least_um:
            return None
        size = max(least_um, size - max(STEP_UM, size // 40))
    return None


def _set(metrics: Metrics, text: str, width_um: int, size: int, leading: float, wrap: bool) -> FittedText | None:
    lines: list[str] = []
    for paragraph in text.split("\n"):
        broken = break_lines(metrics, paragraph, width_um, size) if wrap else (paragraph,)
        if broken is None or any(metrics.width_um(line, size) > width_um for line in broken):
            return None
        lines += broken
    step = round(size * leading)
    height = metrics.letter_ascent_um(size) + metrics.letter_descent_um(size) + step * (len(lines) - 1)
    return FittedText(size, tuple(lines), step, height)


def break_lines(metrics: Metrics, paragraph: str, width_um: int, size_um: int) -> tuple[str, ...] | None:
    """Return the lines of a paragraph in the fewest lines, as even as may be; None when one word is too wide.

    Least squares of the left-over space over all lines but the last, by dynamic programming: a child's line should not
    end in a lonely word.
    """
    words = paragraph.split()
    if not words:
        return ("",)
    space = metrics.width_um(" ", size_um)
    widths = [metrics.width_um(word, size_um) for word in words]
    if max(widths) > width_um:
        return None
    fewest = _greedy_count(widths, space, width_um)
    best: list[tuple[int, int, int]] = [(0, 0, 0)]  # lines used, badness, start of the last line; index = words set
    for end in range(1, len(words) + 1):
        best.append(_best_start(best, widths, space, width_um, end, fewest))
    lines: list[str] = []
    end = len(words)
    while end:
        start = best[end][2]
        lines.append(" ".join(words[start:end]))
        end = start
    return tuple(reversed(lines))


def _greedy_count(widths: list[int], space: int, width_um: int) -> int:
    lines, used = 1, 0
    for width in widths:
        if used and used + space + width > width_um:
            lines, used = lines + 1, width
        else:
            used += (space if used else 0) + width
    return lines


def _best_start(
    best: list[tuple[int, int, int]], widths: list[int], space: int, width_um: int, end: int, fewest: int
) -> tuple[int, int, int]:
    found: tuple[int, int, int] | None = None
    used = -space
    for start in range(end - 1, -1, -1):
        used += widths[start] + space
        if used > width_um:
            break
        lines, badness, _ = best[start]
        candidate = (lines + 1, badness + ((width_um - used) // 1000) ** 2, start)
        if found is None or candidate[:2] < found[:2]:
            found = candidate
    assert found is not None  # one word always fits: checked before
    return found
