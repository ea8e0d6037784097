"""Print files to steps: what to load, which settings, a first sheet to look at, fronts put back for their backs."""

from __future__ import annotations

from collections.abc import Iterator

from kitbuilder.imposition.by_hand import reload_steps, trial_steps
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.print_files import PrintFile
from kitbuilder.imposition.workplace import profile_of
from kitbuilder.model.press import Press
from kitbuilder.model.stock import CARD_FROM_GSM, CAUTIONS, Stock
from kitbuilder.prep.steps import Aside, ReloadPicture, Step, StepKind
from kitbuilder.prep.wording import (
    in_inches,
    joined,
    many,
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
TRIAL = "New printer or new stock? Try one sheet first"
TRUE_SIZE = "actual size, 100 % (not “fit to page”)"


def print_steps(plan: PackPlan, press: Press) -> Iterator[Step]:
    """Yield the steps at the printer, file by file; before backs by hand comes a step that puts the fronts back."""
    loaded = ""
    for file in plan.files:
        if file.two_sided == "by-hand-backs":
            yield _reload(file, press)
            yield _print_backs(file, press)
        else:
            trials = tuple(trial.name for trial in plan.trials if trial.run == file.run)
            yield _print(file, press, trials, load=file.setup.stock + file.setup.paper != loaded)
        loaded = file.setup.stock + file.setup.paper


def sheets_in(file: PrintFile) -> int:
    """Return how many sheets of paper a file is printed on."""
    return len({page.number for page in file.pages})


def _print(file: PrintFile, press: Press, trials: tuple[str, ...], *, load: bool) -> Step:
    stock = press.stock(file.setup.stock)
    by_hand = file.two_sided == "by-hand-fronts"
    minutes = press.minutes.print_page * len(file.pages) + press.minutes.check_sheet
    minutes += press.minutes.load_tray if load else 0
    sentences = [size] if (size := size_sentence(file)) else []
    if by_hand:
        sentences.append(reload_steps(profile_of(press))[0])
    if stock is not None and stock.weight_gsm >= CARD_FROM_GSM:
        sentences.append("Heavy stock goes the straightest way through: use the rear or hand tray if there is one.")
    return Step(
        StepKind.PRINT,
        _title(file),
        whole_minutes(minutes),
        children_may_help=False,
        settings=(("File", file.name), ("Load", _load_words(file, stock, press)), *_window(file)),
        sentences=tuple(sentences),
        aside=_trial(file, press, trials),
        cautions=CAUTIONS.get(stock.kind, ()) if stock else (),
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
        StepKind.PRINT,
        _title(file),
        whole_minutes(minutes),
        children_may_help=False,
        settings=(("File", file.name), ("Load", "the printed fronts, as in the step before"), *_window(file)),
        sentences=(reload_steps(profile_of(press))[-1],),
    )


def _reload(file: PrintFile, press: Press) -> Step:
    profile = profile_of(press)
    return Step(
        StepKind.RELOAD,
        f"Put the fronts back into the printer: {stock_words(file.setup.stock)}",
        whole_minutes(press.minutes.reload_backs),
        children_may_help=False,
        sentences=reload_steps(profile)[1:-1],  # the first and the last one stand beside the files they print
        picture=ReloadPicture(profile.face, profile.tray_face, "bottom" if profile.turned else "top"),
    )


def _trial(file: PrintFile, press: Press, trials: tuple[str, ...]) -> Aside | None:
    """Return how to look at one sheet before the rest; nothing when there is no rest, or no back."""
    sheets = sheets_in(file)
    if sheets == 1 or file.two_sided not in ("by-hand-fronts", "long-edge", "short-edge"):
        return None
    if file.two_sided == "by-hand-fronts":
        steps = trial_steps(sheets, profile_of(press))
    else:
        steps = (
            "Print pages 1 and 2 of the file alone.",
            "Hold the sheet against a window: is each back behind its front, and upright? "
            "If not, choose the other edge.",
            f"If it is, print pages {span(3, len(file.pages))}.",
        )
    alone = (f"Those pages are also in files of their own: {joined(trials)}.",) if trials else ()
    return Aside(TRIAL, (*steps, *alone))


def size_sentence(file: PrintFile) -> str:
    """Return what to measure on the first sheets: the printed ruler, else what the file names instead."""
    if file.ruler:
        return file.ruler
    at = next((n for n, page in enumerate(file.pages, 1) if page.side == "front" and page.sheet.has_ruler), 0)
    if not at:
        return ""
    return f"Look at page {at} as it comes out: its printed ruler must measure 100 mm. If not, stop: the size is off."
