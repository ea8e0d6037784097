"""Commands that make packs: a week, a term, a reprint, a preview."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from kitbuilder.cli.console import (
    family_root,
    home_option,
    json_option,
    making,
    out_option,
    packs_folder,
    progress_teller,
    quiet_option,
    tell_result,
    told,
)
from kitbuilder.diagnostics import ProblemLog


@click.command()
@click.argument("unit", type=int, required=False)
@making
@told
def week(unit: int | None, **options: Any) -> None:
    """Make unit UNIT's pack; without a number, the pack for each child's unit now."""
    _make(unit, None, **options)


@click.command()
@click.argument("units", metavar="N-M", required=False)
@click.option("--weeks", type=int, metavar="N", help="the next N units of each child from where they are")
@making
@told
def term(units: str | None, weeks: int | None, **options: Any) -> None:
    """Make the batch of units N to M in one go."""
    if (units is None) == (weeks is None):
        raise click.UsageError("say which units, such as 1-12, or how many weeks, such as --weeks 12")
    first, last = _range(units) if units else (None, None)
    _make(first, last, weeks=weeks, **options)


def _range(text: str) -> tuple[int, int]:
    first, dash, last = text.partition("-")
    if not (first.strip().isdigit() and (last.strip().isdigit() or not dash)):
        raise click.UsageError(f"{text!r} is no range of units; write it as 1-12")
    a, b = int(first), int(last or first)
    if a > b:
        raise click.UsageError(f"{text!r} runs backwards; write {b}-{a}")
    return a, b


def _make(
    first: int | None,
    last: int | None,
    *,
    home: str | None,
    out: str | None,
    learners: tuple[str, ...],
    only: tuple[str, ...],
    part: str | None,
    paper: str | None,
    plan_only: bool,
    trial: bool,
    replace: bool,
    seed: int | None,
    as_json: bool,
    quiet: bool,
    weeks: int | None = None,
) -> None:
    from kitbuilder.build import Progress, Request, make_pack, plan_pack, read_family
    from kitbuilder.telling import told_pack, told_plan

    root = family_root(home)
    request = Request(
        root,
        first,
        last,
        learners,
        only,
        part != "consumable",
        part != "durable",
        paper,
        seed,
        weeks,
        trial,
    )
    progress = Progress(progress_teller(quiet or as_json))
    family = read_family(request, ProblemLog())
    plan = plan_pack(family, request, progress)
    if plan_only:
        answer = told_plan(plan, family.home.press)
    else:
        answer = told_pack(
            make_pack(family, plan, packs_folder(home, out, root), replace_old=replace, progress=progress),
            plan,
            family.home.press,
        )
    tell_result(answer.lines, answer.data, as_json, quiet)


@click.command()
@click.argument("pack", metavar="PACK")
@click.argument("ids", nargs=-1, metavar="[ID ...]")
@click.option("--only", "kinds", multiple=True, metavar="KIND", help="pieces of this kind; may be repeated")
@click.option("--unit", "units", type=int, multiple=True, metavar="N", help="pieces of this unit; may be repeated")
@click.option("--learner", "learners", multiple=True, metavar="CODE", help="pieces of this child; may be repeated")
@click.option("--saying", multiple=True, metavar="TEXT", help="pieces that say this, such as d; may be repeated")
@click.option("--sheet", "sheets", multiple=True, metavar="WxH", help="an offcut to print on, such as 210x120mm")
@click.option("--plan", "plan_only", is_flag=True, help="say what would be printed, write nothing")
@click.option("--trial", is_flag=True, help="also write the first sheet of each file alone, to try it")
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
    plan_only: bool,
    trial: bool,
    home: str | None,
    out: str | None,
    as_json: bool,
    quiet: bool,
) -> None:
    """Print pieces of a pack again, the same as the first time. PACK is its folder; ID is printed on the piece."""
    from kitbuilder.load.definitions import load_press
    from kitbuilder.load.pack import read_pack
    from kitbuilder.pick import Choice
    from kitbuilder.reprint import make_reprint, plan_reprint, sheet_sizes
    from kitbuilder.telling import told_pack, told_plan

    if not (ids or kinds or units or learners or saying):
        raise click.UsageError("say what to print again: ids, or --only, --unit, --learner, --saying")
    folder = Path(pack)
    root = family_root(home)
    if not folder.exists() and (packs_folder(home, out, root) / pack).is_dir():
        folder = packs_folder(home, out, root) / pack
    made = read_pack(folder)
    press = load_press(root, str(made.manifest["files"][0]["paper"]) if made.manifest["files"] else None)
    plan = plan_reprint(made, Choice(ids, kinds, units, learners, saying), press, sheet_sizes(sheets), trial)
    if plan_only:
        answer = told_plan(plan.plan, press)
    else:
        answer = told_pack(make_reprint(made, plan, press, Path(out) if out else folder.parent), plan.plan, press)
    tell_result(answer.lines, answer.data, as_json, quiet)


@click.command()
@click.argument("units", metavar="N | N-M")
@making
@click.option("--png", metavar="DIR", help="also write every sheet as a picture")
@told
def preview(units: str, png: str | None, **options: Any) -> None:
    """Show the sheets with their cut lines as one page for a browser; no print files."""
    from kitbuilder.build import Progress, Request, make_preview, plan_pack, read_family

    first, last = _range(units)
    root = family_root(options["home"])
    request = Request(
        root,
        first,
        last if "-" in units else None,
        options["learners"],
        options["only"],
        options["part"] != "consumable",
        options["part"] != "durable",
        options["paper"],
        options["seed"],
        None,
    )
    progress = Progress(progress_teller(options["quiet"] or options["as_json"]))
    family = read_family(request, ProblemLog())
    plan = plan_pack(family, request, progress)
    path = make_preview(family, plan, packs_folder(options["home"], options["out"], root), Path(png) if png else None)
    tell_result([f"open {path} in a browser"], {"preview": str(path)}, options["as_json"], options["quiet"])
