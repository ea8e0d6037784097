"""Print files to steps: what to load, which settings, a first sheet to look at, fronts put back for their backs."""

from __future__ import annotations

from collections.abc import Iterator

from kitbuilder.artwork.frame import Box, Frame, Line, ReadBy, texts_of
from kitbuilder.imposition.by_hand import reload_steps, trial_steps
from kitbuilder.imposition.marks import RULER_TEXT
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.print_files import PrintedSide, PrintFile
from kitbuilder.imposition.workplace import profile_of
from kitbuilder.model.press import Press
from kitbuilder.model.stock import CARD_FROM_GSM, Stock
from kitbuilder.prep.cautions import printing_cautions
from kitbuilder.prep.steps import Aside, ReloadPicture, Step, StepKind
from kitbuilder.prep.wording import (
    in_inches,
    many,
    measure,
    paper_words,
    span,
    stock_words,
    weight_words,
    whole_minutes,
)

_SIDES = {
    "no": "one side only",
    "long-edge": "both sides, turned on the long edge (like a book)",
    "short-edge": "both sides, turned on the short edge (like a wall calendar)",
    "by-hand-fronts": "one side only",
    "by-hand-backs": "one side only",
}
_WHAT = {
    "no": "one side",
    "long-edge": "both sides",
    "short-edge": "both sides",
    "by-hand-fronts": "the fronts",
    "by-hand-backs": "the backs",
}
SIZE_IS_OFF = "If not, stop: the size is off."
TRIAL = "New printer or new stock? Try one sheet first"
TRUE_SIZE = "actual size, 100 % (not “fit to page”)"
LEAST_LINE_UM = 50_000  # a shorter line says little about the size of a page


def print_steps(plan: PackPlan, press: Press) -> Iterator[Step]:
    """Yield the steps at the printer, file by file; before backs by hand comes a step that puts the fronts back."""
    loaded = ""
    for file in plan.files:
        if file.two_sided == "by-hand-backs":
            yield _reload(file, press)
            yield _print_backs(file, press)
        else:
            yield _print(file, press, load=file.setup.stock + file.setup.paper != loaded)
        loaded = file.setup.stock + file.setup.paper


def sheets_in(file: PrintFile) -> int:
    """Return how many sheets of paper a file is printed on."""
    return len({page.number for page in file.pages})


def _print(file: PrintFile, press: Press, *, load: bool) -> Step:
    stock = press.stock(file.setup.stock)
    by_hand = file.two_sided == "by-hand-fronts"
    minutes = press.minutes.print_page * len(file.pages) + press.minutes.check_sheet
    minutes += press.minutes.load_tray if load else 0
    sentences = [ruler_sentence(file, press)]
    if by_hand:
        sentences.append(reload_steps(profile_of(press))[0])
    if stock is not None and stock.weight_gsm >= CARD_FROM_GSM:
        sentences.append("Heavy stock goes the straightest way through: use the rear or hand tray if there is one.")
    return Step(
        StepKind.PRINT, _title(file), whole_minutes(minutes), children_may_help=False,
        settings=(("File", file.name), ("Load", _load_words(file, stock, press)), *_window(file)),
        sentences=tuple(sentences), aside=_trial(file, press),
        cautions=printing_cautions(stock.kind if stock else ""),
    )


def _title(file: PrintFile) -> str:
    return f"Print {_WHAT[file.two_sided]}: {stock_words(file.setup.stock)}"


def _window(file: PrintFile) -> tuple[tuple[str, str], ...]:
    return (("Sides", _SIDES[file.two_sided]), ("Size", TRUE_SIZE))


def _load_words(file: PrintFile, stock: Stock | None, press: Press) -> str:
    weight = f", {weight_words(stock, inches=in_inches(press))}" if stock else ""
    what = stock_words(file.setup.stock)
    return f"{many(sheets_in(file), 'sheet')} of {what} ({paper_words(file.setup.paper)}{weight})"


def _print_backs(file: PrintFile, press: Press) -> Step:
    minutes = press.minutes.print_page * len(file.pages)
    return Step(
        StepKind.PRINT, _title(file), whole_minutes(minutes), children_may_help=False,
        settings=(("File", file.name), ("Load", "the printed fronts, as in the step before"), *_window(file)),
        sentences=(reload_steps(profile_of(press))[-1],),
    )


def _reload(file: PrintFile, press: Press) -> Step:
    profile = profile_of(press)
    return Step(
        StepKind.RELOAD, f"Put the fronts back into the printer: {stock_words(file.setup.stock)}",
        whole_minutes(press.minutes.reload_backs), children_may_help=False,
        sentences=reload_steps(profile)[1:-1],  # the first and the last one stand beside the files they print
        picture=ReloadPicture(profile.face, profile.tray_face, "bottom" if profile.turned else "top"),
    )


def _trial(file: PrintFile, press: Press) -> Aside | None:
    """Return how to look at one sheet before the rest; nothing when there is no rest, or no back."""
    sheets = sheets_in(file)
    if sheets == 1:
        return None
    if file.two_sided == "by-hand-fronts":
        return Aside(TRIAL, trial_steps(sheets, profile_of(press)))
    if file.two_sided in ("long-edge", "short-edge"):
        look = "Hold it against a window: is each back behind its front, and upright? If not, choose the other edge."
        rest = f"If it is, print pages {span(3, len(file.pages))}."
        return Aside(TRIAL, ("Print pages 1 and 2 of the file alone.", look, rest))
    return None


def ruler_sentence(file: PrintFile, press: Press) -> str:
    """Return which printed line shows whether the size is true: the ruler, two cut lines, or the longest line."""
    for number, page in enumerate(file.pages, 1):
        if page.marks is not None and RULER_TEXT in texts_of(page.marks, ReadBy.MARK):
            return f"Look at page {number} as it comes out: its printed ruler must measure 100 mm. {SIZE_IS_OFF}"
    longest = max((_longest_line(page) for page in file.pages), default=0)
    if longest >= LEAST_LINE_UM:
        at = next(n for n, p in enumerate(file.pages, 1) if _longest_line(p) == longest)
        length = measure(longest, inches=press.trimmer.inches)
        return f"The longest straight line on page {at} must measure {length}. {SIZE_IS_OFF}"
    for number, page in enumerate(file.pages, 1):
        apart = _fold_marks_apart(page)
        if apart:
            length = measure(apart, inches=press.trimmer.inches)
            return (
                f"On page {number} the two small marks at a fold must be {length} apart, from outer end to outer end. "
                f"{SIZE_IS_OFF}"
            )
    return "Hold the first sheet beside one that came out right: letters and frames must be the same size."


def _fold_marks_apart(page: PrintedSide) -> int:
    """Return the distance between the outer ends of the staple or fold marks on a booklet's fold, or 0 without any."""
    for placed in page.flats:
        if placed.flat.folded and placed.flat.two_sided and placed.frame is not None:
            fold = placed.flat.folded[0].width_um
            ends = [
                y for line in placed.frame.items if isinstance(line, Line) and line.x1_um == line.x2_um == fold
                for y in (line.y1_um, line.y2_um)
            ]
            if ends:
                return max(ends) - min(ends)
    return 0


def _longest_line(page: PrintedSide) -> int:
    """Return the longest straight line of a page that lies level or upright, pieces alone: marks are cut off."""
    return max((_longest_in(placed.frame) for placed in page.flats if placed.frame is not None), default=0)


def _longest_in(frame: Frame) -> int:
    longest = 0
    for item in frame.items:
        if isinstance(item, Line) and (item.x1_um == item.x2_um or item.y1_um == item.y2_um) and not item.dash:
            longest = max(longest, abs(item.x2_um - item.x1_um), abs(item.y2_um - item.y1_um))
        elif isinstance(item, Box) and item.stroke and item.stroke_um > 0:
            longest = max(longest, item.width_um, item.height_um)
    return longest
