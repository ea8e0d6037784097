"""The command line: reads options, calls the run, prints problems. Exit 0 done, 1 problems to fix, 2 wrong command."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Sequence
from functools import wraps
from pathlib import Path
from typing import Any, TypeVar

import click

from kitbuilder import __version__
from kitbuilder.diagnostics import Problem, ProblemLog, ProblemsFound, stop

Command = TypeVar("Command", bound=Callable[..., Any])


def _say(text: str = "", *, error: bool = False) -> None:
    """Print to any console: characters its encoding lacks are replaced, never a crash."""
    stream = sys.stderr if error else sys.stdout
    encoding = stream.encoding or "utf-8"
    click.echo(text.encode(encoding, "replace").decode(encoding), err=error)


def _print_problems(problems: Sequence[Problem]) -> None:
    colour = sys.stderr.isatty() and "NO_COLOR" not in os.environ
    last_hint = ""
    for problem in problems:
        place = f"{problem.location}: " if problem.location else ""
        line = f"{place}{problem.message} [{problem.code}]"
        _say(click.style(line, bold=True) if colour else line, error=True)
        # many words that cannot be read yet have the same remedy: say it once
        if problem.hint and problem.hint != last_hint:
            _say(f"hint: {problem.hint}", error=True)
        last_hint = problem.hint
    if len(problems) > 1:
        _say(f"{len(problems)} problems; nothing was written", error=True)


def _told(command: Command) -> Command:
    """Run a command; print the problems a user can fix, and end with exit code 1."""

    @wraps(command)
    def run(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except ProblemsFound as found:
            _print_problems(found.problems)
            raise SystemExit(1) from None
        except KeyboardInterrupt:
            _say("stopped; packs written before are as they were", error=True)
            raise SystemExit(1) from None

    return run  # type: ignore[return-value]  # same signature as the command


def _root(home: str | None) -> Path:
    from kitbuilder.load.home import find_home

    return find_home(Path.cwd(), Path(home) if home else None)


def _out(home: str | None, out: str | None, root: Path) -> Path:
    """Return where packs go: --out, else `out` in the family folder; beside you when the starter is used."""
    if out:
        return Path(out)
    from kitbuilder.artwork.shipped import shipped

    is_starter = root.resolve() == shipped("units").parent.resolve()
    return Path("out") if is_starter and home is None else root / "out"


_home = click.option("--home", metavar="DIR", help="the family folder (default: the nearest one upwards)")
_out_option = click.option("--out", metavar="DIR", help="where packs are written (default: out in the family folder)")
_json = click.option("--json", "as_json", is_flag=True, help="one JSON document on standard output, nothing else")
_quiet = click.option("--quiet", is_flag=True, help="say nothing but problems")


def _making(command: Command) -> Command:
    """Add the options that every command making a pack has."""
    options = (
        _home,
        _out_option,
        click.option(
            "--learner", "learners", multiple=True, metavar="CODE", help="only for this child; may be repeated"
        ),
        click.option("--only", multiple=True, metavar="KIND", help="only this kind; may be repeated"),
        click.option("--durable", "part", flag_value="durable", help="only what is kept for years"),
        click.option("--consumable", "part", flag_value="consumable", help="only what is used up"),
        click.option("--paper", metavar="NAME", help="a4, letter, legal, a3 or tabloid, instead of press.yaml's"),
        click.option("--plan", "plan_only", is_flag=True, help="say what would be made, write nothing"),
        click.option("--replace", is_flag=True, help="write over a pack of the same name"),
        click.option("--seed", type=int, metavar="N", help="another choice of words and order"),
        _json,
        _quiet,
    )
    for option in reversed(options):
        command = option(command)
    return command


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="%(prog)s %(version)s")
def main() -> None:
    """Print-ready phonics kits from short unit files: cards, tiles, strips, booklets and pages."""


@main.command()
@click.argument("directory", metavar="DIR")
@click.option("--paper", metavar="NAME", help="a4, letter, legal, a3 or tabloid")
@click.option("--accent", type=click.Choice(["us", "uk"]), help="how the family speaks")
@click.option("--two-sided", type=click.Choice(["long", "short", "by-hand"]), help="how the printer prints both sides")
@click.option("--child", "children", multiple=True, metavar="CODE[:UNIT]", help="a code for each child; may be repeated")
@_told
def new(
    directory: str, paper: str | None, accent: str | None, two_sided: str | None, children: tuple[str, ...]
) -> None:
    """Make a family folder from the starter, ready to edit."""
    from kitbuilder.load.new_home import Child, new_home

    if not any((paper, accent, two_sided, children)) and sys.stdin.isatty():
        paper = click.prompt("Paper in your printer", default="a4", type=str)
        accent = click.prompt("Accent", default="us", type=click.Choice(["us", "uk"]))
        turns = click.confirm("Does your printer print both sides by itself?", default=True)
        two_sided = "long" if turns else "by-hand"
        codes = click.prompt("A short code for each child, no real names, with spaces between", default="wren", type=str)
        children = tuple(codes.split())
    made = tuple(Child(code, int(at) if at.isdigit() else 1) for code, _, at in (c.partition(":") for c in children))
    new_home(Path(directory), paper, accent, made, two_sided)
    _say(f"{directory} is ready. Its units folder holds the files to change; any text editor will do.")
    _say(f"Then: kitbuilder check --home {directory}   and   kitbuilder week 1 --home {directory}")


@main.command()
@_home
@click.option("--unit", type=int, metavar="N", help="the unit the child is at, with --text")
@click.option("--text", metavar="T", help="can a child at that unit read this text?")
@_json
@_quiet
@_told
def check(home: str | None, unit: int | None, text: str | None, as_json: bool, quiet: bool) -> None:
    """Find all problems in the unit files; or say whether a child can read a text."""
    from kitbuilder.checking import check_family, check_words

    root = _root(home)
    if text is not None:
        if unit is None:
            raise click.UsageError("--text needs --unit N: the unit the child is at")
        answer = check_words(root, unit, text)
        if as_json:
            _say(json.dumps(answer.data, ensure_ascii=False))
        else:
            for line in answer.lines:
                _say(line)
        return
    found = check_family(root)
    if as_json:
        _say(json.dumps(found.data, ensure_ascii=False))
    if found.problems:
        _print_problems(found.problems) if not as_json else None
        raise SystemExit(1)
    if not quiet and not as_json:
        _say(found.summary)


@main.command()
@click.argument("unit", type=int, required=False)
@_making
@_told
def week(unit: int | None, **options: Any) -> None:
    """Make unit UNIT's pack; without a number, the pack for each child's unit now."""
    _make(unit, None, **options)


@main.command()
@click.argument("units", metavar="N-M", required=False)
@click.option("--weeks", type=int, metavar="N", help="the next N units of each child from where they are")
@_making
@_told
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
    replace: bool,
    seed: int | None,
    as_json: bool,
    quiet: bool,
    weeks: int | None = None,
) -> None:
    from kitbuilder.build import Progress, Request, make_pack, plan_pack, read_family
    from kitbuilder.telling import told_pack, told_plan

    root = _root(home)
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
    )
    progress = Progress(_progress(quiet or as_json))
    family = read_family(request, ProblemLog())
    plan = plan_pack(family, request, progress)
    if plan_only:
        told = told_plan(plan, family.home.press)
    else:
        told = told_pack(
            make_pack(family, plan, _out(home, out, root), replace_old=replace, progress=progress),
            plan,
            family.home.press,
        )
    _tell_result(told.lines, told.data, as_json, quiet)


def _progress(silent: bool) -> Callable[[str], None]:
    """Return a teller of stages: on stderr, to a terminal only, one line that is written over."""
    if silent or not sys.stderr.isatty():
        return lambda name: None

    def tell(name: str) -> None:
        click.echo(f"\r\x1b[K{name} ..." if name else "\r\x1b[K", nl=False, err=True)

    return tell


def _tell_result(lines: Sequence[str], data: Any, as_json: bool, quiet: bool) -> None:
    if as_json:
        _say(json.dumps(data, ensure_ascii=False))
    elif not quiet:
        for line in lines:
            _say(line)


@main.command()
@click.argument("pack", metavar="PACK")
@click.argument("ids", nargs=-1, metavar="[ID ...]")
@click.option("--only", "kinds", multiple=True, metavar="KIND", help="pieces of this kind; may be repeated")
@click.option("--unit", "units", type=int, multiple=True, metavar="N", help="pieces of this unit; may be repeated")
@click.option("--learner", "learners", multiple=True, metavar="CODE", help="pieces of this child; may be repeated")
@click.option("--saying", multiple=True, metavar="TEXT", help="pieces that say this, such as d; may be repeated")
@click.option("--sheet", "sheets", multiple=True, metavar="WxH", help="an offcut to print on, such as 210x120mm")
@click.option("--plan", "plan_only", is_flag=True, help="say what would be printed, write nothing")
@_home
@_out_option
@_json
@_quiet
@_told
def reprint(
    pack: str,
    ids: tuple[str, ...],
    kinds: tuple[str, ...],
    units: tuple[int, ...],
    learners: tuple[str, ...],
    saying: tuple[str, ...],
    sheets: tuple[str, ...],
    plan_only: bool,
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
    root = _root(home)
    if not folder.exists() and (_out(home, out, root) / pack).is_dir():
        folder = _out(home, out, root) / pack
    made = read_pack(folder)
    press = load_press(root, str(made.manifest["files"][0]["paper"]) if made.manifest["files"] else None)
    plan = plan_reprint(made, Choice(ids, kinds, units, learners, saying), press, sheet_sizes(sheets))
    if plan_only:
        told = told_plan(plan.plan, press)
    else:
        told = told_pack(make_reprint(made, plan, press, Path(out) if out else folder.parent), plan.plan, press)
    _tell_result(told.lines, told.data, as_json, quiet)


@main.command()
@click.argument("units", metavar="N | N-M")
@_making
@click.option("--png", metavar="DIR", help="also write every sheet as a picture")
@_told
def preview(units: str, png: str | None, **options: Any) -> None:
    """Show the sheets with their cut lines as one page for a browser; no print files."""
    from kitbuilder.build import Progress, Request, make_preview, plan_pack, read_family

    first, last = _range(units)
    root = _root(options["home"])
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
    progress = Progress(_progress(options["quiet"] or options["as_json"]))
    family = read_family(request, ProblemLog())
    plan = plan_pack(family, request, progress)
    path = make_preview(family, plan, _out(options["home"], options["out"], root), Path(png) if png else None)
    _tell_result([f"open {path} in a browser"], {"preview": str(path)}, options["as_json"], options["quiet"])


@main.command()
@_home
@_json
@_told
def kinds(home: str | None, as_json: bool) -> None:
    """List what can be made, with sizes and stocks."""
    from kitbuilder.load.templates import load_templates

    log = ProblemLog()
    templates = load_templates(_root(home), log)
    log.stop_if_any()
    rows = [
        {
            "kind": k.name,
            "code": k.code,
            "size": _size_text(k.sizes),
            "stock": k.stock,
            "keep": "kept" if k.durable else "used up",
            "about": k.about,
        }
        for k in templates.kinds.values()
    ]
    if as_json:
        _say(json.dumps(rows, ensure_ascii=False))
        return
    widths = [max(len(str(r[c])) for r in rows) for c in ("kind", "size", "stock", "keep")]
    for r in rows:
        cells = [str(r[c]).ljust(w) for c, w in zip(("kind", "size", "stock", "keep"), widths, strict=True)]
        _say("  ".join([*cells, str(r["about"])]))


def _size_text(sizes: Sequence[tuple[str, Any]]) -> str:
    texts = [str(size.size) if size.size else size.part for _, size in sizes]
    return " or ".join(dict.fromkeys(texts))


@main.command()
@click.option("--write", metavar="DIR", help="write the schema files into this folder")
@_told
def schema(write: str | None) -> None:
    """Print the JSON Schema of the definition files, for editors."""
    from kitbuilder.load.schema import schema_documents

    documents = schema_documents()
    if write is None:
        _say(json.dumps(documents, indent=1, ensure_ascii=False, sort_keys=True))
        return
    folder = Path(write)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, document in sorted(documents.items()):
            text = json.dumps(document, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
            (folder / f"{name}.json").write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise stop(
            f"nothing can be written to {folder}: {error.strerror}", "cannot-write", "choose another folder"
        ) from None
    _say(f"{len(documents)} schema files are in {folder}")


if __name__ == "__main__":
    main()
