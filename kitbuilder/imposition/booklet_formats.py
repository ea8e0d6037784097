"""Page formats of booklets: a part of the sheet, an A or letter size by its name, or a size of its own."""

from __future__ import annotations

from dataclasses import replace

from kitbuilder.diagnostics import Location
from kitbuilder.imposition.binding import wider
from kitbuilder.imposition.formats import PARTS, FormatFinder
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import Length, inch, mm, parse_length
from kitbuilder.model.templates import KindTemplate

# ISO 216; letter halved, rounded to nothing: 8.5 x 11 in (ANSI/ASME Y14.1 size A)
PAGE_SIZES = {
    "a5": Size(mm(148), mm(210)),
    "a6": Size(mm(105), mm(148)),
    "a7": Size(mm(74), mm(105)),
    "half letter": Size(inch("5.5"), inch("8.5")),
    "quarter letter": Size(inch("4.25"), inch("5.5")),
    "eighth letter": Size(inch("2.75"), inch("4.25")),
}
_SAME = mm(1)  # a quarter of A4 is A6 but for half a millimetre: halves are not rounded
SIDE_MARGIN = mm(15)  # of side-stapled leaves: 12 to 15 mm, common practice, no source
_LEAST = mm(50)


def booklet_format(
    finder: FormatFinder, kind: KindTemplate, page: str, making: str, bound_right: bool, place: Location | None
) -> Format:
    """Return the format of a booklet's pages; `page` empty means the kind's size, for a slit an eighth of the sheet.

    What cannot be made on this paper is noted as a problem at `place`, and some format is returned all the same.
    """
    fmt = _named(finder, kind, page or ("eighth page" if making == "slit" else ""), place)
    clear = kind.keep_clear
    if making == "saddle":
        spread = Size(fmt.trim.width * 2, fmt.trim.height)
        if fmt.division < 2:
            finder.check_room(f"a sheet of {spread} to fold", spread, clear, place)
    elif making == "side":
        margin, zero = SIDE_MARGIN, Length(0)
        inner = Insets(zero if bound_right else margin, zero, margin if bound_right else zero, zero)
        fmt = replace(fmt, keep_clear=wider(fmt.keep_clear, inner))
        if fmt.division == 0:
            finder.check_room(f"a page of {fmt.trim}", fmt.trim, clear, place)
    elif fmt.division != 8:
        eighth = _upright(finder.part("eighth page", Insets.even(clear))).trim
        finder.log.add(
            f"a booklet with one slit is one whole sheet: its pages are an eighth of it, {eighth}, not {fmt.trim}",
            "not-an-eighth",
            "leave 'page' out, or take making: saddle",
            place,
        )
    return fmt


def _named(finder: FormatFinder, kind: KindTemplate, page: str, place: Location | None) -> Format:
    clear = Insets.even(kind.keep_clear)
    name = " ".join(page.lower().replace("-", " ").split())
    if not name:
        return _upright(finder(kind, None, None, place, False))
    if name in PARTS:
        return _upright(finder.part(name, clear))
    size = PAGE_SIZES.get(name) or _written(page)
    if size is None:
        finder.log.add(
            f"'{page}' is no size of a page",
            "unknown-page-size",
            f"write one of {', '.join([*PAGE_SIZES, *PARTS])}, or a size such as 100 mm x 140 mm",
            place,
        )
        return _upright(finder(kind, None, None, place, False))
    if min(size.width, size.height) < _LEAST:
        finder.log.add(f"a page of {size} is too small to fold and to read", "page-too-small", "50 mm at least", place)
    if name in PAGE_SIZES:
        for part in PARTS:
            fmt = _upright(finder.part(part, clear))
            if _near(fmt.trim.width, size.width) and _near(fmt.trim.height, size.height):
                return fmt
    return Format(size, clear)


def _upright(fmt: Format) -> Format:
    """Return the part of a sheet standing: pages of books are higher than wide."""
    trim = fmt.trim
    return replace(fmt, trim=trim.turned()) if fmt.division and trim.width > trim.height else fmt


def _near(one: Length, other: Length) -> bool:
    return abs(one.um - other.um) <= _SAME.um


def _written(page: str) -> Size | None:
    sides = page.lower().replace("×", "x").split("x")
    try:
        width, height = (parse_length(side.strip()) for side in sides)
    except ValueError:
        return None
    return Size(width, height)
