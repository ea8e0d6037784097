"""Divided sheets: whole pages, halves, quarters and eighths whose edges are the sheet's own, exactly."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from kitbuilder.measure.geometry import Rect
from kitbuilder.measure.length import Length
from kitbuilder.packing.problem import Cut

# division -> (parts along the sheet's long side, parts along its short side)
_GRIDS = {1: (1, 1), 2: (2, 1), 4: (2, 2), 8: (4, 2)}
_SLACK_UM = 3  # two pages side by side may be this much narrower than their part of a sheet of odd size


@dataclass(frozen=True, slots=True)
class Place:
    """One place on a divided sheet: the rectangle its flat covers after counter-clockwise quarter turns."""

    area: Rect
    quarter_turns: int


@dataclass(frozen=True, slots=True)
class DividedSheet:
    """The places of a divided sheet, row by row, and the cuts between them."""

    places: tuple[Place, ...]
    cuts: tuple[Cut, ...]


def part_size(division: int, sheet_width_um: int, sheet_height_um: int) -> tuple[int, int]:
    """Return width and height of one part as it lies on the sheet; on an odd sheet, of the smallest part."""
    columns, rows = _columns_rows(division, sheet_width_um, sheet_height_um)
    return sheet_width_um // columns, sheet_height_um // rows


def division_of(width_um: int, height_um: int, sheet_width_um: int, sheet_height_um: int) -> int:
    """Return 1, 2, 4 or 8 when the flat, turned or not, is just that part of the sheet; else 0 (to be packed)."""
    for division in _GRIDS:
        part = part_size(division, sheet_width_um, sheet_height_um)
        if _turns_into(width_um, height_um, part) is not None:
            return division
    return 0


def divide(width_um: int, height_um: int, sheet_width_um: int, sheet_height_um: int, division: int = 0) -> DividedSheet:
    """Return the places and cuts for flats of one size on a sheet; division 0 is found from the sizes.

    The sheet is cut across its long side first. Flats that stand the other way are turned a quarter counter-clockwise.

    Raises:
        ValueError: when the flats are no whole, half, quarter or eighth of the sheet.
    """
    division = division or division_of(width_um, height_um, sheet_width_um, sheet_height_um)
    turns = None
    if division in _GRIDS:
        turns = _turns_into(width_um, height_um, part_size(division, sheet_width_um, sheet_height_um))
    if turns is None:
        raise ValueError(
            f"a flat of {width_um} x {height_um} um is no part of a sheet of {sheet_width_um} x {sheet_height_um} um"
        )
    turned = (height_um, width_um) if turns else (width_um, height_um)
    columns, rows = _columns_rows(division, sheet_width_um, sheet_height_um)
    xs, ys = _edges(sheet_width_um, columns), _edges(sheet_height_um, rows)
    places = tuple(Place(Rect(x, y, *turned), turns) for y in ys[:-1] for x in xs[:-1])
    return DividedSheet(places, _cuts(xs, ys, across_first=sheet_height_um >= sheet_width_um))


def _columns_rows(division: int, sheet_width_um: int, sheet_height_um: int) -> tuple[int, int]:
    along_long, along_short = _GRIDS[division]
    portrait = sheet_height_um >= sheet_width_um
    return (along_short, along_long) if portrait else (along_long, along_short)


def _turns_into(width_um: int, height_um: int, part: tuple[int, int]) -> int | None:
    """Return the quarter turns (0 or 1) that make a flat fill the part, or None."""
    for turns, (w, h) in enumerate(((width_um, height_um), (height_um, width_um))):
        if 0 <= part[0] - w <= _SLACK_UM and 0 <= part[1] - h <= _SLACK_UM:
            return turns
    return None


def _edges(length_um: int, parts: int) -> tuple[int, ...]:
    edges = [0]
    for part in Length(length_um).split(parts):
        edges.append(edges[-1] + part.um)
    return tuple(edges)


def _cuts(xs: tuple[int, ...], ys: tuple[int, ...], *, across_first: bool) -> tuple[Cut, ...]:
    """Return full cuts across the long side, then, in each strip, the cuts the other way."""
    first: Literal["x", "y"] = "y" if across_first else "x"
    second: Literal["x", "y"] = "x" if across_first else "y"
    first_at, second_at = (ys, xs) if across_first else (xs, ys)
    cuts = [Cut(first, at, 0, second_at[-1], 1) for at in first_at[1:-1]]
    for start, end in pairwise(first_at):
        cuts += [Cut(second, at, start, end, 2) for at in second_at[1:-1]]
    return tuple(cuts)
