"""The command `calibrate`: test sheets for a printer; answers by option or one by one."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

import click

from kitbuilder.cli.console import family_root, home_option, json_option, out_option, packs_folder, tell_result, told
from kitbuilder.diagnostics import ProblemsFound

if TYPE_CHECKING:
    from kitbuilder.calibration import Answers
    from kitbuilder.model.press import Press

_ANSWERS = (
    ("--behind-a", "behind_a", "A/2|B/2|nothing", "what is printed behind A/1"),
    ("--behind-b", "behind_b", "A/2|B/2|nothing", "what is printed behind B/1"),
    ("--arrows", "arrows", "same|opposite", "A/1 turned like the page of a book: where its two arrows point"),
    ("--came-out", "came_out", "up|down", "the printed side of the fronts as they came out"),
    ("--went-in", "went_in", "up|down", "the printed side when they were put back (usual: down)"),
    ("--first-edge", "first_edge", "top|bottom", "the edge of the pages that went in first (usual: top)"),
    ("--by-itself", "by_itself", "same|opposite|no", "the arrows of C, which the printer turned by itself"),
    ("--right", "right", "LENGTH", "how far right of the middle the front's line is, seen from the back; left: -1mm"),
    ("--down", "down", "LENGTH", "how far down its other line is; up: -1mm"),
    ("--ruler", "ruler", "LENGTH", "how long the line of 100 mm is"),
    ("--long-ruler", "long_ruler", "LENGTH", "how long the long line down the page is"),
)


def _answer_options(command: Callable[..., Any]) -> Callable[..., Any]:
    for flag, name, shown, about in reversed(_ANSWERS):
        command = click.option(flag, name, default="", metavar=shown, help=about)(command)
    return command


@click.command()
@click.option("--record", "ask", is_flag=True, help="ask what was seen, one question after another")
@_answer_options
@click.option("--paper", metavar="NAME", help="the paper of the test sheets, instead of press.yaml's")
@home_option
@out_option
@json_option
@told
def calibrate(ask: bool, paper: str | None, home: str | None, out: str | None, as_json: bool, **seen: str) -> None:
    """Write test sheets for your printer; with answers, note in press.yaml what was seen on them."""
    from kitbuilder.calibration import Answers, cleaned, record, write_test
    from kitbuilder.load.definitions import load_press, with_paper

    root = family_root(home)
    press = load_press(root)
    if paper:
        press = with_paper(press, paper)
    if not ask and not any(seen.values()):
        test = write_test(press, packs_folder(home, out, root))
        tell_result(test.lines, {"folder": str(test.folder), "files": list(test.files)}, as_json, False)
        return
    answers = Answers(**seen)
    if ask:
        answers = _asked(press, answers)
    made = record(root, press, cleaned(answers))
    lines = [f"{made.path} now says:", *(f"  {name}: {value}" for name, value in made.values)]
    lines.append("old values stay beside them as comments")
    tell_result(lines, {"file": str(made.path), "values": dict(made.values)}, as_json, False)


def _asked(press: Press, answers: Answers) -> Answers:
    """Return the answers with those added that were not given as options; an empty answer means: not looked at."""
    from dataclasses import replace

    from kitbuilder.calibration import Question, check_answer, questions

    def understood(question: Question, text: str) -> str:
        try:
            check_answer(question, text)
        except ProblemsFound as found:  # asked again at once: not all ten answers over again
            problem = found.problems[0]
            raise click.UsageError(f"{problem.message}; {problem.hint}" if problem.hint else problem.message) from None
        return text.strip()

    click.echo("Answer what you wrote on the first sheet; Enter alone passes over a question.", err=True)
    for question in questions(press):
        if getattr(answers, question.answer):
            continue
        choices = f" ({' / '.join(question.words)})" if question.words else ""
        text = click.prompt(
            f"{question.text}{choices}?",
            default="",
            show_default=False,
            prompt_suffix=" ",
            err=True,
            value_proc=partial(understood, question),
        )
        answers = replace(answers, **{question.answer: text})
    return answers
