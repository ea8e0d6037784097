"""Pairs of small files: what a parent wrote, and what they read then. `err/NAME.yaml` prints `err/NAME.out`."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from kitbuilder.load import located_yaml

EXAMPLES = Path(__file__).parent.parent / "definitions"
BAD = sorted((EXAMPLES / "err").glob("*.yaml"))
GOOD = sorted((EXAMPLES / "ok").glob("*.yaml"))
PARSERS = [getattr(yaml, "CLoader", yaml.Loader), yaml.Loader]


def name(path: Path) -> str:
    return path.stem


@pytest.mark.parametrize("parser", PARSERS, ids=["parser-in-c", "parser-in-python"])
@pytest.mark.parametrize("path", BAD, ids=name)
def test_bad_file_prints_its_problems(path, parser, problems, as_home, monkeypatch):
    monkeypatch.setattr(located_yaml, "PARSER", parser)
    assert problems(as_home(path)) == path.with_suffix(".out").read_text(encoding="utf-8")


@pytest.mark.parametrize("parser", PARSERS, ids=["parser-in-c", "parser-in-python"])
@pytest.mark.parametrize("path", GOOD, ids=name)
def test_good_file_is_silent(path, parser, problems, as_home, monkeypatch):
    monkeypatch.setattr(located_yaml, "PARSER", parser)
    assert problems(as_home(path)) == ""


def test_every_problem_stands_in_one_line_with_place_code_and_hint():
    shape = re.compile(r"units/[^:]+:\d+:\d+: .+ \[[a-z0-9_-]+\]\nhint: .+\n")
    for path in BAD:
        text = path.with_suffix(".out").read_text(encoding="utf-8")
        assert re.fullmatch(f"({shape.pattern})+", text), path.name
