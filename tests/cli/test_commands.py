"""Every command does what it says, for people and for programmes."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from kitbuilder.cli.main import main

Run = Callable[..., Result]
Family = Callable[..., Path]


def document(result: Result) -> object:
    """With --json: one JSON document on standard output and nothing else."""
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_a_new_folder_can_be_checked_and_made_at_once(run: Run, tmp_path: Path) -> None:
    assert run("new", "our home", "--paper", "letter", "--child", "fern:2", "--accent", "uk").exit_code == 0
    assert run("check", "--home", "our home").exit_code == 0
    assert run("week", "--home", "our home", "--quiet").exit_code == 0
    manifest = json.loads((tmp_path / "our home/out/week-02/manifest.json").read_bytes())
    assert {f["paper"] for f in manifest["files"]} == {"letter"}
    assert {r["learner"] for r in manifest["pieces"]} == {None, "fern"}
    again = run("new", "our home")
    assert again.exit_code == 1
    assert "folder-in-use" in again.stderr


def test_week_with_json_says_what_was_made(run: Run, family: Family) -> None:
    told = document(run("week", 1, "--home", family(), "--json"))
    assert isinstance(told, dict)
    assert Path(told["folder"]).is_dir()
    assert told["files"]
    assert all(row["sheets"] >= row["lower_bound"] for row in told["runs"])


def test_plan_writes_nothing(run: Run, family: Family) -> None:
    root = family()
    result = run("term", "1-1", "--home", root, "--plan")
    assert result.exit_code == 0
    assert "sheet" in result.stdout
    assert not (root / "out").exists()


def test_quiet_says_nothing(run: Run, family: Family) -> None:
    assert run("week", 1, "--home", family(), "--quiet").output == ""


def test_check_of_a_text_gives_verdicts_in_the_agreed_form(run: Run, family: Family) -> None:
    told = document(run("check", "--home", family(), "--unit", 1, "--text", "Odd did pat the 7", "--json"))
    assert isinstance(told, dict)
    assert told["unit"] == 1
    verdicts = {w["word"]: w for w in told["words"]}
    assert [verdicts[w]["verdict"] for w in ("Odd", "did", "pat", "the", "7")] == [
        "name", "decodable", "not-yet", "irregular", "unknown",
    ]  # fmt: skip
    assert verdicts["did"]["segments"] == [
        {"grapheme": "d", "phoneme": "D"}, {"grapheme": "i", "phoneme": "IH"}, {"grapheme": "d", "phoneme": "D"},
    ]  # fmt: skip
    assert {"grapheme": "p", "phoneme": "P", "unit": None} in verdicts["pat"]["missing"]
    plain = run("check", "--home", family(), "--unit", 1, "--text", "Odd did nod")
    assert plain.stdout == "yes: a child at unit 1 can read this\n"


def test_words_and_their_trial(run: Run) -> None:
    told = document(run("words", 3, "--json"))
    assert isinstance(told, dict)
    assert all(row["why"] for row in told["words"])
    tried = document(run("words", 3, "--try", "gom", "--try", "bed", "--json"))
    assert isinstance(tried, dict)
    assert [(row["word"], row["accepted"]) for row in tried["try"]] == [("gom", True), ("bed", False)]


def test_order_begins_as_asked(run: Run) -> None:
    told = document(run("order", "--start", "m,a", "--json"))
    assert isinstance(told, dict)
    graphemes = [row["grapheme"] for row in told["order"]]
    assert graphemes[:2] == ["m", "a"]
    assert len(set(graphemes)) == len(graphemes) >= 26


def test_the_starter_units_follow_the_computed_order(run: Run) -> None:
    from kitbuilder.artwork.shipped import shipped
    from kitbuilder.load.definitions import load_home

    told = document(run("order", "--json"))
    assert isinstance(told, dict)
    computed = [row["grapheme"] for row in told["order"]]
    taught = [str(t.grapheme) for unit in load_home(shipped("units").parent).units for t in unit.teach]
    first = list(dict.fromkeys(taught))
    assert first == computed[: len(first)]


def test_kinds_lists_every_kind_once(run: Run) -> None:
    rows = document(run("kinds", "--json"))
    assert isinstance(rows, list)
    names = [row["kind"] for row in rows]
    assert {"letter-card", "letter-tile", "sentence-strip", "fluency-grid", "booklet"} <= set(names)
    assert len(set(names)) == len(names)
    assert all(row["about"] for row in rows)


def test_schema_is_json(run: Run, tmp_path: Path) -> None:
    documents = document(run("schema"))
    assert isinstance(documents, dict)
    assert run("schema", "--write", tmp_path / "here").exit_code == 0
    assert {p.stem for p in (tmp_path / "here").iterdir()} == set(documents)


def test_the_starter_is_used_where_there_is_no_family_folder(run: Run, tmp_path: Path) -> None:
    assert run("week", 1, "--only", "letter-card", "--quiet").exit_code == 0
    assert (tmp_path / "out/week-01-letter-card/manifest.json").is_file()


def test_the_nearest_folder_upwards_is_used(run: Run, family: Family, monkeypatch: object) -> None:
    import os

    root = family()
    os.chdir(root / "units")
    assert run("week", 1, "--only", "letter-card", "--quiet").exit_code == 0
    assert (root / "out/week-01-letter-card").is_dir()


@pytest.mark.parametrize("child", ["wren:x", "wren:", "wren:²", "wren:-1"])
def test_a_child_at_no_unit_is_refused_and_nothing_is_written(run: Run, tmp_path: Path, child: str) -> None:
    result = run("new", "home", "--child", child)
    assert result.exit_code == 2
    assert "such as wren:3" in result.stderr
    assert not (tmp_path / "home").exists()


def test_children_may_be_named_with_commas_and_are_asked_for_again_when_not_understood(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("kitbuilder.cli.folder._can_ask", lambda: True)
    result = CliRunner().invoke(main, ["new", "our home"], input="letter\nuk\nn\nwren:three\nwren:3, otto\n")
    assert result.exit_code == 0, result.output
    assert "'wren:three' names no unit" in result.output
    assert '--home "our home"' in result.output
    text = (tmp_path / "our home/units/learners.yaml").read_text(encoding="utf-8")
    assert re.findall(r"code: (\w+)\n +at: (\d+)", text) == [("wren", "3"), ("otto", "1")]


@pytest.mark.parametrize(
    "words", [("week", 99), ("check", "--unit", 99, "--text", "a"), ("words", 99), ("preview", "8-99")]
)
def test_a_problem_is_a_document_on_stdout_and_lines_on_stderr(
    run: Run, family: Family, words: tuple[object, ...]
) -> None:
    result = run(*words, "--home", family(), "--json")
    assert result.exit_code == 1
    (problem,) = json.loads(result.stdout)["problems"]
    assert problem["code"] == "no-such-unit"
    assert result.stderr.startswith(f"{problem['message']} [no-such-unit]\nhint: {problem['hint']}")


@pytest.mark.parametrize("weeks", ["0", "-1", "x"])
def test_a_term_of_no_weeks_is_refused(run: Run, family: Family, weeks: str) -> None:
    root = family()
    assert run("term", "--weeks", weeks, "--home", root).exit_code == 2
    assert not (root / "out").exists()


def test_a_child_named_twice_gets_its_pages_once(run: Run, family: Family) -> None:
    root = family(learners="learners:\n  - code: wren\n    at: 1\n")
    once = document(run("week", 1, "--learner", "wren", "--plan", "--json", "--home", root))
    assert (
        document(run("week", 1, "--learner", "wren", "--learner", "wren", "--plan", "--json", "--home", root)) == once
    )
