"""The usual cautions, and when each is due.

All of them are common practice, no source, save where a rule is named. None is legal advice.
"""

from __future__ import annotations

from collections.abc import Iterable

from kitbuilder.imposition.flats import Flat
from kitbuilder.model.press import Press

# 16 CFR 1501.4: the test cylinder is 31.75 mm across and 57.15 mm at its deepest. The advice adds 6.25 mm to both.
SMALL_SIDE_UM, SMALL_LENGTH_UM = 38_000, 63_400

BLADE = (
    "A blade is a grown-up's job. Children stay away from the table, fingers stay behind the guard, "
    "and the blade is locked before you put the trimmer down."
)
STAPLES = (
    "A grown-up staples. Feel that both legs of every staple lie flat inside the fold; pick up the ones that fell. "
    "For a child under three sew or tape the fold instead."
)
SCISSORS = "Scissors: let a child cut only if it does so safely already, sitting down, with you beside it."
LAMINATOR = (
    "A laminator is hot: a grown-up's job, out of children's reach until it is cold. Let ink dry for a day first. "
    "Leave a rim of 3 mm round each card and round off sharp corners."
)
SMALL_PARTS = (
    "Pieces smaller than 38 mm fit into a small child's throat (US rule 16 CFR 1501.4). Keep them away from children "
    "under three, and count them back into the box."
)
COATED = (
    "Laminated or magnetic pieces are no longer plain paper: keep small ones away from children under three, "
    "and throw away any that peel or split."
)
# 16 CFR 1262 sets limits for loose magnets; a whole magnetic sheet keeps clear of them.
MAGNETS = (
    "Use whole magnetic sheet, never small loose magnets. "
    "A child who may have swallowed magnets needs a doctor at once."
)
BY_NAME = {"small-parts": SMALL_PARTS, "staples": STAPLES, "scissors": SCISSORS, "magnets": MAGNETS}  # for kinds
FOOTING = (
    "Minutes are estimates: time yourself once and write your own into press.yaml. The instructions of your tools "
    "and the rules where you live come before anything said here."
)


def small_parts(flats: Iterable[Flat]) -> bool:
    """Tell whether some piece could fit the small-parts cylinder, by a margin; folded ones are held as booklets."""
    for flat in flats:
        short, long = sorted((flat.width_um, flat.height_um))
        if not flat.folded and short < SMALL_SIDE_UM and long < SMALL_LENGTH_UM:
            return True
    return False


def piece_cautions(
    flats: Iterable[Flat], press: Press, *, laminated: bool, named: Iterable[str] = ()
) -> tuple[str, ...]:
    """Return what is to be said when the pieces come to where children are, each caution once.

    named: cautions that kinds ask for, by name.
    """
    pieces = tuple(flats)
    magnetic = bool({str(s.name) for s in press.stocks if s.kind == "magnetic"} & {f.stock for f in pieces})
    due = ((SMALL_PARTS, small_parts(pieces)), (COATED, magnetic or laminated), (MAGNETS, magnetic))
    said = [text for text, is_due in due if is_due]
    return tuple(dict.fromkeys((*said, *(BY_NAME[name] for name in named))))
