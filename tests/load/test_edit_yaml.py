"""One value edited: nothing else moves."""

from __future__ import annotations

import pytest

from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.load.edit_yaml import plain_or_quoted, set_value

TEXT = """\
# My printer
printer:
  back-offset:            # measured in May
    right: 0 mm           # to the right
    down: 0 mm
  edges: {left: 5 mm, top: 5 mm}

trimmer:
  blade: 320 mm
# the end
"""


def test_a_value_is_replaced_and_its_comment_stays_in_its_column():
    made = set_value(TEXT, ("printer", "back-offset", "right"), "-0.45 mm", keep_old_as_comment=False)
    assert made == TEXT.replace("right: 0 mm           #", "right: -0.45 mm       #")


def test_the_old_value_is_kept_as_a_comment_above():
    made = set_value(TEXT, ("printer", "back-offset", "down"), "0.2 mm", keep_old_as_comment=True)
    assert made == TEXT.replace("    down: 0 mm\n", "    # was down: 0 mm\n    down: 0.2 mm\n")
    again = set_value(made, ("printer", "back-offset", "down"), "0.3 mm", keep_old_as_comment=True)
    assert "    # was down: 0 mm\n    # was down: 0.2 mm\n    down: 0.3 mm\n" in again


def test_an_unchanged_value_leaves_no_comment():
    assert set_value(TEXT, ("trimmer", "blade"), "320 mm", keep_old_as_comment=True) == TEXT


def test_a_missing_name_is_added_to_its_mapping():
    made = set_value(TEXT, ("trimmer", "sheets"), "8", keep_old_as_comment=True)
    assert made == TEXT.replace("  blade: 320 mm\n", "  blade: 320 mm\n  sheets: 8\n")


def test_missing_mappings_are_added_with_their_names():
    made = set_value(TEXT, ("printer", "by-hand", "face"), "up", keep_old_as_comment=True)
    assert made == TEXT.replace("top: 5 mm}\n", "top: 5 mm}\n  by-hand:\n    face: up\n")
    assert set_value("", ("printer", "scale"), "99 %", True) == "printer:\n  scale: 99 %\n"
    assert set_value("# note\n", ("paper",), "a4", True) == "# note\npaper: a4\n"
    assert set_value("a: 1", ("b",), "2", True) == "a: 1\nb: 2"


def test_values_in_brackets_can_be_replaced_and_added():
    made = set_value(TEXT, ("printer", "edges", "left"), "4 mm", keep_old_as_comment=True)
    assert made == TEXT.replace("  edges: {left: 5 mm,", "  # was left: 5 mm\n  edges: {left: 4 mm,")
    made = set_value(TEXT, ("printer", "edges", "bottom"), "9 mm", keep_old_as_comment=False)
    assert made == TEXT.replace("top: 5 mm}", "top: 5 mm, bottom: 9 mm}")


def test_a_name_with_nothing_after_it_gets_its_value():
    assert set_value("paper:\ntitle: x\n", ("paper",), "a4", True) == "paper: a4\ntitle: x\n"


def test_windows_line_ends_stay():
    made = set_value(TEXT.replace("\n", "\r\n"), ("trimmer", "blade"), "300 mm", keep_old_as_comment=True)
    assert made == TEXT.replace("  blade: 320 mm", "  # was blade: 320 mm\n  blade: 300 mm").replace("\n", "\r\n")


def test_a_value_in_quotes_or_over_two_lines_is_replaced_whole():
    assert set_value('a: "x # y" # z\n', ("a",), "b", True) == '# was a: "x # y"\na: b # z\n'.replace(
        "b #", "b       #"
    )
    assert set_value("a: one\n  two\nb: c\n", ("a",), "x", False) == "a: x\nb: c\n"


@pytest.mark.parametrize(
    ("path", "value"), [(("printer",), "x"), (("trimmer", "blade", "x"), "y"), (("trimmer", "blade"), "[1]")]
)
def test_what_is_not_one_text_is_refused(path, value):
    with pytest.raises(ValueError, match="'"):
        set_value(TEXT, path, value, keep_old_as_comment=True)


def test_a_broken_file_is_told_not_edited():
    with pytest.raises(ProblemsFound):
        set_value("a: b: c\n", ("a",), "x", keep_old_as_comment=True)


@pytest.mark.parametrize(
    "text", ["a4", "no", "12", "a: b", "[x]", "# x", "it's", 'say "go"', "-x", "100 %", "x # y", "", "a\\b"]
)
def test_any_text_can_be_set(text):
    made = set_value(TEXT, ("trimmer", "blade"), plain_or_quoted(text), keep_old_as_comment=False)
    assert set_value(made, ("trimmer", "blade"), "320 mm", keep_old_as_comment=False) == TEXT
