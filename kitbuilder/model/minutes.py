"""How long each handling takes, in minutes: what the guide's estimates are made of."""

from __future__ import annotations

from typing import Annotated

from kitbuilder.model.defined import Defined
from kitbuilder.model.field_types import MinutesText

Span = Annotated[float, MinutesText()]


class Minutes(Defined):
    """Minutes for one of each. All are common practice, no source: a family times its own and writes them down."""

    load_tray: Span = 1.0  # put a stock into the printer and choose it
    print_page: Span = 0.1  # one side of one sheet
    reload_backs: Span = 1.5  # take out a stack, turn it, put it back
    check_sheet: Span = 0.5  # look at the first sheet and hold the ruler to it
    square_stack: Span = 0.25  # knock a stack even before it is cut
    set_stop: Span = 0.5  # slide the trimmer's stop to a new measure
    stroke: Span = 0.2  # one pass of the blade, the stack laid in place
    fold: Span = 0.2  # one sheet, one crease
    collate: Span = 0.1  # lay one sheet into its booklet
    staple: Span = 0.1  # one staple
    slit: Span = 0.25  # cut one slit inside a sheet
    laminate: Span = 1.0  # one pouch, in and out
    sort_pile: Span = 0.25  # put one pile where it belongs
    file_envelope: Span = 0.5  # fill one envelope and write on it
