"""Commands that make packs: a week, a term, a reprint, a preview."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from kitbuilder.cli.console import (
    family_root,
    home_option,
    json_option,
    making,
    minutes_of,
    out_option,
    packs_folder,
    planning,
    progress_teller,
    quiet_option,
    tell_result,
    told,
)
from kitbuilder.diagnostics import ProblemLog

if TYPE_CHECKING:  # a request knows the models of what people write, which take 0.1 s to load: not for --help
    from kitbuilder.request import Request


@click.command()
@click.argument("unit", type=int, required=False)
@making
@told
def week(unit: int | None, **options: Any) -> None:
    """Make unit UNIT's pack; without a number, the pack for each child's unit now."""
    _make(unit, None, **options)


@click.command()
@click.argument("units", metavar="[N-M]", required=False)
@click.option(
    "--weeks", type=click.IntRange(1, 999), metavar="N", help="the next N units of each child from where they are"
)
@click.option("--each-week", is_flag=True, help="one pack a week, instead of one batch that saves sheets and reloading")
@making
@told
def term(units: str | None, weeks: int | None, each_week: bool, **options: Any) -> None:
    """Make the batch of units N to M in one go."""
    if (units is None) == (weeks is None):
        raise click.UsageError("say which units, such as 1-12, or how many weeks, such as --weeks 12")
    first, last = _range(units) if units else (None, None)
    _make(first, last, weeks=weeks, each_week=each_week, **options)


def _range(text: str) -> tuple[int, int]:
    first, dash, last = text.partition("-")
    if not (first.strip().isdigit() and (last.strip().isdigit() or not dash)):
        raise click.UsageError(f"{text!r} is no range of units; write it as 1-12")
    a, b = int(first), int(last or first)
    if a > b:
        raise click.UsageError(f"{text!r} runs backwards; write {b}-{a}")
    return a, b


def _request(first: int | None, last: int | None, options: dict[str, Any], weeks: int | None = None) -> Request:
    from kitbuilder.request import Request

    if options["durable"] and options["consumable"]:
        raise click.UsageError("--durable and --consumable leave nothing: give one of them, or neither for both")
    return Request(
        family_root(options["home"]),
        first,
        last,
        tuple(dict.fromkeys(options["learners"])),
        tuple(dict.fromkeys(options["only"])),
        not options["consumable"],
        not options["durable"],
        options["paper"],
        options["seed"],
        weeks,
        bool(options.get("trial")),
    )


def _make(
    first: int | None, last: int | None, *, weeks: int | None = None, each_week: bool = False, **options: Any
) -> None:
    from kitbuilder.build import Progress, make_pack, plan_pack, plan_weeks, read_family
    from kitbuilder.telling import told_pack, told_plan

    request = _request(first, last, options, weeks)
    as_json, quiet = options["as_json"], options["quiet"]
    progress = Progress(progress_teller(quiet or as_json))
    family = read_family(request, ProblemLog())
    press = family.home.press
    # all weeks are planned before the first is written: a mistake in week 9 must not leave eight packs behind
    plans = tuple(plan_weeks(family, request, progress)) if each_week else (plan_pack(family, request, progress),)
    answers = []
    for plan in plans:
        if options["plan_only"]:
            answers.append(told_plan(plan, press))
        else:
            out = packs_folder(options["home"], options["out"], request.root)
            sitting = minutes_of(options["evenings"]) if options["evenings"] else None
            written = make_pack(family, plan, out, replace_old=options["replace"], progress=progress, sitting=sitting)
            answers.append(told_pack(written, plan, press))
    progress.stage("")
    data = [answer.data for answer in answers]
    lines = [line for answer in answers for line in answer.lines]
    tell_result(lines, data if each_week else data[0], as_json, quiet)


@click.command()
@click.argument("pack", metavar="PACK")
@click.argument("ids", nargs=-1, metavar="[ID ...]")
@click.option("--only", "kinds", multiple=True, metavar="KIND", help="pieces of this kind; may be repeated")
@click.option("--unit", "units", type=int, multiple=True, metavar="N", help="pieces of this unit; may be repeated")
@click.option("--learner", "learners", multiple=True, metavar="CODE", help="pieces of this child; may be repeated")
@click.option("--saying", multiple=True, metavar="TEXT", help="pieces that say this, such as d; may be repeated")
@click.option("--sheet", "sheets", multiple=True, metavar="WxH", help="an offcut to print on, such as 210x120mm")
@click.option("--updated", is_flag=True, help="as today's units have it, and say what differs")
@click.option("--record", is_flag=True, help="say what has been printed again of this pack")
@click.option("--plan", "plan_only", is_flag=True, help="say what would be printed, write nothing")
@click.option("--trial", is_flag=True, help="also write the first sheet of each file alone, to try it")
@click.option("--paper", metavar="NAME", help="the paper to print on, instead of press.yaml's")
@click.option("--replace", "replace_old", is_flag=True, help="write over a reprint of the same name")
@home_option
@out_option
@json_option
@quiet_option
@told
def reprint(
    pack: str,
    ids: tuple[str, ...],
    kinds: tuple[str, ...],
    units: tuple[int, ...],
    learners: tuple[str, ...],
    saying: tuple[str, ...],
    sheets: tuple[str, ...],
    updated: bool,
    record: bool,
    plan_only: bool,
    trial: bool,
    paper: str | None,
    replace_old: bool,
    home: str | None,
    out: str | None,
    as_json: bool,
    quiet: bool,
) -> None:
    """Print pieces of a pack again, the same as the first time. PACK is its folder; ID is printed on the piece."""
    from kitbuilder.load.pack import read_pack
    from kitbuilder.pick import Choice, pick_rows
    from kitbuilder.reprint import make_reprint, plan_reprint, press_for, reprinted, sheet_sizes
    from kitbuilder.telling import told_pack, told_plan

    choice = Choice(ids, kinds, units, learners, saying)
    if choice == Choice() and not record:
        raise click.UsageError("say what to print again: ids, or --only, --unit, --learner, --saying")
    folder = Path(pack)
    root = family_root(home)
    if not folder.exists() and (packs_folder(home, out, root) / pack).is_dir():
        folder = packs_folder(home, out, root) / pack
    made = read_pack(
        folder, (lambda pack: {row["id"] for row in pick_rows(pack, choice)}) if choice != Choice() else None
    )
    if record:
        rows = reprinted(made)
        lines = [f"{', '.join(row['ids'])} (in {row['written_to']})" for row in rows]
        tell_result(lines or ["nothing of this pack has been printed again"], {"reprinted": rows}, as_json, quiet)
        return
    offcuts = sheet_sizes(sheets)
    bitmaps: dict[str, bytes] = {}
    differences: tuple[str, ...] = ()
    if updated:
        from kitbuilder.build import Progress, read_family
        from kitbuilder.request import Request
        from kitbuilder.updating import plan_updated

        family = read_family(Request(root, paper=paper), ProblemLog())
        press, bitmaps = family.home.press, family.bitmaps
        tell = Progress(progress_teller(quiet or as_json)).stage
        today = plan_updated(made, choice, family, tell, offcuts, trial=trial)
        plan, differences = today.reprint, today.differences
        tell("")
    else:
        press = press_for(root, made, choice, paper)
        plan = plan_reprint(made, choice, press, offcuts, trial=trial)
    if plan_only:
        answer = told_plan(plan.plan, press)
    else:
        target = Path(out) if out else folder.parent
        written = make_reprint(made, plan, press, target, bitmaps, replace_old=replace_old)
        answer = told_pack(written, plan.plan, press)
    tell_result([*differences, *answer.lines], {**answer.data, "differences": list(differences)}, as_json, quiet)


@click.command()
@click.argument("units", metavar="[N | N-M]", required=False)
@planning
@click.option("--png", metavar="DIR", help="also write every sheet as a picture")
@click.option("--open", "show", is_flag=True, help="open the page in the browser")
@told
def preview(units: str | None, png: str | None, show: bool, **options: Any) -> None:
    """Show the sheets with their cut lines as one page for a browser; no print files.

    Without a number: each child's unit now.
    """
    from kitbuilder.build import Progress, make_preview, plan_pack, read_family

    first, last = _range(units) if units else (None, None)
    request = _request(first, last if units and "-" in units else None, options)
    progress = Progress(progress_teller(options["quiet"] or options["as_json"]))
    family = read_family(request, ProblemLog())
    plan = plan_pack(family, request, progress)
    out = packs_folder(options["home"], options["out"], request.root)
    path = make_preview(family, plan, out, Path(png) if png else None)
    progress.stage("")
    tell_result([f"open {path} in a browser"], {"preview": str(path)}, options["as_json"], options["quiet"])
    if show:
        click.launch(str(path))
