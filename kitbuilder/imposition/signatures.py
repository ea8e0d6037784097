"""Pieces to flats: booklets folded and nested, single leaves stapled at the side, one sheet with one slit.

Page order of a folded sheet (k from 1, outermost first, n pages): outside n - 2(k-1) | 2k - 1, inside 2k | n - 2k + 1;
for 8 pages 8 1 / 2 7 and 6 3 / 4 5. Bound on the right, each pair changes places.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from kitbuilder.artwork.frame import Frame, Group, Item, Line
from kitbuilder.artwork.piece import Making, Page, Piece
from kitbuilder.imposition.creep import creep_shift_um
from kitbuilder.imposition.division import division_of
from kitbuilder.imposition.flats import Flat, FoldedPage

FEWEST_PAGES, MOST_PAGES = 4, 48
SLIT_PAGES = 8
PLAIN_CALIPER_UM = 100  # 80 g/m2, in which staplers are rated
FOLDED_SHEETS, SIDE_SHEETS = 10, 20  # of it: half a desk stapler's rating in the fold, the whole of it at the side
LEAST_STAPLE_MARGIN_UM = 12_000  # of side-stapled leaves; common practice, no source
_GREY = "#b0b0b0"
_DARK = "#707070"
_HAIR_UM = 200
_TICK_UM = 3_000
_STAPLE_UM = 8_000  # shorter than the crown of an ordinary staple, about 13 mm (from memory), which then hides the mark
_SIDE_STAPLE_UM = 4_000  # from the edge of the text to a side staple: 8 to 11 mm from the bound edge


def pad_pages(count: int) -> int:
    """Return the number of pages of the folded booklet that holds `count` pages: the next multiple of four.

    Raises:
        ValueError: with a sentence, for fewer than 1 or more than 48 pages.
    """
    if not 1 <= count <= MOST_PAGES:
        raise ValueError(f"a folded booklet has {FEWEST_PAGES} to {MOST_PAGES} pages, not {count}")
    return -(-count // 4) * 4


def padding_plan(roles: Sequence[str]) -> tuple[int | None, ...]:
    """Return the order of pages with blanks (None) where a reader expects them, to a multiple of four.

    With a front cover: inside it; with a back cover: inside that too; without one the outside of the back comes first.
    Roles starting with "back" are back covers, "cover" is the front. Pages without covers are followed by the blanks.
    """
    plan: list[int | None] = list(range(len(roles)))
    blanks = pad_pages(len(roles)) - len(roles)
    has_front = roles[0] == "cover"
    has_back = len(roles) > 1 and roles[-1].startswith("back")
    if has_front and blanks and (has_back or blanks > 1):
        plan.insert(1, None)
        blanks -= 1
    at = len(plan) - 1 if has_back else len(plan)
    return tuple(plan[:at] + [None] * blanks + plan[at:])


def sections(pages: int, staple_limit_sheets: int) -> tuple[int, ...]:
    """Return how many folded sheets each section has: as few sections as the stapler closes, as even as can be.

    Raises:
        ValueError: when the pages are no multiple of four, or the stapler closes nothing.
    """
    if pages <= 0 or pages % 4 or staple_limit_sheets < 1:
        raise ValueError(f"no sections for {pages} pages and a stapler that closes {staple_limit_sheets} sheets")
    sheets = pages // 4
    count = -(-sheets // staple_limit_sheets)
    each, rest = divmod(sheets, count)
    return tuple(each + (1 if i < rest else 0) for i in range(count))


def staple_limit_sheets(caliper_um: int) -> int:
    """Return how many folded sheets of a stock an ordinary stapler closes: 10 of 80 g/m2, fewer of a thicker one.

    Half of a desk stapler's rating of 20 sheets (several stationery guides): the fold springs open (common practice).
    """
    return max(1, FOLDED_SHEETS * PLAIN_CALIPER_UM // caliper_um)


def side_note(piece: Piece, caliper_um: int) -> str:
    """Return what to do with a side-stapled booklet too thick for a desk stapler; empty for the others."""
    most = max(1, SIDE_SHEETS * PLAIN_CALIPER_UM // caliper_um)
    if piece.making is not Making.SIDE or len(piece.pages) <= most:
        return ""
    return (
        f"{len(piece.pages)} leaves are more than a desk stapler closes (it takes about {most}). Staple them in parts "
        f"of at most {most} leaves and tape the parts together along the edge, or sew them."
    )


def section_note(piece: Piece, staple_limit_sheets: int) -> str:
    """Return the sentences about sections for the guide; empty when one staple closes the booklet."""
    if piece.making is not Making.SADDLE:
        return ""
    pages = pad_pages(len(piece.pages))
    parts, wrapped = _section_sheets(pages, staple_limit_sheets, bool(piece.cover_stock))
    too_thick = f"{pages} pages are too thick for one staple (it closes {staple_limit_sheets} folded sheets). "
    if len(parts) == 1:
        glue = f"Fold and staple the {parts[0]} inner sheets, then glue their outer pages into the folded cover."
        return too_thick + glue if wrapped else ""
    sizes = " and ".join(", ".join(str(size) for size in parts).rsplit(", ", 1))
    make = f"Make {len(parts)} sections of {sizes} sheets: fold and staple each one, lay them on one another in order, "
    if wrapped:
        return too_thick + make + "join them with a strip of tape along the spine and glue the cover round them."
    return too_thick + make + "and join them with a strip of tape along the spine."


def fold_piece(
    piece: Piece,
    sheet_width_um: int,
    sheet_height_um: int,
    caliper_um: int = 100,
    staple_limit_sheets: int = 10,
    cover_caliper_um: int | None = None,
) -> tuple[Flat, ...]:
    """Return the flats a piece is made from, outermost folded sheet first, or leaves in reading order.

    `caliper_um` is one sheet of the piece's stock, `cover_caliper_um` of its cover stock. A flat's division is found
    from its size and the sheet's. Folded booklets that are no multiple of four pages are padded by `padding_plan`.

    Raises:
        ValueError: when a page is not of the piece's trim size, or the number of pages cannot be made.
    """
    for page in piece.pages:
        if (page.frame.width_um, page.frame.height_um) != _trim(piece):
            raise ValueError(
                f"{piece.id}: page of {page.frame.width_um} x {page.frame.height_um} um, not the trim size"
            )
    if piece.making is Making.SADDLE:
        return _saddle(piece, (sheet_width_um, sheet_height_um), caliper_um, staple_limit_sheets, cover_caliper_um)
    if piece.making is Making.SIDE:
        return _side(piece, (sheet_width_um, sheet_height_um))
    if piece.making is Making.SLIT:
        return (fold_slit(piece, sheet_width_um, sheet_height_um),)
    back = piece.pages[1].frame if len(piece.pages) == 2 else None
    return (replace(_flat(piece, piece.pages[0].frame, back, 1, 1), may_turn=piece.may_turn),)


def fold_slit(piece: Piece, sheet_width_um: int, sheet_height_um: int) -> Flat:
    """Return the one flat of an eight-page booklet: four pages wide, two high, the upper row upside down.

    Lower row 6 7 8 1, upper row 5 4 3 2 (mirrored when bound on the right). The slit runs along the middle of the two
    inner columns; heads meet at the long fold.

    Raises:
        ValueError: for other than eight pages, or pages that are no eighth of the sheet.
    """
    if len(piece.pages) != SLIT_PAGES:
        raise ValueError(f"{piece.id}: a booklet folded from one sheet with a slit has 8 pages, not {len(piece.pages)}")
    width, height = _trim(piece)
    if division_of(4 * width, 2 * height, sheet_width_um, sheet_height_um) != 1:
        raise ValueError(f"{piece.id}: eight pages of {width} x {height} um do not make the sheet")
    upper, lower = (5, 4, 3, 2), (6, 7, 8, 1)
    if piece.binding == "right":
        upper, lower = upper[::-1], lower[::-1]
    folded = tuple(
        FoldedPage(number, "front", column * width, row * height, width, height, turns)
        for row, turns, numbers in ((0, 2, upper), (1, 0, lower))
        for column, number in enumerate(numbers)
    )
    groups = tuple(Group(p.x_um, p.y_um, p.quarter_turns, piece.pages[p.page - 1].frame) for p in folded)
    frame = Frame(4 * width, 2 * height, groups + _slit_marks(piece), "slit booklet")
    return replace(_flat(piece, frame, None, 1, 1), division=1, folded=folded)


@dataclass(frozen=True, slots=True)
class _Fold:
    """One folded sheet: its pages as printed outside and inside, left to right, and what goes on it."""

    outside: tuple[int, int]
    inside: tuple[int, int]
    shift_um: int
    staples: bool
    stock: str


def _saddle(
    piece: Piece, sheet: tuple[int, int], caliper_um: int, staple_limit: int, cover_caliper_um: int | None
) -> tuple[Flat, ...]:
    if piece.binding not in ("left", "right"):
        raise ValueError(f"{piece.id}: a folded booklet is bound on the left or the right, not '{piece.binding}'")
    width, height = _trim(piece)
    pages = _padded(piece)
    folds = _folds(piece, len(pages), caliper_um, staple_limit, cover_caliper_um)
    division = division_of(2 * width, height, *sheet)
    flats = []
    for number, fold in enumerate(folds, 1):
        front = _spread(piece, pages, fold.outside, fold.shift_um, _staple_marks(piece) if fold.staples else ())
        back = _spread(piece, pages, fold.inside, fold.shift_um, _fold_marks(piece))
        folded = tuple(
            FoldedPage(page, side, column * width, 0, width, height)
            for side, pair in (("front", fold.outside), ("back", fold.inside))
            for column, page in enumerate(pair)
        )
        flat = _flat(piece, front, back, number, len(folds))
        flats.append(replace(flat, division=division, folded=folded, stock=fold.stock))
    return tuple(flats)


def _section_sheets(pages: int, staple_limit: int, own_cover: bool) -> tuple[tuple[int, ...], bool]:
    """Return the sheets of each section, and whether a cover of another stock lies round all of them."""
    parts = sections(pages, staple_limit)
    if len(parts) > 1 and own_cover:
        return sections(pages - 4, staple_limit), True
    return parts, False


def _folds(
    piece: Piece, pages: int, caliper_um: int, staple_limit: int, cover_caliper_um: int | None
) -> tuple[_Fold, ...]:
    parts, wrapped = _section_sheets(pages, staple_limit, bool(piece.cover_stock))
    cover = cover_caliper_um if piece.cover_stock else None
    cover_stock = piece.cover_stock or piece.stock
    folds = []
    first, around = 1, 0
    if wrapped:
        folds.append(_order(piece, 1, pages, 1, 0, False, cover_stock))
        first, around = 3, 1
    for part in parts:
        last = first + 4 * part - 1
        for k in range(1, part + 1):
            shift = creep_shift_um(k + around, caliper_um, cover)
            is_cover = k == 1 and first == 1
            folds.append(_order(piece, first, last, k, shift, k == 1, cover_stock if is_cover else piece.stock))
        first = last + 1
    return tuple(folds)


def _order(piece: Piece, first: int, last: int, k: int, shift_um: int, staples: bool, stock: str) -> _Fold:
    """Return the k-th sheet, outermost 1, of the nest that holds pages `first` to `last`."""
    outside, inside = (last - 2 * k + 2, first + 2 * k - 2), (first + 2 * k - 1, last - 2 * k + 1)
    if piece.binding == "right":
        outside, inside = outside[::-1], inside[::-1]
    return _Fold(outside, inside, shift_um, staples, stock)


def _padded(piece: Piece) -> tuple[Page, ...]:
    blank = Page(Frame(*_trim(piece), (), "blank"), "blank")
    plan = padding_plan([page.role for page in piece.pages]) if piece.pages else ()
    pages = tuple(blank if i is None else piece.pages[i] for i in plan)
    if not FEWEST_PAGES <= len(pages) <= MOST_PAGES:
        raise ValueError(f"{piece.id}: a folded booklet has {FEWEST_PAGES} to {MOST_PAGES} pages, not {len(pages)}")
    return pages


def _spread(
    piece: Piece, pages: tuple[Page, ...], pair: tuple[int, int], shift_um: int, marks: tuple[Item, ...]
) -> Frame:
    """Return two pages side by side, both moved toward the fold; an empty page is not placed."""
    width, height = _trim(piece)
    places = ((shift_um, pages[pair[0] - 1].frame), (width - shift_um, pages[pair[1] - 1].frame))
    groups = tuple(Group(x, 0, 0, frame) for x, frame in places if frame.items)
    return Frame(2 * width, height, groups + marks, "spread")


def _fold_marks(piece: Piece) -> tuple[Item, ...]:
    """Return ticks at the head and foot of the fold, on the inside, where one looks while folding."""
    width, height = _trim(piece)
    head = piece.format.keep_clear.top.um
    foot = height - piece.format.keep_clear.bottom.um
    return (
        Line(width, head, width, head + _TICK_UM, _HAIR_UM, _GREY),
        Line(width, foot - _TICK_UM, width, foot, _HAIR_UM, _GREY),
    )


def _staple_marks(piece: Piece) -> tuple[Item, ...]:
    """Return marks on the outside of the fold at 1/4 and 3/4 of the height (common practice, no source)."""
    width, height = _trim(piece)
    return tuple(
        Line(width, at - _STAPLE_UM // 2, width, at + _STAPLE_UM // 2, _HAIR_UM, _GREY)
        for at in (height // 4, height - height // 4)
    )


def _side(piece: Piece, sheet: tuple[int, int]) -> tuple[Flat, ...]:
    """Return one flat a page, printed on one side, with staple marks in the binding margin."""
    if not 1 <= len(piece.pages) <= MOST_PAGES:
        raise ValueError(f"{piece.id}: a side-stapled booklet has 1 to {MOST_PAGES} pages, not {len(piece.pages)}")
    clear = piece.format.keep_clear
    margin = {"left": clear.left, "right": clear.right, "top": clear.top}.get(piece.binding)
    if margin is None or margin.um < LEAST_STAPLE_MARGIN_UM:
        raise ValueError(f"{piece.id}: pages stapled at the {piece.binding} keep 12 mm clear there")
    division = piece.format.division or division_of(*_trim(piece), *sheet)
    flats = []
    for number, page in enumerate(piece.pages, 1):
        frame = replace(page.frame, items=page.frame.items + (_side_marks(piece) if number == 1 else ()))
        flat = _flat(piece, frame, None, number, len(piece.pages))
        stock = piece.cover_stock if piece.cover_stock and number == 1 else piece.stock
        flats.append(replace(flat, division=division, may_turn=piece.may_turn, stock=stock))
    return tuple(flats)


def _side_marks(piece: Piece) -> tuple[Item, ...]:
    """Return two short strokes along the bound edge, far enough in for the printer to reach."""
    width, height = _trim(piece)
    clear = piece.format.keep_clear
    margin = {"left": clear.left.um, "right": clear.right.um, "top": clear.top.um}[piece.binding]
    inward = margin - _SIDE_STAPLE_UM
    long = width if piece.binding == "top" else height
    ends = [(at - _STAPLE_UM // 2, at + _STAPLE_UM // 2) for at in (long // 4, long - long // 4)]
    if piece.binding == "top":
        return tuple(Line(start, inward, end, inward, _HAIR_UM, _GREY) for start, end in ends)
    x = inward if piece.binding == "left" else width - inward
    return tuple(Line(x, start, x, end, _HAIR_UM, _GREY) for start, end in ends)


def _slit_marks(piece: Piece) -> tuple[Item, ...]:
    """Return dashed fold lines and the solid slit line, from keep-clear margin to keep-clear margin."""
    width, height = _trim(piece)
    clear = piece.format.keep_clear
    edge = max(clear.left.um, clear.top.um, clear.right.um, clear.bottom.um)
    dash = (2_000, 2_000)
    down = tuple(Line(width * i, edge, width * i, 2 * height - edge, _HAIR_UM, _GREY, dash) for i in (1, 2, 3))
    across = tuple(
        Line(start, height, end, height, _HAIR_UM, _GREY, dash)
        for start, end in ((edge, width), (3 * width, 4 * width - edge))
    )
    return (*down, *across, Line(width, height, 3 * width, height, 2 * _HAIR_UM, _DARK))


def _trim(piece: Piece) -> tuple[int, int]:
    return piece.format.trim.width.um, piece.format.trim.height.um


def _flat(piece: Piece, front: Frame, back: Frame | None, number: int, count: int) -> Flat:
    """Return flat `number` of `count` with everything the piece says about itself."""
    return Flat(
        id=piece.id if count == 1 else f"{piece.id}.{number}",
        piece_id=piece.id,
        set_id=piece.set_id,
        kind=piece.kind,
        unit=piece.unit,
        learner=piece.learner,
        order=(piece.order, number),
        copy=piece.copy,
        stock=piece.stock,
        durable=piece.durable,
        width_um=front.width_um,
        height_um=front.height_um,
        front=front,
        back=back,
        division=piece.format.division,
        colour=piece.colour,
        title=piece.title,
        laminate=piece.laminate,
        spares=piece.spares,
    )
