"""Lower bounds that stand for any layout, guillotine or not: area, sharpened by dual feasible functions.

A function f on [0, 1] is dual feasible when every set of numbers with sum at most 1 keeps a sum of at most 1 under f.
Then sum f(width) g(height) over all pieces is at most 1 for what one sheet holds. Families: u(k) and U(eps) of Fekete
and Schepers, Math. Program. 91 (2001) 11-31 (from memory).
"""

from collections.abc import Callable, Sequence
from fractions import Fraction

from kitbuilder.packing.job import Frame, Job

Stretch = Callable[[Fraction], Fraction]
LARGEST_K = 6  # u(k) for larger k hardly ever sharpens a bound on pieces a hand can hold
MOST_EPS = 12


def any_layout_bound(job: Job) -> int:
    """Sheets that no layout can do without; a piece that may turn counts the way that costs less."""
    frame = job.frames[0]
    widths = [Fraction(item.width, frame.width) for item in frame.items]
    heights = [Fraction(item.height, frame.height) for item in frame.items]
    across = [[stretch(x) for x in widths] for stretch in stretches(widths)]
    down = [[stretch(y) for y in heights] for stretch in stretches(heights)]
    best = Fraction(0)
    for f in across:
        for g in down:
            best = max(best, total(job, frame, f, g))
    return -(-best.numerator // best.denominator)


def total(job: Job, frame: Frame, f: Sequence[Fraction], g: Sequence[Fraction]) -> Fraction:
    """Stretched area of all demands; of the ways a size may lie the smaller one."""
    least: dict[int, Fraction] = {}
    for index, item in enumerate(frame.items):
        area = f[index] * g[index]
        least[item.size] = min(area, least.get(item.size, area))
    return sum((job.demands[size] * area for size, area in least.items()), Fraction(0))


def stretches(lengths: Sequence[Fraction]) -> list[Stretch]:
    """The identity, u(1) to u(LARGEST_K), and U(eps) for up to MOST_EPS of the lengths at most a half."""
    small = sorted({length for length in lengths if length <= Fraction(1, 2)}, reverse=True)[:MOST_EPS]
    steps = [stepped(k) for k in range(1, LARGEST_K + 1)]
    return [lambda x: x, *steps, *(cut_off(eps) for eps in small)]


def stepped(k: int) -> Stretch:
    """u(k): x where (k + 1) x is whole, else floor((k + 1) x) / k."""

    def stretch(x: Fraction) -> Fraction:
        times = (k + 1) * x
        return x if times.denominator == 1 else Fraction(times.numerator // times.denominator, k)

    return stretch


def cut_off(eps: Fraction) -> Stretch:
    """U(eps): 1 above 1 - eps, 0 below eps, x between."""

    def stretch(x: Fraction) -> Fraction:
        if x > 1 - eps:
            return Fraction(1)
        return Fraction(0) if x < eps else x

    return stretch
