"""python -m kitbuilder.packing FILE.json: one line of JSON for each instance, the same whatever the hash seed."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from kitbuilder.packing.__main__ import main

INSTANCE = {
    "name": "cards",
    "sheet": [2000, 2870],
    "rotate": True,
    "items": [[620, 870, 24], [380, 380, 30], [1900, 450, 4]],
    "gutter": 0,
    "stack": 5,
}


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "jobs.json"
    path.write_text(json.dumps([INSTANCE, {**INSTANCE, "name": "few", "items": [[620, 870, 2]]}]), encoding="utf-8")
    return path


def test_each_instance_is_one_line_in_the_unit_of_the_file(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(file)]) == 0
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [line["name"] for line in lines] == ["cards", "few"]
    assert set(lines[0]) == {"name", "sheets", "lower_bound", "bound", "strokes", "layouts", "seconds"}
    assert lines[1]["sheets"] == lines[1]["lower_bound"] == 1
    part = lines[1]["layouts"][0]["parts"][0]
    assert {part["width"], part["height"]} == {620, 870}
    made = [0, 0, 0]
    for layout in lines[0]["layouts"]:
        for part in layout["parts"]:
            made[part["item"]] += layout["copies"]
    assert all(have >= wanted for have, (_, _, wanted) in zip(made, INSTANCE["items"], strict=True))


def test_name_chooses_one_instance(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(file), "--name", "few"]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 1


@pytest.mark.parametrize("content", ["{", "[1]", '[{"name": "x", "sheet": [1], "rotate": true, "items": []}]', "[]"])
def test_unreadable_files_are_named(tmp_path: Path, content: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.json"
    path.write_text(content, encoding="utf-8")
    assert main([str(path)]) == 1
    assert str(path) in capsys.readouterr().err


def test_unknown_name_and_missing_file_are_named(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(file), "--name", "none"]) == 1
    assert "none" in capsys.readouterr().err
    assert main([str(file) + "x"]) == 1


def test_part_that_does_not_fit_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "large.json"
    path.write_text(json.dumps([{**INSTANCE, "items": [[3000, 10, 1]]}]), encoding="utf-8")
    assert main([str(path)]) == 1
    assert "larger than the sheet" in capsys.readouterr().err


def test_answer_is_the_same_in_another_process_with_another_hash_seed(file: Path) -> None:
    answers = set()
    for seed in ("1", "2"):
        run = subprocess.run(
            [sys.executable, "-m", "kitbuilder.packing", str(file), "--name", "cards"],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
        )
        answer = json.loads(run.stdout)
        del answer["seconds"]
        answers.add(json.dumps(answer))
    assert len(answers) == 1
