"""Print files on every paper and both edges; trial sheets; what to measure where no ruler fits."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Callable
from pathlib import Path

import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest

from kitbuilder.build import plan_pack, read_family
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.export.pack_folder import WrittenPack
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.request import Request

Family = Callable[..., Path]
Week = Callable[..., WrittenPack]
Judge = Callable[[Path], list[str]]


def planned(root: Path, **asked: object) -> PackPlan:
    request = Request(root, 1, **asked)  # type: ignore[arg-type]  # passed on as given
    return plan_pack(read_family(request, ProblemLog()), request)


@pytest.mark.parametrize("sides", ["long", "short"])
@pytest.mark.parametrize("paper", ["legal", "a3", "tabloid", "200 mm x 270 mm", "297 mm x 210 mm", "12 in x 12 in"])
def test_a_week_is_right_on_rarer_papers(family: Family, week: Week, judge_pack: Judge, paper: str, sides: str) -> None:
    assert judge_pack(week(family(paper, sides)).folder) == []


@pytest.mark.parametrize("edges", ["{left: 3 mm, top: 4 mm, right: 6 mm, bottom: 12 mm}", "{bottom: 0 mm}"])
def test_a_printer_with_uneven_edges_and_an_offset(family: Family, week: Week, judge_pack: Judge, edges: str) -> None:
    press = f"printer: {{two-sided: short, edges: {edges}, back-offset: {{right: 1.5 mm, down: -0.7 mm}}}}\n"
    pack = week(family(press=press))
    assert judge_pack(pack.folder) == []
    moved = {f["two_sided"]: f["back_offset_um"] for f in pack.manifest["files"]}
    assert moved["short-edge"] == [1_500, -700]
    assert moved["by-hand-backs"] == [1_500, -700]
    assert moved["by-hand-fronts"] == [0, 0]


def upright_lines(page: pdfium.PdfPage) -> list[tuple[float, float]]:
    """Where stroked upright lines stand, and how long they are, in mm; both sides of stroked boxes.

    The reader's bounds lie up to a stroke outside the ink: good to half a millimetre.
    """
    found = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        filled, stroked = ctypes.c_int(), ctypes.c_int()
        raw.FPDFPath_GetDrawMode(item, filled, stroked)
        if stroked.value and not filled.value:
            left, foot, right, head = (v * 25.4 / 72 for v in item.get_bounds())
            width = 0.15  # of such strokes, about: half of it lies on either side
            wide, long = right - left, head - foot
            found += [((left + right) / 2, long)] if wide < 1 else [(left + width / 2, long), (right - width / 2, long)]
    return found


class TestTrials:
    @pytest.mark.parametrize("sides", ["long", "by-hand"])
    def test_the_first_sheet_of_every_file_is_there_alone(
        self, family: Family, week: Week, judge_pack: Judge, sides: str
    ) -> None:
        pack = week(family(sides=sides), trial=True)
        assert judge_pack(pack.folder) == [], "the print files are as they were"
        files = {row["path"]: row for row in pack.manifest["files"]}
        trials = pack.manifest["trials"]
        assert [re.sub(r"-\d+-", "-", t["path"]).removeprefix("trial") for t in trials] == [
            re.sub(r"-\d+-", "-", name).removeprefix("print") for name in files
        ]
        for trial, (name, row) in zip(trials, files.items(), strict=True):
            assert (trial["two_sided"], trial["stock"]) == (row["two_sided"], row["stock"])
            with pdfium.PdfDocument(pack.folder / trial["path"]) as one, pdfium.PdfDocument(pack.folder / name) as all_:
                assert len(one) == trial["pages"] == (2 if row["two_sided"].endswith("edge") else 1)
                labels = [one.get_page_label(i) for i in range(len(one))]
                whole = [all_.get_page_label(i) for i in range(len(all_))]
                # by hand, the back of the first sheet may stand anywhere in its file
                assert set(labels) <= set(whole)
                assert all(re.match(r"[A-Z]+1 ", label) for label in labels)
                same = whole.index(labels[0])
                assert one[0].get_textpage().get_text_bounded() == all_[same].get_textpage().get_text_bounded()

    def test_a_front_and_its_back_share_a_number(self, family: Family, week: Week) -> None:
        names = [t["path"] for t in week(family(sides="by-hand"), trial=True).manifest["trials"]]
        fronts = [n.removesuffix("-fronts.pdf") for n in names if n.endswith("-fronts.pdf")]
        assert fronts
        assert fronts == [n.removesuffix("-backs.pdf") for n in names if n.endswith("-backs.pdf")]

    def test_nothing_is_tried_unasked(self, family: Family, week: Week) -> None:
        pack = week(family())
        assert pack.manifest["trials"] == []
        assert not list(pack.folder.glob("trial-*"))


class TestRulers:
    def test_a_file_with_a_ruler_names_no_lines(self, family: Family) -> None:
        plan = planned(family())
        ruled = [f for f in plan.files if any(p.sheet.has_ruler for p in f.pages)]
        assert ruled
        assert all(f.ruler == "" for f in ruled)

    def test_lines_named_in_its_place_measure_what_is_said(self, family: Family, week: Week) -> None:
        """A6 booklets fill their sheet: lines of their pages are named, and found again by another reader."""
        pack = week(family(sequence="kinds: [booklet]\nseed: 7\n"))
        (row,) = pack.manifest["files"]
        said = re.search(r"On sheet (\d+), the upright lines .* are ([\d.]+) mm apart", row["ruler"])
        assert said, row["ruler"]
        with pdfium.PdfDocument(pack.folder / row["path"]) as document:
            upright = [x for x, long in upright_lines(document[2 * int(said[1]) - 2]) if long >= 4]
        assert any(abs(b - a - float(said[2])) < 0.6 for a in upright for b in upright)

    def test_lines_far_apart_come_first(self, family: Family, week: Week) -> None:
        pack = week(family(sequence="kinds: [fluency-grid]\nseed: 7\n"))
        for row in pack.manifest["files"]:
            assert "100 %" in row["ruler"]
            assert re.search(r"are [\d.]+ mm apart", row["ruler"]) or "calibrate" in row["ruler"]

    def test_no_cut_lines_and_nothing_to_measure_is_said(self, family: Family) -> None:
        press = "cut-lines: none\n"
        plan = planned(family(press=press, sequence="kinds: [booklet]\nseed: 7\n"))
        assert "no lines to measure" in plan.files[0].ruler or "apart" in plan.files[0].ruler
