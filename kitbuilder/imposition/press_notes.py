"""What a parent has to know about a pack beyond its sheets: risks of printer and paper, how things are made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from kitbuilder.artwork.piece import Piece
from kitbuilder.imposition.sheets import Run, TwoSided
from kitbuilder.imposition.signatures import section_note, side_note, staple_limit_sheets
from kitbuilder.model.press import Press
from kitbuilder.model.stock import BY_HAND_ABOVE_GSM, CAUTIONS

RIM_UM = 3_000  # of film round a laminated piece; common practice, no source

# Common practice, no source. The rim keeps the film closed all round; two rims and a little room for the scissors.
LAMINATING = (
    f"Laminate after cutting: let the ink dry first (inkjet: overnight), lay the pieces {2 * RIM_UM // 1000 + 2} mm "
    f"apart in the pouch, and cut them out {RIM_UM // 1000} mm outside their edges, so that the film stays closed "
    "all round. Round the corners.",
    "The laminator is hot and draws things in: an adult works it, and the pouches cool down before anybody takes them. "
    "Film that comes off can be swallowed: take away pieces whose rim has opened.",
)


def warnings_of(runs: Sequence[Run], press: Press) -> tuple[str, ...]:
    """Return what may go wrong at this printer, each with a remedy."""
    return tuple(dict.fromkeys(_too_heavy(runs, press)))


def _too_heavy(runs: Sequence[Run], press: Press) -> Iterator[str]:
    for run in runs:
        stock = press.stock(run.setup.stock)
        turned_by_itself = run.setup.two_sided in (TwoSided.LONG, TwoSided.SHORT)
        if stock and turned_by_itself and stock.weight_gsm > BY_HAND_ABOVE_GSM:
            yield (
                f"{stock.name} ({stock.weight_gsm} g/m2) is to be turned over by the printer itself; most printers "
                f"do that up to {BY_HAND_ABOVE_GSM} g/m2 and jam on more. By hand it works: write two-sided: by-hand "
                f"below {stock.name} in press.yaml, then fronts and backs are two files and the guide shows the reload."
            )


def notes_of(runs: Sequence[Run], pieces: Iterable[Piece], press: Press) -> tuple[str, ...]:
    """Return how to make what is not only printed and cut: sections, labels, films, what is folded, glued, stapled.

    `pieces` are asked for the sections of thick booklets only.
    """
    kinds = {stock.kind for run in runs if (stock := press.stock(run.setup.stock))}
    notes = [note for kind in sorted(kinds) for note in CAUTIONS.get(kind, ())]
    if any(layout.ready_cut for run in runs for layout in run.layouts):
        notes.append(
            "Labels are cut by their maker: nothing is trimmed. Try one sheet on plain paper first and hold it against "
            "a label sheet before a window."
        )
    flats = [p.flat for run in runs for sheet in run.sheets for p in sheet.placements]
    if any(flat.laminate for flat in flats):
        notes += LAMINATING
    notes += _sections(pieces, press)
    made = sorted({(flat.unit, flat.kind, flat.make) for flat in flats if flat.make})
    notes += [make for _, _, make in made]  # the same sentence is said once
    return tuple(dict.fromkeys(notes))


def _sections(pieces: Iterable[Piece], press: Press) -> Iterator[str]:
    for piece in pieces:
        stock = press.stock(piece.stock)
        if stock is not None:
            limit = staple_limit_sheets(stock.caliper_um)
            note = section_note(piece, limit) or side_note(piece, stock.caliper_um)
            if note:
                yield f"{piece.title}: {note}"
