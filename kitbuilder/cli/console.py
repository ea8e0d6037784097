"""What every command shares: options, printing, problems. Exit 0 done, 1 problems to fix, 2 wrong command."""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Callable, Sequence
from functools import wraps
from pathlib import Path
from typing import Any, TypeVar

import click

from kitbuilder.diagnostics import Problem, ProblemsFound

Command = TypeVar("Command", bound=Callable[..., Any])


def say(text: str = "", *, error: bool = False) -> None:
    """Print to any console: characters its encoding lacks are replaced, never a crash."""
    stream = sys.stderr if error else sys.stdout
    encoding = stream.encoding or "utf-8"
    click.echo(text.encode(encoding, "replace").decode(encoding), err=error)


def print_problems(problems: Sequence[Problem]) -> None:
    colour = sys.stderr.isatty() and "NO_COLOR" not in os.environ
    last_hint = ""
    for problem in problems:
        place = f"{problem.location}: " if problem.location else ""
        line = f"{place}{problem.message} [{problem.code}]"
        say(click.style(line, bold=True) if colour else line, error=True)
        # many words that cannot be read yet have the same remedy: say it once
        if problem.hint and problem.hint != last_hint:
            say(f"hint: {problem.hint}", error=True)
        last_hint = problem.hint
    if len(problems) > 1:
        say(f"{len(problems)} problems; nothing was written", error=True)


def told(command: Command) -> Command:
    """Run a command; print the problems a user can fix, and end with exit code 1."""

    @wraps(command)
    def run(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except ProblemsFound as found:
            if kwargs.get("as_json"):  # a programme that reads a document always gets one
                say(json.dumps({"problems": [p.data for p in found.problems]}, ensure_ascii=False))
            print_problems(found.problems)
            raise SystemExit(1) from None
        except KeyboardInterrupt:
            say("stopped; packs written before are as they were", error=True)
            raise SystemExit(1) from None

    return run  # type: ignore[return-value]  # same signature as the command


def family_root(home: str | None) -> Path:
    from kitbuilder.load.home import find_home

    return find_home(Path.cwd(), Path(home) if home else None)


def packs_folder(home: str | None, out: str | None, root: Path) -> Path:
    """Return where packs go: --out, else `out` in the family folder; beside you when the starter is used."""
    if out:
        return Path(out)
    from kitbuilder.artwork.shipped import shipped

    is_starter = root.resolve() == shipped("units").parent.resolve()
    folder = Path("out") if is_starter and home is None else root / "out"
    try:
        return folder.resolve().relative_to(Path.cwd().resolve())  # a short path is easier to read and to copy
    except ValueError:
        return folder


home_option = click.option("--home", metavar="DIR", help="the family folder (default: the nearest one upwards)")
out_option = click.option("--out", metavar="DIR", help="where packs are written (default: out in the family folder)")
json_option = click.option("--json", "as_json", is_flag=True, help="one JSON document on standard output, nothing else")
quiet_option = click.option("--quiet", is_flag=True, help="say nothing but problems")


def minutes_of(text: str) -> int:
    """Return the minutes written as 45min, 45 or 1h30."""
    found = re.fullmatch(r"(?:(\d{1,2})\s*h)?\s*(?:(\d{1,3})\s*(?:min|m)?)?", text.strip().lower())
    minutes = int(found[1] or 0) * 60 + int(found[2] or 0) if found else 0
    if not 10 <= minutes <= 600:
        raise click.UsageError(
            f"--evenings {text!r}: write how long a sitting is, such as 45min (10 minutes to 10 hours)"
        )
    return minutes


def making(command: Command) -> Command:
    """Add the options that every command making a pack has."""
    return planning(
        _with(
            command,
            click.option("--plan", "plan_only", is_flag=True, help="say what would be made, write nothing"),
            click.option("--trial", is_flag=True, help="also write the first sheet of each file alone, to try it"),
            click.option("--replace", is_flag=True, help="write over a pack of the same name"),
            click.option("--evenings", metavar="45min", help="split the guide into sittings of this length"),
        )
    )


def planning(command: Command) -> Command:
    """Add the options that every command planning a pack has: which children, kinds and paper, and how it answers."""
    return _with(
        command,
        home_option,
        out_option,
        click.option(
            "--learner", "learners", multiple=True, metavar="CODE", help="only for this child; may be repeated"
        ),
        click.option("--only", multiple=True, metavar="KIND", help="only this kind; may be repeated"),
        click.option("--durable", is_flag=True, help="only what is kept for years"),
        click.option("--consumable", is_flag=True, help="only what is used up"),
        click.option("--paper", metavar="NAME", help="a4, letter, legal, a3 or tabloid, instead of press.yaml's"),
        click.option("--seed", type=int, metavar="N", help="another choice of words and order"),
        json_option,
        quiet_option,
    )


def _with(command: Command, *options: Callable[[Command], Command]) -> Command:
    for option in reversed(options):
        command = option(command)
    return command


# how far a run is when a stage begins, by what stages of a term's run take
_STAGES = {"choosing": 2, "composing": 10, "folding": 40, "laying out sheets": 45, "print": 75, "guide": 88}
_BAR = 30  # characters


def progress_teller(silent: bool) -> Callable[[str], None]:
    """Return a teller of stages: a bar on stderr, to a terminal only, written over and wiped at the end."""
    if silent or not sys.stderr.isatty():
        return lambda name: None

    def tell(name: str) -> None:
        if not name:
            click.echo("\r\x1b[K", nl=False, err=True)
            return
        share = next((v for stage, v in _STAGES.items() if name.startswith(stage)), 95)
        done = _BAR * share // 100
        click.echo(f"\r\x1b[K[{'#' * done}{'.' * (_BAR - done)}] {name}", nl=False, err=True)

    return tell


def tell_result(lines: Sequence[str], data: Any, as_json: bool, quiet: bool) -> None:
    if as_json:
        say(json.dumps(data, ensure_ascii=False))
    elif not quiet:
        for line in lines:
            say(line)
