"""What a parent sees on the test sheets, written into press.yaml: whole, comments kept, or not at all."""

from __future__ import annotations

from dataclasses import replace

import pypdfium2 as pdfium
import pytest
from click.testing import CliRunner

from kitbuilder.calibration import Answers, cleaned, questions, record, write_test
from kitbuilder.cli.main import main
from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.imposition.by_hand import ByHandProfile
from kitbuilder.imposition.printer_test import back_page, front_page, long_ruler_um
from kitbuilder.imposition.registration import back_area
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.imposition.workplace import back_rules, profile_of
from kitbuilder.load.definitions import load_press
from kitbuilder.load.new_home import new_home
from kitbuilder.measure.geometry import Rect
from kitbuilder.measure.paper import PAPERS
from kitbuilder.model.press import Press

BY_HAND = Answers(behind_a="B/2", behind_b="A/2", arrows="opposite", came_out="up", went_in="up", first_edge="top")
MM = 300 / 25.4


@pytest.fixture
def family(tmp_path):
    new_home(tmp_path / "home")
    return tmp_path / "home"


def press_text(family):
    return (family / "units" / "press.yaml").read_text(encoding="utf-8")


def test_answers_are_kept_whole_and_old_values_stay_as_comments(family):
    before = press_text(family)
    answers = replace(BY_HAND, right="0.5 mm", down="-1 mm", ruler="99.5 mm")
    record(family, load_press(family), answers)
    press = load_press(family)
    assert profile_of(press) == ByHandProfile("up", True, False, "short", "up")
    assert back_rules(press).offset.dx_um == 500
    assert back_rules(press).offset.dy_um == -1_000
    assert press.printer.scale_ppm == 995_000
    text = press_text(family)
    for old in ("# was face: down", "# was right: 0 mm", "# was scale: 100 %", "# was reversed-order: no"):
        assert old in text
    kept = [line.partition("#")[2] for line in before.splitlines() if "#" in line]
    assert all(comment in text for comment in kept)


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_a_file_without_a_printer_gets_one(family, ending):
    (family / "units" / "press.yaml").write_bytes(f"paper: letter   # ours{ending}".encode())
    record(family, load_press(family), Answers(right="-0.25 mm"))
    data = (family / "units" / "press.yaml").read_bytes().decode()
    assert data.startswith(f"paper: letter   # ours{ending}")
    assert data.count("\n") == data.count(ending)
    assert load_press(family).printer.back_offset_um == (-250, 0)


def test_a_family_without_press_yaml_gets_one(family):
    (family / "units" / "press.yaml").unlink()
    record(family, load_press(family), Answers(by_itself="no"))
    assert load_press(family).printer.two_sided == "by-hand"


@pytest.mark.parametrize(
    ("answers", "code", "sentence"),
    [
        (Answers(right="40 mm"), "back-offset", "a back offset of 40 mm is more than 10 mm"),
        (Answers(down="-4 cm"), "back-offset", "more than 10 mm"),
        (Answers(right="5"), "not-a-length", "has no unit"),
        (Answers(ruler="97 mm"), "page-was-scaled", "97.0 % of its length"),
        (Answers(ruler="99 mm", long_ruler="263 mm"), "contradicting-answers", "two different stories"),
        (Answers(by_itself="opposite"), "contradicting-answers", "on the other edge than 'long'"),
        (Answers(by_itself="perhaps"), "unknown-answer", "is no answer"),
        (Answers(behind_a="A/2"), "missing-answers", "behind B/1, the arrows"),
        (replace(BY_HAND, behind_a="A/2"), "contradicting-answers", "cannot be behind both"),
        (replace(BY_HAND, behind_b="nothing"), "contradicting-answers", "nothing is printed behind B/1"),
        (replace(BY_HAND, behind_b="A/1"), "contradicting-answers", "printed the fronts on two sides"),
        (replace(BY_HAND, arrows="left"), "contradicting-answers", "'same' or 'opposite', not 'left'"),
        (replace(BY_HAND, first_edge="left"), "unknown-answer", "'left' is no answer"),
        (Answers(), "no-answers", "no answer"),
    ],
)
def test_answers_that_cannot_be_are_told_in_one_sentence_and_nothing_is_written(family, answers, code, sentence):
    before = press_text(family)
    with pytest.raises(ProblemsFound) as found:
        record(family, load_press(family), answers)
    (problem,) = found.value.problems
    assert (problem.code, sentence in problem.message, bool(problem.hint)) == (code, True, True)
    assert press_text(family) == before
    assert [p.name for p in (family / "units").glob("press*")] == ["press.yaml"]


def test_the_starter_is_never_changed():
    from kitbuilder.artwork.shipped import shipped

    with pytest.raises(ProblemsFound, match="no family folder"):
        record(shipped("units").parent, Press(), Answers(right="1 mm"))


def test_answers_are_taken_as_people_write_them():
    given = Answers(behind_a=" a/2 ", behind_b="NOTHING", arrows="Same", came_out="UP ")
    assert cleaned(given) == Answers(behind_a="A/2", behind_b="nothing", arrows="same", came_out="up")


def test_the_command_writes_sheets_then_asks_one_question_after_another(family):
    run = CliRunner()
    made = run.invoke(main, ["calibrate", "--home", str(family)])
    assert made.exit_code == 0, made.output
    assert sorted(p.name for p in (family / "out" / "calibrate").iterdir()) == [
        "test-1-fronts.pdf", "test-2-backs.pdf", "test-3-both-sides.pdf"
    ]  # fmt: skip
    given = dict.fromkeys((q.answer for q in questions(load_press(family))), "")
    given |= {"by_itself": "same", "came_out": "down", "went_in": "up", "first_edge": "bottom"}
    given |= {"behind_a": "A/2", "behind_b": "B/2", "arrows": "same", "down": "0.5 mm"}
    typed = "".join(f"{answer}\n" for answer in given.values())
    told = run.invoke(main, ["calibrate", "--record", "--home", str(family)], input=typed)
    assert told.exit_code == 0, told.output
    assert profile_of(load_press(family)) == ByHandProfile("down", False, True, "short", "up")
    assert load_press(family).printer.back_offset_um == (0, 500)
    wrong = run.invoke(main, ["calibrate", "--home", str(family), "--right", "-40mm"])
    assert wrong.exit_code == 1
    assert "is more than 10 mm" in wrong.output


def test_an_answer_that_is_not_understood_is_asked_for_again_at_once(family):
    wrong = {"came_out": "sideways", "behind_a": "C/9", "right": "1", "down": "40 mm", "ruler": "100"}
    right = {"came_out": "Down", "went_in": "", "behind_a": "a/2", "behind_b": "B-2", "arrows": "same"}
    right |= {"right": "1 mm", "ruler": "100 mm"}
    typed = ""
    for question in questions(load_press(family)):
        typed += f"{wrong[question.answer]}\n" if question.answer in wrong else ""
        typed += f"{right.get(question.answer, '')}\n"
    told = CliRunner().invoke(main, ["calibrate", "--record", "--home", str(family)], input=typed)
    assert told.exit_code == 0, told.output
    assert told.output.count("Error: ") == len(wrong)
    assert "write a length with its unit" in told.output
    assert load_press(family).printer.back_offset_um == (1_000, 0)


def test_a_printer_without_two_sides_gets_no_third_sheet(tmp_path):
    by_hand = Press.model_validate({"printer": {"two-sided": "by-hand"}})
    write_test(Press(), tmp_path)
    test = write_test(by_hand, tmp_path)
    assert test.files == ("test-1-fronts.pdf", "test-2-backs.pdf")
    assert sorted(p.name for p in test.folder.iterdir()) == list(test.files), "an older third file is taken away"


def test_the_same_press_gives_the_same_bytes(tmp_path):
    files = [write_test(Press(), tmp_path / name).folder for name in "ab"]
    for name in ("test-1-fronts.pdf", "test-2-backs.pdf", "test-3-both-sides.pdf"):
        assert (files[0] / name).read_bytes() == (files[1] / name).read_bytes()


@pytest.mark.parametrize("paper", [*PAPERS, "100 mm x 150 mm", "297 mm x 210 mm"])
def test_every_line_of_the_test_lies_where_the_printer_can_reach(paper):
    press = Press.model_validate({"paper": paper})
    sheet, edges = (press.size.width.um, press.size.height.um), press.printer.edges
    frames = [front_page("A/1", *sheet, edges, (("one",) * 5, ("two",) * 8)), back_page("A/2", *sheet, edges)]
    for frame in frames:
        for item in frame.items:
            xs, ys = [], []
            if hasattr(item, "x1_um"):
                xs, ys = [item.x1_um, item.x2_um], [item.y1_um, item.y2_um]
            elif hasattr(item, "text"):
                xs, ys = [item.x_um], [item.y_um - item.size_um * 3 // 4, item.y_um]
            assert all(edges.left.um < x < sheet[0] - edges.right.um for x in xs), item
            assert all(edges.top.um < y < sheet[1] - edges.bottom.um for y in ys), item


def test_the_lines_measured_are_as_long_as_the_sheet_says(tmp_path):
    """Read back from a picture at 300 dpi: the long ruler of A4 is 260 mm, its first 100 mm end at a long tick."""
    folder = write_test(Press(), tmp_path).folder
    with pdfium.PdfDocument(folder / "test-1-fronts.pdf") as document:
        ink = document[0].render(scale=300 / 72, grayscale=True).to_numpy().squeeze() < 220
    left = ink[:, : round(30 * MM)]
    column = next(x for x in range(left.shape[1]) if left[:, x].any())
    rows = left[:, column].nonzero()[0]
    assert (rows[-1] - rows[0]) / MM == pytest.approx(long_ruler_um(297_000, Press().printer.edges) / 1000, abs=0.2)
    long_ticks = [y for y in rows if left[y, column : column + round(5 * MM)].all()]
    assert (long_ticks[-1] - long_ticks[0]) / MM == pytest.approx(260, abs=0.3)
    assert min(abs((y - rows[0]) / MM - 100) for y in long_ticks) < 0.2


def test_what_is_read_at_the_window_moves_backs_behind_their_fronts(tmp_path):
    """A printer that puts backs 1 mm left and 2 mm up: the front's lines stand at 1 right and 2 down of the scale."""
    folder = write_test(Press(), tmp_path).folder
    with pdfium.PdfDocument(folder / "test-2-backs.pdf") as document:
        back = document[0].render(scale=600 / 72, grayscale=True).to_numpy().squeeze() < 128
    pixel = 600 / 25.4
    middle = (back.shape[1] / 2, back.shape[0] / 2)
    row = round(middle[1] - 14 * pixel - 1.0 * pixel)  # through the short ticks of the scale across
    ticks = back[row, round(middle[0] - 6.3 * pixel) : round(middle[0] + 6.3 * pixel)].nonzero()[0]
    starts = [x for i, x in enumerate(ticks) if i == 0 or x - ticks[i - 1] > 2]
    assert len(starts) == 25, "half millimetres from 6 left to 6 right"
    press = Press.model_validate({"printer": {"back-offset": {"right": "1 mm", "down": "2 mm"}}})
    offset = back_rules(press).offset
    area = Rect(20_000, 30_000, 62_000, 87_000)
    meant, _ = back_area(area, 0, 210_000, 297_000, TwoSided.LONG)
    sent, _ = back_area(area, 0, 210_000, 297_000, TwoSided.LONG, offset)
    assert sent.moved(-1_000, -2_000) == meant, "what the printer takes away was added before"
