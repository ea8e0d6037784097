"""Commands about the family folder: make it, check it, ask about words, list kinds."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from kitbuilder.cli.console import (
    family_root,
    home_option,
    json_option,
    print_problems,
    quiet_option,
    say,
    tell_result,
    told,
)
from kitbuilder.diagnostics import ProblemLog, stop


@click.command()
@click.argument("directory", metavar="DIR")
@click.option("--paper", metavar="NAME", help="a4, letter, legal, a3 or tabloid")
@click.option("--accent", type=click.Choice(["us", "uk"]), help="how the family speaks")
@click.option("--two-sided", type=click.Choice(["long", "short", "by-hand"]), help="how the printer prints both sides")
@click.option(
    "--child", "children", multiple=True, metavar="CODE[:UNIT]", help="a code for each child; may be repeated"
)
@told
def new(
    directory: str, paper: str | None, accent: str | None, two_sided: str | None, children: tuple[str, ...]
) -> None:
    """Make a family folder from the starter, ready to edit."""
    from kitbuilder.load.double_click import write_starters
    from kitbuilder.load.new_home import Child, new_home

    if not any((paper, accent, two_sided, children)) and _can_ask():
        paper = click.prompt("Paper in your printer", default="a4", type=str)
        accent = click.prompt("Accent", default="us", type=click.Choice(["us", "uk"]))
        turns = click.confirm("Does your printer print both sides by itself?", default=True)
        two_sided = "long" if turns else "by-hand"
        children = click.prompt(
            "A short code for each child, no real names, and the unit to start at; with spaces between",
            default="wren:1",
            value_proc=_codes,
        )
    made = tuple(Child(code, at) for code, at in map(_code_and_unit, children))
    new_home(Path(directory), paper, accent, made, two_sided)
    write_starters(Path(directory))
    say(f"{directory} is ready. Its units folder holds the files to change; any text editor will do.")
    typed = f'"{directory}"' if " " in directory else directory
    say(f"Then: kitbuilder check --home {typed}   and   kitbuilder week 1 --home {typed}")


def _can_ask() -> bool:
    return sys.stdin.isatty()


def _codes(answer: str) -> tuple[str, ...]:
    """Return the children of an answer such as `wren:3, otto`; one that is no child is asked for again."""
    children = tuple(answer.replace(",", " ").split())
    for child in children:
        _code_and_unit(child)
    return children


def _code_and_unit(child: str) -> tuple[str, int]:
    """Return the code and the unit of `wren:3`; unit 1 for `wren`."""
    code, colon, at = child.partition(":")
    if not colon:
        return code, 1
    if not (at.isascii() and at.isdigit()):
        raise click.UsageError(f"'{child}' names no unit: write a code, or a code and a unit, such as wren:3")
    return code, int(at)


@click.command()
@home_option
@click.option("--unit", type=int, metavar="N", help="the unit the child is at, with --text")
@click.option("--text", metavar="T", help="can a child at that unit read this text?")
@json_option
@quiet_option
@told
def check(home: str | None, unit: int | None, text: str | None, as_json: bool, quiet: bool) -> None:
    """Find all problems in the unit files; or say whether a child can read a text."""
    from kitbuilder.checking import check_family, check_words

    root = family_root(home)
    if text is not None:
        if unit is None:
            raise click.UsageError("--text needs --unit N: the unit the child is at")
        answer = check_words(root, unit, text)
        if as_json:
            say(json.dumps(answer.data, ensure_ascii=False))
        else:
            for line in answer.lines:
                say(line)
        return
    found = check_family(root)
    if as_json:
        say(json.dumps(found.data, ensure_ascii=False))
    if found.problems:
        print_problems(found.problems)
        raise SystemExit(1)
    if not quiet and not as_json:
        say(found.summary)


@click.command()
@click.argument("unit", type=int)
@click.option("--try", "tries", multiple=True, metavar="W", help="would this do as a made-up word? may be repeated")
@click.option("--seed", type=int, metavar="N", help="another choice")
@home_option
@json_option
@told
def words(unit: int, tries: tuple[str, ...], seed: int | None, home: str | None, as_json: bool) -> None:
    """Show decodable words, made-up words and a chain for a unit, with reasons."""
    from kitbuilder.listing import told_words

    answer = told_words(family_root(home), unit, tries, seed)
    tell_result(answer.lines, answer.data, as_json, False)


@click.command()
@click.option("--start", metavar="A,B,...", default="", help="a beginning that is fixed already")
@home_option
@json_option
@told
def order(start: str, home: str | None, as_json: bool) -> None:
    """Compute a letter order: which letters to teach when, by the words they open."""
    from kitbuilder.listing import told_order

    answer = told_order(family_root(home), [g.strip().lower() for g in start.split(",") if g.strip()])
    tell_result(answer.lines, answer.data, as_json, False)


@click.command()
@home_option
@json_option
@told
def kinds(home: str | None, as_json: bool) -> None:
    """List what can be made, with sizes and stocks."""
    from kitbuilder.load.templates import load_templates

    log = ProblemLog()
    templates = load_templates(family_root(home), log)
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
        say(json.dumps(rows, ensure_ascii=False))
        return
    widths = [max(len(str(r[c])) for r in rows) for c in ("kind", "size", "stock", "keep")]
    for r in rows:
        cells = [str(r[c]).ljust(w) for c, w in zip(("kind", "size", "stock", "keep"), widths, strict=True)]
        say("  ".join([*cells, str(r["about"])]))


def _size_text(sizes: Sequence[tuple[str, Any]]) -> str:
    texts = [str(size.size) if size.size else size.part for _, size in sizes]
    return " or ".join(dict.fromkeys(texts))


@click.command()
@click.option("--write", metavar="DIR", help="write the schema files into this folder")
@told
def schema(write: str | None) -> None:
    """Print the JSON Schema of the definition files, for editors."""
    from kitbuilder.load.schema import schema_documents

    documents = schema_documents()
    if write is None:
        say(json.dumps(documents, indent=1, ensure_ascii=False, sort_keys=True))
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
    say(f"{len(documents)} schema files are in {folder}")
