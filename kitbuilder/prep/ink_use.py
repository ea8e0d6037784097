"""How much ink a file takes, in the pages that cartridges are rated with."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class InkUse:
    """Ink as multiples of a standard page, 5 % of it covered. `estimated`: not every page was measured."""

    standard_pages: float
    estimated: bool = False
