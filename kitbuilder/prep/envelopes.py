"""The smallest usual envelope that holds what goes into it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.measure.length import UM_PER_INCH
from kitbuilder.prep.folding import booklets_of

BookletPages = Mapping[str, tuple[int, int]]  # by piece id
_PLAY_UM = 3_000  # so that a stack of pages slides in


@dataclass(frozen=True, slots=True)
class Envelope:
    """A size to buy. `folded`: whole pages are folded once to go in."""

    name: str
    short_um: int
    long_um: int
    folded: bool = False


# C sizes: ISO 269 and the C series of ISO 216. Inch sizes: US trade (from memory).
_METRIC = (
    Envelope("C6 (114 × 162 mm)", 114_000, 162_000),
    Envelope("C5 (162 × 229 mm)", 162_000, 229_000),
    Envelope("C4 (229 × 324 mm)", 229_000, 324_000),
)
_INCH = (
    Envelope("No. 10 (4 1/8 × 9 1/2 in)", UM_PER_INCH * 33 // 8, UM_PER_INCH * 19 // 2),
    Envelope("6 × 9 in", 6 * UM_PER_INCH, 9 * UM_PER_INCH),
    Envelope("9 × 12 in", 9 * UM_PER_INCH, 12 * UM_PER_INCH),
)
_LARGE = Envelope("a large envelope or a folder", 10_000_000, 10_000_000)


def booklet_pages(plan: PackPlan) -> BookletPages:
    """Return width and height of one page of each booklet of a plan."""
    return {b.piece_id: b.page_um for b in booklets_of(plan)}


def envelope_for(flats: Sequence[Flat], pages: BookletPages, *, inches: bool) -> Envelope:
    """Return the envelope for these flats: booklets closed, whole pages folded once."""
    sizes, folded = [], False
    for flat in flats:
        width, height = pages.get(flat.piece_id, (flat.width_um, flat.height_um))
        short, long = sorted((width, height))
        if flat.division == 1 and flat.piece_id not in pages:
            short, long = sorted((short, long // 2))
            folded = True
        sizes.append((short + _PLAY_UM, long + _PLAY_UM))
    for envelope in _INCH if inches else _METRIC:
        if all(short <= envelope.short_um and long <= envelope.long_um for short, long in sizes):
            return Envelope(envelope.name, envelope.short_um, envelope.long_um, folded)
    return _LARGE
