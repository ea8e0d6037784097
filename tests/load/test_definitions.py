"""A family's folder as a whole: which files are read, how their problems come together, what stays in the model."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from kitbuilder.diagnostics import Location, ProblemLog, ProblemsFound
from kitbuilder.load.definitions import load_home
from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import mm

UNIT = """\
unit: 3
teach:
  - d as in desk
  - "o  as in otter"
booklets:
  - title: Tansy Nods
    pages: [Tansy can nod.]
materials:
  letter-card: {size: 70 x 100 mm, colour: grey, rows: [a, b]}
  sentence-strip: none
"""


def test_values_keep_the_places_they_had(load):
    unit = load({"03-tide.yaml": UNIT}).units[0]
    file = "units/03-tide.yaml"
    assert (unit.unit, unit.title, unit.file, unit.location) == (3, "Unit 3", file, Location(file, 1, 1))
    assert [(t.grapheme, t.keyword) for t in unit.teach] == [("d", "desk"), ("o", "otter")]
    assert unit.teach[0].keyword.location == Location(file, 3, 13)
    assert unit.teach[1].keyword.location == Location(file, 4, 15)
    assert unit.booklets[0].pages[0].text.location == Location(file, 7, 13)
    assert unit.booklets[0].making is None, "the kind decides"


def test_materials_keep_options_as_written(load):
    (kind, card), (other, strip) = load({"03.yaml": UNIT}).units[0].materials
    assert (kind, kind.location) == ("letter-card", Location("units/03.yaml", 9, 3))
    assert card.size == Size(mm(70), mm(100))
    assert card.options == (("colour", "grey"), ("rows", ("a", "b")))
    assert card.option("colour").location == Location("units/03.yaml", 9, 44)
    assert (other, strip.none) == ("sentence-strip", True)


def test_only_a_sequence_and_one_unit_must_be_there(load):
    home = load({"a.yaml": "unit: 2\n"})
    assert home.press.paper == "a4"
    assert [(learner.code, learner.at) for learner in home.learners] == [("reader", 2)]
    assert home.sequence.title == "Ours"
    assert "booklet" in home.sequence.kinds


def test_units_are_sorted_by_number_not_by_name(load):
    home = load({"b.yaml": "unit: 1\n", "a.yaml": "unit: 10\n", "C.YML": "unit: 2\n"})
    assert [unit.unit for unit in home.units] == [1, 2, 10]
    assert home.unit(10).file == "units/a.yaml"


def test_a_unit_that_is_not_there_is_told_with_those_that_are(load):
    home = load({"a.yaml": "unit: 1\n", "b.yaml": "unit: 2\n", "c.yaml": "unit: 4\n"})
    with pytest.raises(ProblemsFound, match=r"there is no unit 3.*\nhint: the units here are 1 to 2, 4"):
        home.unit(3)
    with pytest.raises(ProblemsFound, match="no learner 'owl'"):
        home.learner("owl")


def test_any_file_name_will_do(load):
    names = ["with space.yaml", "été.yaml", "con.yaml", "aux.yml", "ΣΦ.yaml", "#1.yaml", "-x.yaml"]
    home = load({name: f"unit: {number}\n" for number, name in enumerate(names, 1)})
    assert [unit.file for unit in home.units] == [f"units/{name}" for name in names]


def test_accents_of_file_names_have_one_spelling(load):
    assert load({"e\u0301te\u0301.yaml": "unit: 1\n"}).units[0].file == "units/\u00e9t\u00e9.yaml"


def test_what_editors_and_systems_leave_behind_is_not_read(load):
    left = {
        "._01.yaml": b"\x00\x05",
        ".DS_Store": b"\x00",
        "01.yaml~": "x",
        "01.yaml.bak": "x",
        "~$01.yaml": "x",
        "n.txt": "x",
    }
    assert len(load({"01.yaml": "unit: 1\n", **left}).units) == 1


def test_two_units_with_one_number_name_each_other(problems):
    told = problems({"a.yaml": "unit: 3\n", "b.yaml": "title: x\nunit: 03\n"})
    assert told.startswith("units/b.yaml:2:1: unit 3 is also in units/a.yaml [duplicate-unit]\nhint: ")


def test_a_hidden_text_ending_is_noticed(problems):
    told = problems({"01.yaml": "unit: 1\n", "02-tide.yaml.txt": "unit: 2\n"})
    assert told == (
        "units/02-tide.yaml.txt:1:1: this file is not read: its name ends in .txt [wrong-file-name]\n"
        "hint: rename it to 02-tide.yaml; your computer may hide the last ending\n"
    )


def test_a_file_with_nearly_the_name_of_another_is_noticed(problems):
    told = problems({"01.yaml": "unit: 1\n", "learner.yaml": "learners:\n  - {code: wren, at: 1}\n"})
    assert (
        "units/learner.yaml:1:1: this file is read as a unit; is it meant to be learners.yaml? [wrong-file-name]"
        in told
    )


def test_two_files_for_one_thing_are_noticed(problems):
    told = problems({"01.yaml": "unit: 1\n", "press.yaml": "paper: a4\n", "press.yml": "paper: letter\n"})
    assert told.startswith("units/press.yml:1:1: there is a press.yaml too; one of them is expected [two-files]")


def test_problems_of_all_files_come_at_once_sorted_by_place(problems):
    told = problems(
        {"02.yaml": "unit: 2\nwords: dot\n", "01.yaml": "unit: x\n", "press.yaml": "paper: a5x\nprinter:\n"}
    )
    assert [line.split(": ")[0] for line in told.splitlines() if line.startswith("units/")] == [
        "units/01.yaml:1:7",
        "units/02.yaml:2:8",
        "units/press.yaml:1:8",
        "units/press.yaml:2:9",
    ]


def test_problems_that_were_there_before_are_told_too(make_home):
    log = ProblemLog()
    log.add("something else", "other")
    with pytest.raises(ProblemsFound) as found:
        load_home(make_home({"01.yaml": "unit: x\n"}), log)
    assert [problem.code for problem in found.value.problems] == ["other", "not-a-whole-number"]


@pytest.mark.parametrize(
    ("made", "code"),
    [([], "missing-folder"), (["home"], "missing-folder"), (["home", "home/units"], "missing-sequence")],
)
def test_a_folder_without_definitions_is_told(tmp_path, made, code):
    for folder in made:
        (tmp_path / folder).mkdir()
    with pytest.raises(ProblemsFound) as found:
        load_home(tmp_path / "home")
    assert code in {problem.code for problem in found.value.problems}
    assert all(problem.hint for problem in found.value.problems)


def test_a_sequence_without_units_is_told(problems):
    assert problems({}).startswith("units/:1:1: there is no unit in the folder 'units' [no-units]")


def test_learners_are_not_blamed_for_a_unit_that_cannot_be_read(problems):
    told = problems(
        {"01.yaml": "unit: x\n", "02.yaml": "unit: 2\n", "learners.yaml": "learners:\n  - {code: wren, at: 1}\n"}
    )
    assert told.count("hint:") == 1


def test_a_year_of_units_is_read_in_a_moment(make_home):
    """36 units of 100 lines; measured 0.25 s on one slow core, the limit leaves room for a busy machine."""
    sentence = "  - The odd red hen is on the dock and can not nod.\n"
    page = "      - text: Tansy can nod on the dock.\n        picture: otter\n"
    text = (
        "teach: [d as in desk, o as in otter, a as in apple]\nwords: [dot, nod, don, dad, odd, and]\nsentences:\n"
        + sentence * 20
        + "booklets:\n  - title: Tansy\n    pages:\n"
        + page * 16
        + "  - title: Nod\n    pages:\n"
        + page * 16
    )
    root = make_home({f"{n:02}.yaml": f"unit: {n}\n{text}" for n in range(1, 37)})
    start = time.perf_counter()
    assert len(load_home(root).units) == 36
    assert time.perf_counter() - start < 2


def test_a_file_that_cannot_be_opened_is_told(make_home, monkeypatch):
    def locked(path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    root = make_home({"01.yaml": "unit: 1\n"})
    monkeypatch.setattr(Path, "read_bytes", locked)
    with pytest.raises(ProblemsFound, match=r"units/01.yaml:1:1: .*: permission denied \[unreadable-file\]"):
        load_home(root)


def test_a_folder_that_cannot_be_opened_is_told(make_home, monkeypatch):
    def locked(path: Path) -> None:
        raise PermissionError(13, "Permission denied")

    root = make_home({"01.yaml": "unit: 1\n"})
    monkeypatch.setattr(Path, "iterdir", locked)
    with pytest.raises(ProblemsFound, match="unreadable-folder"):
        load_home(root)
