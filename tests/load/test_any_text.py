"""Whatever stands in a file, a parent reads problems or nothing: never a traceback, never a wait."""

from __future__ import annotations

from pathlib import Path

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.located_yaml import read_yaml
from kitbuilder.load.schema import MODELS
from kitbuilder.load.traps import watch_sentences
from kitbuilder.load.validation import validated

EXAMPLES = Path(__file__).parent.parent / "definitions"
SEEDS = tuple(path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.rglob("*.yaml")))
BITS = st.sampled_from(
    [
        "\n",
        "  ",
        "- ",
        ": ",
        "#",
        " #",
        '"',
        "'",
        "[",
        "]",
        "{",
        "}",
        ",",
        "\t",
        "&a",
        "*a",
        "!x",
        "|",
        "x",
        "\u00a0",
        "9",
        "é",
    ]
)


def problems_of(text: str) -> ProblemLog:
    log = ProblemLog()
    value = read_yaml(text, "f.yaml", log)
    for model in MODELS.values():
        if value is not None:
            validated(model, value, log)
            if isinstance(value, dict):
                watch_sentences(value, log)
    return log


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.sampled_from(SEEDS), st.lists(st.tuples(st.integers(0, 400), st.integers(0, 3), BITS), max_size=6))
def test_a_slip_of_the_pen_gives_problems_with_place_and_hint(text, slips):
    for at, drop, bit in slips:
        text = text[:at] + bit + text[at + drop :]
    lines = text.count("\n") + 1
    for problem in problems_of(text).problems:
        assert problem.hint
        assert problem.location is not None
        assert 1 <= problem.location.line <= lines + 1


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.text(max_size=60))
def test_any_characters_are_answered(text):
    problems_of(text)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.sampled_from(SEEDS), st.lists(st.tuples(st.integers(0, 400), BITS), max_size=3))
def test_texts_are_those_another_reader_finds(text, slips):
    """PyYAML's own loader without guesses (BaseLoader) reads the same, wherever nothing was told."""
    for at, bit in slips:
        text = text[:at] + bit + text[at:]
    log = ProblemLog()
    value = read_yaml(text, "f.yaml", log)
    if value is not None and not log.problems:
        assert plain(value) == trimmed(yaml.load(text.replace("\u00a0", " "), Loader=yaml.BaseLoader))


def plain(value: object) -> object:
    if isinstance(value, dict):
        return {str(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return str(value) if isinstance(value, str) else ""


def trimmed(value: object) -> object:
    if isinstance(value, dict):
        return {key: trimmed(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [trimmed(inner) for inner in value]
    return value.rstrip("\n") if isinstance(value, str) else value
