"""Which flat lies in which place of which sheet, so that every pile off the trimmer is a set or a run of sets in order.

A pile is what one place (slot) of a layout yields through all its copies: sheet 1 on top, stacks cut one after the
other and each laid under the one before. So a pile of depth n holds the n flats at that place of copies 1 to n.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from kitbuilder.imposition.cut_plan import letters
from kitbuilder.packing.problem import Layout, Solution


class TooFewPlacesError(ValueError):
    """More flats of a size than the solution has slots for; `size` is the index into Problem.parts."""

    def __init__(self, size: int, flats: int, slots: int) -> None:
        super().__init__(f"{flats} flats of size {size} for {slots} places")
        self.size, self.flats, self.slots = size, flats, slots


@dataclass(frozen=True, slots=True)
class FlatRecord:
    """A flat to place: its key, its size (index into Problem.parts), set, colour group, place in the order, sides."""

    key: str
    size: int
    set_id: str
    colour: str
    order: int
    two_sided: bool = False


@dataclass(frozen=True, slots=True)
class PileOrder:
    """A pile from top to bottom: keys by depth from 1, None where the place stays blank; the sets it holds in order.

    `name` is the layout's letter and the slot's number in reading order ("A1"); `slot` the index into Layout.slots.
    """

    name: str
    layout: int
    slot: int
    keys: tuple[str | None, ...]
    holds: tuple[str, ...]

    @property
    def depth(self) -> int:
        """Flats in the pile, blanks included."""
        return len(self.keys)


@dataclass(frozen=True, slots=True)
class SheetOrder:
    """One printed sheet: its layout, copy (from 1), stack and place in the stack (from 1), and a key for each slot."""

    layout: int
    letter: str
    copy: int
    stack: int
    position_in_stack: int
    keys: tuple[str | None, ...]


@dataclass(frozen=True, slots=True)
class StackOrder:
    """Sheets in printing order and piles in set order."""

    sheets: tuple[SheetOrder, ...]
    piles: tuple[PileOrder, ...]


@dataclass(frozen=True, slots=True)
class _Place:
    layout: int
    slot: int
    number: int
    depth: int


def order_stacks(
    records: tuple[FlatRecord, ...],
    solution: Solution,
    stack: int,
    first_letter: int = 0,
    backed: int | None = None,
) -> StackOrder:
    """Return which flat lies where, for stacks of at most `stack` sheets; `first_letter` 0 names layouts from A.

    Flats of a size keep their order; a set gets piles of its own where depths and blank places allow it. In a layout,
    piles of one colour lie side by side where they can. `backed`: two-sided flats lie in that many first layouts; None
    puts them anywhere. Raises TooFewPlacesError.
    """
    keys: dict[tuple[int, int], list[FlatRecord | None]] = {}
    places = places_by_size(solution.layouts)
    by_size: dict[int, list[FlatRecord]] = defaultdict(list)
    for record in sorted(records, key=lambda r: (r.size, r.order, r.key)):
        by_size[record.size].append(record)
    for size, flats in by_size.items():
        room = sum(place.depth for place in places.get(size, []))
        if len(flats) > room:
            raise TooFewPlacesError(size, len(flats), room)
        filled = fill(flats, places[size]) if backed is None else fill_apart(flats, places[size], backed)
        for place, column in by_colour(filled):
            keys[place.layout, place.slot] = column
    return StackOrder(
        tuple(sheet_orders(solution.layouts, keys, stack, first_letter)),
        tuple(pile_orders(solution.layouts, keys, first_letter)),
    )


def reading_order(layout: Layout) -> list[int]:
    """Slot indices from top to bottom, then from left to right."""
    return sorted(range(len(layout.slots)), key=lambda i: (layout.slots[i].y_um, layout.slots[i].x_um))


def places_by_size(layouts: Sequence[Layout]) -> dict[int, list[_Place]]:
    """Places of each size, layout by layout in reading order."""
    places: dict[int, list[_Place]] = defaultdict(list)
    for index, layout in enumerate(layouts):
        for number, slot in enumerate(reading_order(layout), 1):
            places[layout.slots[slot].part].append(_Place(index, slot, number, layout.copies))
    return places


def fill(flats: Sequence[FlatRecord], places: Sequence[_Place]) -> list[tuple[_Place, list[FlatRecord | None]]]:
    """A column of flats for each place, in set order.

    Set by set: a place exactly as deep as what is left of the set, else the deepest that is not deeper, else the least
    deep one that is; what stays free there is left blank while there are blanks to spare, else the next set goes on.
    """
    free = list(places)
    spare = sum(place.depth for place in places) - len(flats)
    sets = [list(group) for _, group in groupby(flats, key=lambda flat: flat.set_id)]
    filled: list[tuple[_Place, list[FlatRecord | None]]] = []
    rest: list[FlatRecord] = []
    for group in sets:
        rest += group
        while rest and free:
            place = min(free, key=lambda p: (p.depth != len(rest), p.depth > len(rest), distance(p, len(rest))))
            short = place.depth - len(rest)
            if short > spare:
                break  # the next set continues this pile
            free.remove(place)
            column: list[FlatRecord | None] = [*rest[: place.depth], *[None] * max(0, short)]
            rest = rest[place.depth :]
            spare -= max(0, short)
            filled.append((place, column))
    assert not rest  # places were counted before
    filled.extend((place, list[FlatRecord | None]([None] * place.depth)) for place in free)
    return filled


def fill_apart(
    flats: Sequence[FlatRecord], places: Sequence[_Place], backed: int
) -> list[tuple[_Place, list[FlatRecord | None]]]:
    """A column of flats for each place, two-sided ones in the first `backed` layouts, one-sided ones in what is left.

    One-sided flats come between two-sided ones only where there is no other place for them.
    """
    double = [flat for flat in flats if flat.two_sided]
    single = [flat for flat in flats if not flat.two_sided]
    if not double:
        return fill(flats, places)
    columns = fill(double, [place for place in places if place.layout < backed])
    used = [(place, column) for place, column in columns if any(column)]
    held = {place for place, _ in used}
    free = [place for place in places if place not in held]
    over = max(0, len(single) - sum(place.depth for place in free))
    between = single[len(single) - over :]
    filled = fill(single[: len(single) - over], free)
    for place, column in used:
        kept: list[FlatRecord] = [flat for flat in column if flat is not None]
        more, between = between[: place.depth - len(kept)], between[place.depth - len(kept) :]
        kept = sorted([*kept, *more], key=lambda flat: (flat.order, flat.key))
        filled.append((place, [*kept, *[None] * (place.depth - len(kept))]))
    return filled


def distance(place: _Place, wanted: int) -> tuple[int, int, int]:
    """How far a place's depth is from what is wanted, earlier places first."""
    return abs(place.depth - wanted), place.layout, place.number


def by_colour(
    filled: Sequence[tuple[_Place, list[FlatRecord | None]]],
) -> list[tuple[_Place, list[FlatRecord | None]]]:
    """The same columns in places of the same layout, columns of one colour next to each other, blanks last."""
    answer = []
    for _, group in groupby(sorted(filled, key=lambda pair: pair[0].layout), key=lambda pair: pair[0].layout):
        pairs = list(group)
        first_seen: dict[str, int] = {}
        for _, column in sorted(pairs, key=lambda pair: first_order(pair[1])):
            first_seen.setdefault(main_colour(column), len(first_seen))
        columns = sorted(
            (column for _, column in pairs),
            key=lambda column: (first_seen[main_colour(column)], first_order(column)),
        )
        spots = sorted((place for place, _ in pairs), key=lambda place: place.number)
        answer += list(zip(spots, columns, strict=True))
    return answer


def first_order(column: Sequence[FlatRecord | None]) -> tuple[bool, int, str]:
    """Sort key: the column's first flat, blank columns last."""
    first = next((flat for flat in column if flat is not None), None)
    return (True, 0, "") if first is None else (False, first.order, first.key)


def main_colour(column: Sequence[FlatRecord | None]) -> str:
    """The colour most flats of a column have, "" for a blank one."""
    colours = [flat.colour for flat in column if flat is not None]
    return max(sorted(set(colours)), key=colours.count, default="")


def sheet_orders(
    layouts: Sequence[Layout], keys: dict[tuple[int, int], list[FlatRecord | None]], stack: int, first_letter: int
) -> list[SheetOrder]:
    """Every copy of every layout with the key at each slot."""
    sheets = []
    for index, layout in enumerate(layouts):
        for copy in range(layout.copies):
            row = [keys.get((index, slot)) for slot in range(len(layout.slots))]
            on_sheet = tuple(key_of(column[copy] if column else None) for column in row)
            place = copy // stack + 1, copy % stack + 1
            sheets.append(SheetOrder(index, letters(first_letter + index), copy + 1, *place, on_sheet))
    return sheets


def pile_orders(
    layouts: Sequence[Layout], keys: dict[tuple[int, int], list[FlatRecord | None]], first_letter: int
) -> list[PileOrder]:
    """Every pile, those that begin with the earliest flat first, blank ones last."""
    piles = []
    for index, layout in enumerate(layouts):
        for number, slot in enumerate(reading_order(layout), 1):
            column = keys.get((index, slot)) or [None] * layout.copies
            holds = dict.fromkeys(flat.set_id for flat in column if flat is not None)
            name = f"{letters(first_letter + index)}{number}"
            pile = PileOrder(name, index, slot, tuple(key_of(flat) for flat in column), tuple(holds))
            piles.append((first_order(column), index, number, pile))
    return [pile for *_, pile in sorted(piles, key=lambda entry: entry[:3])]


def key_of(flat: FlatRecord | None) -> str | None:
    """The flat's key, None for a blank."""
    return None if flat is None else flat.key
