"""Where sheets are printed and cut: paper, printer, trimmer and stocks, in plain numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.measure.geometry import Insets, Rect


@dataclass(frozen=True, slots=True)
class StockPlan:
    """What ganging must know of a stock: how it is printed on both sides, how many sheets are cut together.

    `labels` are the places of ready-cut labels on their sheet.
    """

    name: str
    two_sided: TwoSided
    stack: int
    labels: tuple[Rect, ...] = ()


@dataclass(frozen=True, slots=True)
class Workplace:
    """Sheet, printer and trimmer, in the plain numbers that layouts need."""

    paper: str
    width_um: int
    height_um: int
    edges: Insets
    blade_um: int
    stocks: Mapping[str, StockPlan]
    spares: bool = True
    few_strokes: bool = False  # spend sheets where that saves the most strokes for each
    seed: int = 1
    by_hand_axis: TwoSided = TwoSided.LONG
