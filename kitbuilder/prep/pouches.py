"""How many laminating pouches pieces take."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.press_notes import RIM_UM

# Pouches are 3 mm larger than the page on every side (common practice, no source).
_A4 = (216_000, 303_000)
_LETTER = (228_600, 292_100)  # 9 x 11 1/2 in


def pouches_for(flats: Iterable[Flat], *, inches: bool) -> tuple[int, str]:
    """Return how many pouches the flats take when laid in rows, size by size, and the pouch's name."""
    width, height = _LETTER if inches else _A4
    name = "Letter size" if inches else "A4"
    sizes = Counter(tuple(sorted((f.width_um, f.height_um))) for f in flats)
    total = 0.0
    for (short, long), count in sizes.items():
        a, b = short + 2 * RIM_UM, long + 2 * RIM_UM
        each = max((width // a) * (height // b), (width // b) * (height // a))
        if each:
            total += count / each
    return (int(total) + (total > int(total)), name)
