"""YAML as texts with places; the parser's own guesses and gifts are not used."""

from __future__ import annotations

import pickle

import pytest
import yaml

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.load import located_yaml
from kitbuilder.load.located_yaml import Empty, Listing, Mapping, read_yaml
from kitbuilder.model.text import Placed


@pytest.fixture(params=[getattr(yaml, "CLoader", yaml.Loader), yaml.Loader], ids=["in-c", "in-python"])
def read(request, monkeypatch):
    """Return a reader that must not find a problem; run with both parsers."""
    monkeypatch.setattr(located_yaml, "PARSER", request.param)

    def reading(source):
        log = ProblemLog()
        value = read_yaml(source, "f.yaml", log)
        assert log.problems == []
        return value

    return reading


def found(source) -> list[str]:
    log = ProblemLog()
    read_yaml(source, "f.yaml", log)
    return [f"{p.location.line}:{p.location.column} {p.code}" for p in log.problems]


def test_what_yaml_would_change_stays_the_text_that_was_written(read):
    # The values of the second line are those PyYAML's safe_load turns into True, None, 10, 1000.0, 90 and a date.
    words = ["no", "On", "null", "~", "012", "1e3", "1:30", "2026-01-01", "0x1F", "1_000"]
    assert yaml.safe_load(f"[{', '.join(words)}]") != words
    assert read(f"words: [{', '.join(words)}]\n")["words"] == words


def test_every_value_knows_its_line_and_column(read):
    value = read('a:\n  - dot\n  - "nod"\nb: {c: x}\n')
    assert isinstance(value, Mapping)
    assert isinstance(value["a"], Listing)
    assert value["a"].location == Location("f.yaml", 2, 3)
    assert value["a"].items[0].location == Location("f.yaml", 2, 5)
    assert value["a"][1].location == Location("f.yaml", 3, 6), "inside the quote"
    assert [key.location for key, _ in value.entries] == [Location("f.yaml", 1, 1), Location("f.yaml", 4, 1)]
    assert value["b"].location == Location("f.yaml", 4, 4)
    assert value["b"]["c"].location == Location("f.yaml", 4, 8)


def test_a_part_of_a_text_knows_where_it_starts(read):
    part = read("a: The red pan.\n")["a"].part(4, 7)
    assert (part, part.location) == ("red", Location("f.yaml", 1, 8))


def test_byte_order_mark_line_ends_and_hard_spaces_are_accepted(read):
    plain = read("a: dot nod\nb:\n  - x\n")
    assert read("\ufeffa: dot\u00a0nod\r\nb:\r\n\u00a0\u202f- x\r\n".encode()) == plain
    assert read("a: dot nod\rb:\r  - x\r") == plain


def test_lines_are_counted_as_an_editor_counts_them(read):
    assert read("a: x\u2028y\r\n\r\nb: z\n")["b"].location == Location("f.yaml", 3, 4)


def test_curly_quotes_stay_in_the_text(read):
    assert read("a: “Go!” said Nod.\nb: [‘x’]\n") == {"a": "“Go!” said Nod.", "b": ["‘x’"]}


def test_nothing_after_a_name_is_empty_and_quotes_are_a_text(read):
    value = read('a:\nb: ""\nc: # note\n')
    assert value["a"] == Empty(Location("f.yaml", 1, 3))
    assert value["b"] == ""
    assert value["c"].comment == " note"


def test_a_block_of_lines_keeps_its_lines(read):
    assert read("a: |\n  Dot can.\n  Nod can.\nb: >\n  one\n  two\n") == {"a": "Dot can.\nNod can.", "b": "one two"}


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("a: x\n".encode("utf-16"), ["1:1 not-utf-8"]),
        (b"a: x\nb: caf\xe9\n", ["2:7 not-utf-8"]),
        (b"a: 1\n" + b"#" * 1_000_000, ["1:1 file-too-large"]),
        ("a: x\nb: \x00y\n", ["2:4 unprintable-character"]),
        ("a: [" + "x," * 200_000 + "]", ["1:399999 too-many-values"]),
        ("a: " + "[" * 51 + "]" * 51, ["1:53 too-deep"]),
        ("a: " + "[" * 200_000, ["1:53 too-deep"]),
        ("- " * 100_000, ["1:101 too-deep"]),
        ("a: &x [b]\nc: *x\n", ["1:4 alias"]),
        ("a: *x\n", ["1:4 alias"]),
        ("a: !!python/object/apply:os.getcwd []\n", ["1:4 tag"]),
        ("a: x\na: y\n", ["2:1 duplicate-key"]),
        ("a: x\n--- \na: y\n", ["2:1 second-document"]),
        ("? [a]\n: b\n", ["1:3 not-a-key"]),
        ("", ["1:1 empty-file"]),
        ("# a note\n", ["1:1 empty-file"]),
        ("\n---\n", ["1:1 empty-file"]),
    ],
)
def test_what_is_refused_is_told_at_its_place(source, expected):
    assert found(source) == expected


def test_a_folder_or_a_missing_file_is_a_problem(tmp_path):
    assert found(tmp_path) == ["1:1 not-a-file"]
    assert found(tmp_path / "no.yaml") == ["1:1 not-a-file"]


def test_a_placed_text_is_a_text_that_survives_pickling():
    text = Placed("dot", Location("f.yaml", 2, 3), True, " note")
    again = pickle.loads(pickle.dumps(text))
    assert (again, again.location, again.plain, again.comment) == ("dot", Location("f.yaml", 2, 3), True, " note")
    assert text == "dot"
    assert {text: 1}["dot"] == 1
