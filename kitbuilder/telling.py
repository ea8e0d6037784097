"""What a run says when it is done: lines for a parent, one document for a programme."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kitbuilder.export.pack_folder import WrittenPack
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.sheets import Run, TwoSided
from kitbuilder.model.press import Press
from kitbuilder.prep.prepare import prepare

_SIDES = {
    TwoSided.NO: "one side",
    TwoSided.LONG: "both sides, turned on the long edge",
    TwoSided.SHORT: "both sides, turned on the short edge",
    TwoSided.BY_HAND: "fronts, then backs by hand",
}


@dataclass(frozen=True, slots=True)
class Told:
    """The same result twice: for people and for programmes."""

    lines: tuple[str, ...]
    data: Any


def told_plan(plan: PackPlan, press: Press) -> Told:
    """Return what would be made, how long the work takes and what to have ready; nothing was written."""
    prep = prepare(plan, press)
    lines = [f"{plan.name}: {_pieces(plan)}", *(_run_line(run) for run in plan.runs), *_more(plan)]
    lines += _trade_lines(plan, press)
    lines.append(f"about {prep.totals.minutes} minutes of work. Have ready:")
    lines += (f"  {need.what}: {need.amount}{' (if you like)' if need.optional else ''}" for need in prep.shopping)
    data = {
        **_data(plan),
        "minutes": prep.totals.minutes,
        "needs": [{"what": need.what, "amount": need.amount, "note": need.note} for need in prep.shopping],
    }
    return Told(tuple(lines), data)


def told_pack(written: WrittenPack, plan: PackPlan, press: Press) -> Told:
    """Return what was written, and what to open first."""
    lines = [f"{written.folder}: {_pieces(plan)}", *(_run_line(run) for run in plan.runs), *_more(plan)]
    if written.note:
        lines.append(written.note)
    lines.append(f"start with {written.folder / 'prep-guide.pdf'}")
    return Told(tuple(lines), {"folder": str(written.folder), "note": written.note, **_data(plan)})


def _more(plan: PackPlan) -> list[str]:
    lines = [f"careful: {warning}" for warning in plan.warnings] + [f"note: {note}" for note in plan.notes]
    if plan.trials:
        lines.append(f"try one sheet of each first: {', '.join(file.name for file in plan.trials)}")
    return lines


def _pieces(plan: PackPlan) -> str:
    things = len({flat.piece_id for flat in plan.flats})
    sheets = sum(len(run.sheets) for run in plan.runs)
    strokes = sum(run.strokes for run in plan.runs)
    return f"{_many(things, 'piece')} on {_many(sheets, 'sheet')}, {_many(strokes, 'cut')}"


def _run_line(run: Run) -> str:
    least = "" if len(run.sheets) > run.lower_bound else ", and fewer is not possible"
    return f"  {_many(len(run.sheets), 'sheet')} of {run.setup.stock}, {_SIDES[run.setup.two_sided]}{least}"


def _trade_lines(plan: PackPlan, press: Press) -> list[str]:
    """Return what more sheets would save, for the parent to choose in press.yaml."""
    if press.prefer == "few-strokes":
        return ["press.yaml asks for few strokes: sheets were spent where each saves the most cuts"]
    lines = []
    for stock in dict.fromkeys(run.setup.stock for run in plan.runs):
        runs = [run for run in plan.runs if run.setup.stock == stock]
        trade = dict(runs[0].trade)
        used = min(trade, default=0)
        for sheets in sorted(trade)[1:]:
            saved = trade[used] - trade[sheets]
            minutes = saved * (press.minutes.stroke + press.minutes.set_stop)
            if saved > 0:
                more = (
                    _many(sheets - used, f"more sheet of {stock}")
                    if sheets - used == 1
                    else (f"{sheets - used} more sheets of {stock}")
                )
                lines.append(
                    f"{more} would save {_many(saved, 'cut')}, about {max(1, round(minutes))} min: "
                    "write prefer: few-strokes in press.yaml if that is worth it"
                )
                break
    return lines


def _many(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def _data(plan: PackPlan) -> dict[str, Any]:
    return {
        "pack": plan.name,
        "units": list(plan.units),
        "pieces": len({flat.piece_id for flat in plan.flats}),
        "files": [file.name for file in plan.files],
        "trials": [file.name for file in plan.trials],
        "warnings": list(plan.warnings),
        "notes": list(plan.notes),
        "runs": [
            {
                "stock": r.setup.stock,
                "sheets": len(r.sheets),
                "lower_bound": r.lower_bound,
                "bound": r.bound,
                "strokes": r.strokes,
                "layouts": len(r.layouts),
                "trade": [list(t) for t in r.trade],
            }
            for r in plan.runs
        ],
    }
