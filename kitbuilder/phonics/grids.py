"""Fluency grids: rows of items to read aloud, laid so that no two neighbours are the same.

Which items a grid holds depends on the seed alone, and only their places on the form: so all forms hold the same items
equally often and are equally difficult, grapheme for grapheme.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain, permutations

from kitbuilder.phonics.ranking import rank

NEW_SHARE = 0.5  # common practice, no source: half new, half review
REVIEW_AT_MOST = 2  # times as often as a new item: our own measure


@dataclass(frozen=True, slots=True)
class Item:
    """Something to read in one cell: a letter, a word, a made-up word; `new` if this unit brings it."""

    text: str
    new: bool
    graphemes: tuple[str, ...] = ()


def fluency_grid(
    items: Sequence[Item], rows: int, columns: int, seed: int, form: int, new_share: float = NEW_SHARE
) -> tuple[tuple[str, ...], ...]:
    """The texts of a grid, row by row.

    No item stands beside, above or below itself, nor, from three columns on, at the end of a row and the beginning of
    the next; none stands twice in one row as long as there are as many different items as columns. Every grapheme of
    the items is covered if the cells suffice. With fewer items than cells each is repeated equally often, give or take
    one, among the new and among the old, and the old at most about twice as often as the new. Raises ValueError for
    fewer than two different items or columns.
    """
    unique = {item.text: item for item in items}
    if len(unique) < 2 or rows < 1 or columns < 2:
        raise ValueError(f"a grid needs two columns and two different items at least, found {columns}, {len(unique)}")
    counts = choose_cells(tuple(unique.values()), rows, columns, seed, new_share)
    if len(counts) < columns:
        return _diagonal(tuple(counts), rows, columns, seed, form)
    grid: list[tuple[str, ...]] = []
    for row in range(rows):
        texts = _row(counts, rows - row, columns, seed, form, row)
        grid.append(_unlike(texts, grid[-1] if grid else (), seed, form, row))
    return tuple(grid)


def choose_cells(items: Sequence[Item], rows: int, columns: int, seed: int, new_share: float) -> Counter[str]:
    """How often each item stands in the grid: as evenly as the share of new items allows, at most once a row."""
    covering, rest = _covering(items, seed)
    new = [item.text for item in (*covering, *rest) if item.new]
    old = [item.text for item in (*covering, *rest) if not item.new]
    cells, most = rows * columns, rows if len(items) >= columns else rows * columns
    needed_new = sum(item.new for item in covering)
    # The share gives way to covering every grapheme, and both to the items there are, each at most once a row.
    wanted_new = min(max(round(cells * new_share), needed_new), cells - (len(covering) - needed_new))
    # Where few are reviewed, half the grid would be three words: none of them more than twice as often as a new one.
    fair = -(-cells * len(new) // (len(new) + REVIEW_AT_MOST * len(old)))
    wanted_new = max(wanted_new, min(fair, cells - len(old)))
    wanted_new = max(min(wanted_new, most * len(new)), cells - most * len(old), 0)
    counts = _even(new, wanted_new)
    counts.update(_even(old, cells - wanted_new))
    return counts


def _even(texts: Sequence[str], cells: int) -> Counter[str]:
    """The cells dealt out to the texts in turn, so that none gets two more than another."""
    counts: Counter[str] = Counter()
    if texts:
        each, over = divmod(cells, len(texts))
        for index, text in enumerate(texts):
            if each + (index < over):
                counts[text] = each + (index < over)
    return counts


def _covering(items: Sequence[Item], seed: int) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """The items that together hold every grapheme, chosen greedily, and all the others."""
    waiting = sorted(items, key=lambda item: (rank(seed, 0, "grid", "", item.text), item.text))
    covered: set[str] = set()
    order: list[Item] = []
    wanted = {grapheme for item in items for grapheme in item.graphemes}
    while covered < wanted:
        best = max(waiting, key=lambda item: len(set(item.graphemes) - covered))
        covered.update(best.graphemes)
        waiting.remove(best)
        order.append(best)
    return tuple(order), tuple(waiting)


def _row(counts: Counter[str], rows_left: int, columns: int, seed: int, form: int, row: int) -> tuple[str, ...]:
    """The different items of one row; taken out of the counts."""
    # An item that must still stand in every row left cannot wait; that keeps the last rows possible.
    waiting = [text for text, count in counts.items() if count]
    waiting.sort(key=lambda text: (counts[text] < rows_left, rank(seed, form, f"grid row {row}", "", text), text))
    chosen = tuple(waiting[:columns])
    counts.subtract(chosen)
    return chosen


def _unlike(texts: Sequence[str], above: Sequence[str], seed: int, form: int, row: int) -> tuple[str, ...]:
    """The texts of a row in an order in which none stands below itself, nor first after it was last."""
    order = sorted(texts, key=lambda text: (rank(seed, form, f"grid place {row}", "", text), text))
    if not above:
        return tuple(order)
    # at most 6! orders, and one of the first nearly always fits
    unlike = (p for p in permutations(order) if all(a != b for a, b in zip(p, above, strict=True)))
    first = next(unlike)
    return next((p for p in chain((first,), unlike) if p[0] != above[-1]), first)


def _diagonal(texts: Sequence[str], rows: int, columns: int, seed: int, form: int) -> tuple[tuple[str, ...], ...]:
    """A grid of fewer items than columns: they run on diagonally, so that neighbours differ all the same."""
    order = sorted(texts, key=lambda text: (rank(seed, form, "grid few", "", text), text))
    return tuple(tuple(order[(row + column) % len(order)] for column in range(columns)) for row in range(rows))
