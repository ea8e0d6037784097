"""Where commands work, and how a new family folder comes to be."""

from __future__ import annotations

import pytest

from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.load import new_home as new_home_module
from kitbuilder.load.definitions import load_home
from kitbuilder.load.home import find_home
from kitbuilder.load.new_home import Child, new_home
from kitbuilder.load.schema import schema_files


def codes(found) -> list[str]:
    return [problem.code for problem in found.value.problems]


def test_the_nearest_folder_upwards_is_used(make_home, tmp_path):
    root = make_home({"01.yaml": "unit: 1\n"})
    deep = root / "out" / "week-01"
    deep.mkdir(parents=True)
    assert find_home(deep, None) == root
    assert find_home(root / "units", None) == root
    assert find_home(tmp_path, root) == root


def test_without_a_family_folder_the_starter_is_used(tmp_path):
    assert len(load_home(find_home(tmp_path, None)).units) >= 4


def test_units_without_a_sequence_are_not_passed_over_for_the_starter(tmp_path):
    (tmp_path / "units").mkdir()
    (tmp_path / "units" / "01.yaml").write_text("unit: 1\n")
    with pytest.raises(ProblemsFound) as found:
        find_home(tmp_path, None)
    assert codes(found) == ["missing-sequence"]


def test_a_named_folder_must_be_a_family_folder(tmp_path):
    for folder, code in ((tmp_path / "no", "missing-folder"), (tmp_path, "missing-sequence")):
        with pytest.raises(ProblemsFound) as found:
            find_home(tmp_path, folder)
        assert codes(found) == [code]


def test_a_new_folder_is_the_starter_with_the_answers_in_it(tmp_path):
    written = new_home(tmp_path / "ours", "letter", "uk", (Child("fern", 2, True), Child("oak")), "by-hand")
    home = load_home(tmp_path / "ours")
    assert (home.press.paper, home.press.printer.two_sided, home.sequence.accent) == ("letter", "by-hand", "uk")
    assert [(child.code, child.at, child.left_handed) for child in home.learners] == [
        ("fern", 2, True),
        ("oak", 1, False),
    ]
    assert all(path.is_file() for path in written)
    press = (tmp_path / "ours/units/press.yaml").read_text(encoding="utf-8")
    assert press.startswith("# yaml-language-server: $schema=.schema/press.json\n")
    assert "paper: letter             # a4, letter" in press, "comments stay"


def test_a_new_folder_without_answers_is_the_starter(tmp_path):
    new_home(tmp_path / "ours")
    starter = find_home(tmp_path, None) / "units"
    for path in (tmp_path / "ours/units").glob("*.yaml"):
        assert path.read_bytes() == (starter / path.name).read_bytes()


def test_every_new_file_names_a_schema_that_is_there(tmp_path):
    for path in new_home(tmp_path / "ours"):
        if path.suffix == ".yaml":
            first = path.read_text(encoding="utf-8").splitlines()[0]
            assert (path.parent / first.partition("$schema=")[2]).is_file()


def test_the_starters_schemas_are_those_of_the_models(tmp_path):
    folder = find_home(tmp_path, None) / "units" / ".schema"
    assert {path.name: path.read_text(encoding="utf-8") for path in folder.iterdir()} == schema_files()


@pytest.mark.parametrize(
    ("answers", "code"),
    [
        ({"paper": "a44"}, "unknown-paper"),
        ({"paper": "a: b"}, "unknown-paper"),
        ({"accent": "[us]"}, "unknown-choice"),
        ({"two_sided": ""}, "unknown-choice"),
        ({"children": (Child("Fern B"),)}, "not-a-code"),
        ({"children": (Child("fern", 99),)}, "no-such-unit"),
        ({"children": (Child("fern"), Child("fern"))}, "duplicate-learner"),
    ],
)
def test_an_answer_that_is_not_understood_writes_nothing(tmp_path, answers, code):
    with pytest.raises(ProblemsFound) as found:
        new_home(tmp_path / "ours", **answers)
    assert codes(found) == [code]
    assert not (tmp_path / "ours").exists()


def test_a_folder_that_holds_units_is_left_alone(tmp_path):
    (tmp_path / "units").mkdir()
    with pytest.raises(ProblemsFound) as found:
        new_home(tmp_path)
    assert codes(found) == ["folder-in-use"]
    assert list((tmp_path / "units").iterdir()) == []


def test_a_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "ours").write_text("a file")
    with pytest.raises(ProblemsFound) as found:
        new_home(tmp_path / "ours")
    assert codes(found) == ["unwritable-folder"]


def test_a_disk_that_fills_up_leaves_no_half_folder(tmp_path, monkeypatch):
    def full(source: object, target: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(new_home_module.os, "replace", full)
    with pytest.raises(ProblemsFound, match="no space left on device"):
        new_home(tmp_path / "ours")
    assert list((tmp_path / "ours").iterdir()) == []
