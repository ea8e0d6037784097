"""How far pages move toward the spine because the sheets outside them have thickness."""

from __future__ import annotations


def creep_shift_um(sheet: int, caliper_um: int, cover_caliper_um: int | None = None) -> int:
    """Return the shift toward the spine for sheet 1 (outermost), 2, ... of a nest: (sheet - 1) times the caliper.

    Each fold is wrapped round the ones inside it: by one caliper where the crease is flat, by pi/2 calipers where it is
    round. A hand-pressed crease is flat. A cover of another stock counts with its own caliper. Derived, not published.

    Raises:
        ValueError: for a sheet before the first or a negative caliper.
    """
    cover_um = caliper_um if cover_caliper_um is None else cover_caliper_um
    if sheet < 1 or caliper_um < 0 or cover_um < 0:
        raise ValueError(f"no creep for sheet {sheet} of caliper {caliper_um} um under a cover of {cover_um} um")
    return 0 if sheet == 1 else cover_um + (sheet - 2) * caliper_um
