"""Sheet sizes by name."""

from __future__ import annotations

from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import inch, mm

# A sizes: ISO 216. Letter and tabloid: ANSI/ASME Y14.1 sizes A and B. Legal: US trade size.
PAPERS: dict[str, Size] = {
    "a3": Size(mm(297), mm(420)),
    "a4": Size(mm(210), mm(297)),
    "a5": Size(mm(148), mm(210)),
    "letter": Size(inch("8.5"), inch(11)),
    "legal": Size(inch("8.5"), inch(14)),
    "tabloid": Size(inch(11), inch(17)),
}


def paper_named(name: str) -> Size | None:
    """Return the portrait size of a paper, or None for an unknown name; capitals do not matter."""
    return PAPERS.get(name.strip().lower())
