"""Reprints on offcuts: which flats go on which of the sheets at hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from kitbuilder.diagnostics import stop
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.ganging import gang, named_layouts
from kitbuilder.imposition.packed_sheets import cutting_area
from kitbuilder.imposition.place import Workplace
from kitbuilder.imposition.sheets import Run, TwoSided
from kitbuilder.measure.geometry import Size
from kitbuilder.packing.problem import PackingError


def gang_on_offcuts(flats: Sequence[Flat], place: Workplace, offcuts: Sequence[Size]) -> tuple[Run, ...]:
    """Return one run for each offcut used, smallest that holds the rest first, else the one that holds most.

    Raises:
        ProblemsFound: when the offcuts do not hold all flats; says how many are left over.
    """
    left = [replace(flat, division=0) for flat in flats]
    # short edge first into the printer: on a page that stands, "top edge first" means the same to everyone
    standing = [size if size.height >= size.width else size.turned() for size in offcuts]
    free = sorted(standing, key=lambda s: (s.width.um * s.height.um, s.width.um))
    runs: list[Run] = []
    while left and free:
        held = [(_that_fit(left, place, size), size) for size in free]
        whole = [pair for pair in held if len(pair[0]) == len(left)]
        chosen, size = whole[0] if whole else max(held, key=lambda pair: len(pair[0]))
        if not chosen:
            break
        runs += gang(chosen, _on(place, size))
        left = left[len(chosen) :]
        free.remove(size)
    if left:
        raise stop(
            f"{len(left)} of {len(flats)} pieces {'finds' if len(left) == 1 else 'find'} no place on the sheets given "
            "with --sheet",
            "offcuts-too-small",
            f"the next one, {left[0].piece_id}, is {left[0].width_um / 1000:g} x {left[0].height_um / 1000:g} mm; "
            "its ink must stay clear of what the printer cannot reach. Give a larger --sheet, or none: a full sheet",
        )
    return _renumbered(runs)


def _on(place: Workplace, size: Size) -> Workplace:
    name = f"{size.width.to_mm():g} x {size.height.to_mm():g} mm"
    # labels lie where they are on their own sheet only: on another one their stock is paper like any other
    stocks = {key: replace(stock, labels=()) for key, stock in place.stocks.items()}
    return replace(place, paper=name, width_um=size.width.um, height_um=size.height.um, spares=False, stocks=stocks)


def _that_fit(flats: Sequence[Flat], place: Workplace, size: Size) -> list[Flat]:
    """Return the longest beginning of the flats that one sheet of this size holds: one stock, found by halving."""
    same = 0
    while same < len(flats) and flats[same].stock == flats[0].stock:
        same += 1
    low, high = 0, same
    while low < high:
        middle = (low + high + 1) // 2
        if _fits(flats[:middle], _on(place, size)):
            low = middle
        else:
            high = middle - 1
    return list(flats[:low])


def _fits(flats: Sequence[Flat], place: Workplace) -> bool:
    area = cutting_area(flats, place, TwoSided.LONG)
    if area.width_um <= 0 or area.height_um <= 0:
        return False
    try:
        runs = gang(flats, place)
    except PackingError:
        return False
    return len(runs) == 1 and len(runs[0].sheets) == 1


def _renumbered(runs: list[Run]) -> tuple[Run, ...]:
    return tuple(named_layouts(runs))
