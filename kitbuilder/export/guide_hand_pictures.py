"""Small drawings of what hands do: putting a printed pile back, nesting, folding and stapling a booklet."""

from __future__ import annotations

from collections.abc import Iterator

from kitbuilder.artwork.frame import Box, Frame, Group, Item, Line, Path, Text
from kitbuilder.export.guide_type import ACCENT, INK, RULE, SHADE, SOFT, Style, Type, below, beside, space, style
from kitbuilder.prep.steps import FoldPicture, ReloadPicture

_LABEL = style(8, 10.5, colour=INK)
_PAGE = style(9, 11, bold=True, colour=SOFT)
_SHEET_W, _SHEET_H = 19_000, 26_000
_THIN, _FIRM = 250, 450
_MOST_SHEETS = 4  # more nested sheets than this look like a smudge


def reload_picture(picture: ReloadPicture, kind: Type) -> Frame:
    """Return three drawings side by side: the pile as it lies, what to do with it, how it goes into the tray."""
    lies = _captioned(_pile(picture.lies), f"as it lies: printed side {picture.lies}", 27_000, kind)
    carry = "turn the pile over, like a page of a book" if picture.turned_over else "do not turn it over"
    arrow = _captioned(_arrow(turned=picture.turned_over), carry, 23_000, kind)
    tray = _captioned(_tray(picture), f"printed side {picture.goes_in}, {picture.edge} edge first", 36_000, kind)
    return beside((lies, arrow, tray), 1_500)


def _captioned(drawing: Frame, caption: str, width_um: int, kind: Type) -> Frame:
    left = (width_um - drawing.width_um) // 2
    centred = Frame(width_um, drawing.height_um, (Group(left, 0, 0, drawing),))
    return below((centred, kind.paragraph(caption, width_um, _LABEL, "centre")), 1_500)


def _pile(face: str, upside_down: bool = False) -> Frame:
    """Return a pile of sheets seen from above: letters to be seen when the printed side is up, else bare paper."""
    shift = 900
    items: list[Item] = [Box(shift * n, shift * n, _SHEET_W, _SHEET_H, "#ffffff", INK, _THIN, 600) for n in (2, 1, 0)]
    if face == "up":
        page = Frame(_SHEET_W, _SHEET_H, tuple(_printed()))
        items.append(Group(0, 0, 2 if upside_down else 0, page))
    return Frame(_SHEET_W + 2 * shift, _SHEET_H + 2 * shift, tuple(items), "pile")


def _printed() -> Iterator[Item]:
    """Yield a few grey lines and a heading: a page one can tell the top of."""
    yield Box(3_000, 3_500, 8_000, 3_000, SOFT)
    for n in range(5):
        yield Line(3_000, 9_500 + 2_700 * n, 16_000 - (3_000 if n == 4 else 0), 9_500 + 2_700 * n, 500, RULE)


def _arrow(*, turned: bool) -> Frame:
    """Return an arrow to the right: straight, or leaping over like a page that is turned."""
    if turned:
        shaft = "M 1000 17000 C 3000 3000 15000 3000 18000 15500"
        head = "M 15300 13800 L 18200 16800 L 19300 12700"
    else:
        shaft = "M 1000 13000 L 19000 13000"
        head = "M 16500 10500 L 19300 13000 L 16500 15500"
    items = tuple(Path(outline, None, ACCENT, _FIRM) for outline in (shaft, head))
    return Frame(20_000, _SHEET_H + 1_800, items, "arrow")


def _tray(picture: ReloadPicture) -> Frame:
    """Return the printer from above, the pile below it, the edge that goes in first at the top."""
    printer = Box(0, 0, 34_000, 6_500, SHADE, INK, _THIN, 1_200)
    slot = Line(4_000, 6_500, 30_000, 6_500, _FIRM, INK)
    pile = _pile(picture.goes_in, upside_down=picture.edge == "bottom")
    up = Path("M 17000 16500 L 17000 9500", None, ACCENT, _FIRM)
    head = Path("M 14800 12000 L 17000 9300 L 19200 12000", None, ACCENT, _FIRM)
    items = (printer, slot, Group((34_000 - pile.width_um) // 2, 8_000, 0, pile), up, head)
    # the page's heading would hide the arrow's foot: the arrow is drawn last, over the sheet
    return Frame(34_000, 8_000 + pile.height_um, items, "tray")


def fold_picture(picture: FoldPicture, kind: Type) -> Frame:
    """Return how a booklet is made, in one or two drawings."""
    if picture.form == "slit":
        return _slit(picture, kind)
    if picture.form == "side":
        return _side(picture, kind)
    return beside((_nest(picture, kind), space(4_000), _spread(picture, kind)), 0)


def _nest(picture: FoldPicture, kind: Type) -> Frame:
    """Return the sheets from their end, each one inside the one before."""
    shown = min(picture.sheets, _MOST_SHEETS)
    items: list[Item] = []
    for n in range(shown):
        top = 2_500 + 2_600 * (shown - 1 - n)
        colour = ACCENT if n == 0 else SOFT
        items.append(Path(f"M 1000 {top} L 12000 {top + 9_000} L 23000 {top}", None, colour, _FIRM))
    height = 2_500 + 2_600 * (shown - 1) + 11_000
    drawing = Frame(24_000, height, tuple(items), "nested sheets")
    caption = "cover outside" if picture.sheets > 1 else "one sheet, cover outside"
    return _captioned(drawing, caption, 30_000, kind)


def _spread(picture: FoldPicture, kind: Type) -> Frame:
    """Return the open booklet, cover up: the fold dashed, two staples across it, how far they are from the ends."""
    height = 26_000
    width = 2 * picture.width_um * height // picture.height_um
    fold = width // 2
    items: list[Item] = [
        Box(0, 0, width, height, "#ffffff", INK, _THIN),
        Line(fold, 0, fold, height, _THIN, SOFT, (1_200, 900)),
    ]
    for at in picture.staples_um:
        y = at * height // picture.height_um
        items.append(Line(fold, y - 2_000, fold, y + 2_000, 900, ACCENT))
    drawing = Frame(width, height, tuple(items), "open booklet")
    return _captioned(drawing, "open, cover up: staples in the fold", max(width, 50_000), kind)


def _side(picture: FoldPicture, kind: Type) -> Frame:
    height = 26_000
    width = picture.width_um * height // picture.height_um
    items: list[Item] = [Box(0, 0, width, height, "#ffffff", INK, _THIN)]
    for at in picture.staples_um:
        if picture.binding == "top":
            x = at * width // picture.width_um
            items.append(Line(x - 1_500, 2_000, x + 1_500, 2_000, 900, ACCENT))
        else:
            x = 2_000 if picture.binding == "left" else width - 2_000
            y = at * height // picture.height_um
            items.append(Line(x, y - 1_500, x, y + 1_500, 900, ACCENT))
    return _captioned(Frame(width, height, tuple(items), "leaves"), "staples in the margin", max(width, 40_000), kind)


def _slit(picture: FoldPicture, kind: Type) -> Frame:
    """Return the sheet of eight pages: folds dashed, the slit firm, page numbers as they stand on it."""
    width = 15_000
    height = width * picture.height_um // picture.width_um
    upper, lower = ("5", "4", "3", "2"), ("6", "7", "8", "1")
    if picture.binding == "right":
        upper, lower = upper[::-1], lower[::-1]
    items: list[Item] = [Box(0, 0, 4 * width, 2 * height, "#ffffff", INK, _THIN)]
    items += [Line(width * n, 0, width * n, 2 * height, _THIN, SOFT, (1_200, 900)) for n in (1, 2, 3)]
    items += [Line(a, height, b, height, _THIN, SOFT, (1_200, 900)) for a, b in ((0, width), (3 * width, 4 * width))]
    items.append(Line(width, height, 3 * width, height, 900, ACCENT))
    for row, numbers in enumerate((upper, lower)):
        for column, number in enumerate(numbers):
            page = _numbered(number, width, height, kind)
            items.append(Group(column * width, row * height, 2 if row == 0 else 0, page))
    return _captioned(
        Frame(4 * width, 2 * height, tuple(items), "sheet with a slit"),
        "fold the dashed lines, cut the firm one",
        max(4 * width, 50_000),
        kind,
    )


def _numbered(number: str, width_um: int, height_um: int, kind: Type) -> Frame:
    how: Style = _PAGE
    x = (width_um - kind.width_um(number, how)) // 2
    return Frame(width_um, height_um, (Text(x, height_um // 2 + 1_200, number, how.font, how.size_um, how.colour),))
