"""A guide read step by step against the manifest: nothing missing, nothing twice, minutes that add up."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from kitbuilder.artwork.frame import texts_of
from kitbuilder.artwork.piece import Making
from kitbuilder.imposition.marks import RULER_TEXT
from kitbuilder.imposition.print_files import trial_files
from kitbuilder.manifest import manifest_of
from kitbuilder.model.press import Press
from kitbuilder.model.templates import CAUTIONS
from kitbuilder.prep.cautions import BY_NAME, SMALL_PARTS, STAPLES
from kitbuilder.prep.ink_use import InkUse
from kitbuilder.prep.prepare import prepare
from kitbuilder.prep.steps import LayoutPicture, Prep, StepKind

CASES = [(3, None, None), (1, 4, None), (1, 4, "letter")]


def manifest(plan: Any) -> dict[str, Any]:
    return manifest_of(plan, {file.name: "" for file in plan.files})


def of(prep: Prep, *kinds: StepKind) -> list[Any]:
    return [step for step in prep.steps if step.kind in kinds]


@pytest.mark.parametrize(("first", "last", "paper"), CASES)
def test_every_stroke_of_the_manifest_is_in_the_guide_once_and_in_order(
    starter_plan: Any, first: int, last: int | None, paper: str | None
) -> None:
    plan, press = starter_plan(first, last, paper)
    told = [
        (step.picture.layout, line.number)
        for step in of(prepare(plan, press), StepKind.CUT)
        for each in step.passes
        for line in each.strokes
    ]
    wanted = [(layout["id"], cut["stroke"]) for layout in manifest(plan)["layouts"] for cut in layout["cuts"]]
    assert wanted
    assert told == list(dict.fromkeys(wanted))  # one stroke may cut several strips side by side: a row for each


@pytest.mark.parametrize(("first", "last", "paper"), CASES)
def test_every_edge_stop_setting_is_the_manifests(
    starter_plan: Any, first: int, last: int | None, paper: str | None
) -> None:
    plan, press = starter_plan(first, last, paper)
    told = {
        (step.picture.layout, line.number): line.setting
        for step in of(prepare(plan, press), StepKind.CUT)
        for each in step.passes
        for line in each.strokes
    }
    for layout in manifest(plan)["layouts"]:
        for cut in layout["cuts"]:
            number, unit = told[layout["id"], cut["stroke"]].split(" ")
            assert unit == "mm"
            assert abs(float(number) * 1000 - cut["fence_um"]) <= 250


@pytest.mark.parametrize(("first", "last", "paper"), CASES)
def test_every_pile_is_sorted_once(starter_plan: Any, first: int, last: int | None, paper: str | None) -> None:
    plan, press = starter_plan(first, last, paper)
    told = [pile for step in of(prepare(plan, press), StepKind.SORT) for row in step.rows for pile in row.ids]
    assert told == [pile["id"] for pile in manifest(plan)["piles"]]


@pytest.mark.parametrize(("first", "last", "paper"), CASES)
def test_every_folded_flat_is_folded_once(starter_plan: Any, first: int, last: int | None, paper: str | None) -> None:
    plan, press = starter_plan(first, last, paper)
    told = Counter(flat for step in of(prepare(plan, press), StepKind.FOLD) for row in step.rows for flat in row.ids)
    wanted = {row["id"] for row in manifest(plan)["pieces"] if row["pages"]}
    assert wanted
    assert told == Counter(wanted)


@pytest.mark.parametrize(("first", "last", "paper"), CASES)
def test_every_stack_is_cut_and_every_file_printed_once(
    starter_plan: Any, first: int, last: int | None, paper: str | None
) -> None:
    plan, press = starter_plan(first, last, paper)
    prep = prepare(plan, press)
    rows = manifest(plan)
    files = [dict(step.settings)["File"] for step in of(prep, StepKind.PRINT)]
    assert files == [file["path"] for file in rows["files"]]
    cut = {layout["id"] for layout in rows["layouts"] if layout["cuts"]}
    stacks = {f"{sheet['layout']}{sheet['stack']}" for sheet in rows["sheets"] if sheet["layout"] in cut}
    told = [name for step in of(prep, StepKind.CUT) for row in step.rows for name in row.ids]
    assert sorted(told) == sorted(stacks)


@pytest.mark.parametrize(("first", "last", "paper"), CASES)
def test_totals_are_the_manifests_and_minutes_add_up(
    starter_plan: Any, first: int, last: int | None, paper: str | None
) -> None:
    plan, press = starter_plan(first, last, paper)
    prep, rows = prepare(plan, press), manifest(plan)
    assert prep.totals.sheets == len(rows["sheets"])
    assert prep.totals.sides == sum(file["pages"] for file in rows["files"])
    assert prep.totals.strokes == sum(run["strokes"] for run in rows["runs"])
    assert prep.totals.minutes == sum(step.minutes for step in prep.steps)
    assert prep.totals.minutes == prep.minutes_of(*StepKind)
    assert [step.number for step in prep.steps] == list(range(1, len(prep.steps) + 1))


def test_minutes_of_a_cut_are_worked_out_by_hand(press_of: Any, plan_of: Any, flat_piece: Any) -> None:
    """One card of 60 x 90 mm: square the stack 1, each stroke 2, the stop moved 3; all four settings differ."""
    minutes = {"square-stack": "1 min", "stroke": "2 min", "set-stop": "3 min"}
    press = press_of(minutes=minutes, spare_slots="blank")
    plan = plan_of([flat_piece(1, 60, 90)], press)
    (step,) = of(prepare(plan, press), StepKind.CUT)
    strokes = plan.layouts()[0].strokes
    moves = 1 + sum(a.fence_um != b.fence_um for a, b in pairwise(strokes))
    assert step.minutes == 1 + 2 * max(s.number for s in strokes) + 3 * moves


def test_fronts_are_put_back_between_fronts_and_backs(starter_plan: Any) -> None:
    plan, press = starter_plan(3)
    kinds = [(step.kind, dict(step.settings).get("File", "")) for step in prepare(plan, press).steps]
    at = next(n for n, (kind, _) in enumerate(kinds) if kind is StepKind.RELOAD)
    assert "fronts" in kinds[at - 1][1]
    assert "backs" in kinds[at + 1][1]


def test_every_sentence_about_the_reload_is_said_once(starter_plan: Any) -> None:
    plan, press = starter_plan(3)
    wanted = next(file.reload for file in plan.files if file.reload)
    said = Counter(s for step in prepare(plan, press).steps for s in step.sentences)
    assert [said[sentence] for sentence in wanted] == [1] * len(wanted)


def test_blades_are_for_grown_ups_and_say_so(starter_plan: Any) -> None:
    plan, press = starter_plan(3)
    steps = of(prepare(plan, press), StepKind.CUT)
    assert steps
    for step in steps:
        assert step.blade
        assert not step.children_may_help
        assert any("blade" in caution for caution in step.cautions)
        assert isinstance(step.picture, LayoutPicture)


@pytest.mark.parametrize(
    ("making", "pages", "kinds", "staples"),
    [
        (Making.SADDLE, 8, [StepKind.FOLD, StepKind.STAPLE], "2"),
        (Making.SADDLE, 48, [StepKind.FOLD, StepKind.STAPLE], "4"),  # 12 sheets: two sections, stapled each
        (Making.SIDE, 6, [StepKind.STAPLE], "2"),
        (Making.SLIT, 8, [StepKind.FOLD], ""),
    ],
)
def test_booklets_of_every_form_have_their_steps_and_staples(
    press_of: Any, plan_of: Any, booklet_piece: Any, making: Making, pages: int, kinds: list[StepKind], staples: str
) -> None:
    press = press_of()
    prep = prepare(plan_of([booklet_piece(1, making, pages)], press), press)
    assert [s.kind for s in prep.steps if s.kind in (StepKind.FOLD, StepKind.STAPLE)] == kinds
    assert next((need.amount for need in prep.shopping if need.what == "Staples"), "") == staples


def test_a_thick_booklet_is_told_its_sections(press_of: Any, plan_of: Any, booklet_piece: Any) -> None:
    press = press_of()
    prep = prepare(plan_of([booklet_piece(1, Making.SADDLE, 48)], press), press)
    assert any("2 sections" in sentence for step in of(prep, StepKind.FOLD) for sentence in step.sentences)


def test_staple_places_are_a_quarter_in_from_both_ends(press_of: Any, plan_of: Any, booklet_piece: Any) -> None:
    """148.5 mm high: 37.125 and 111.375 mm from the top (common practice, no source)."""
    press = press_of()
    steps = of(prepare(plan_of([booklet_piece(1, Making.SADDLE, 8)], press), press), StepKind.FOLD, StepKind.STAPLE)
    assert steps[0].picture.staples_um == (37_125, 111_375)
    assert "37 mm from the top" in steps[1].sentences[0]


@pytest.mark.parametrize(
    ("size", "stock", "warned"),
    [
        ((25, 25), "card", True),  # fits the cylinder of 16 CFR 1501.4 flat: 31.75 mm across
        ((37.9, 50), "card", True),
        ((38, 38), "card", False),
        ((30, 90), "card", False),  # longer than the cylinder's 57.15 mm with a margin
        ((62, 87), "card", False),
        ((62, 87), "fridge", True),
    ],
)
def test_small_or_magnetic_pieces_bring_the_caution_for_under_threes(
    press_of: Any, plan_of: Any, flat_piece: Any, size: tuple[float, float], stock: str, warned: bool
) -> None:
    press = press_of(stocks={"fridge": {"weight": "600 g", "kind": "magnetic"}})
    prep = prepare(plan_of([flat_piece(1, *size, stock=stock)], press), press)
    cautions = " ".join(c for step in of(prep, StepKind.SORT) for c in step.cautions)
    assert ("under three" in cautions) is warned
    assert ("magnets" in cautions) is (stock == "fridge")


def test_what_a_kind_says_of_its_making_is_told_once_with_its_cautions(
    press_of: Any, plan_of: Any, flat_piece: Any
) -> None:
    press = press_of()
    told = {"make": "Fold it and glue it.", "cautions": ("staples", "small-parts")}
    pieces = [replace(flat_piece(n, 25, 25), **told) for n in (1, 2)] + [flat_piece(3, 62, 87)]
    plan = plan_of(pieces, press)
    prep = prepare(plan, press)
    assert plan.notes == prep.notes == ("Fold it and glue it.",)
    (sort,) = of(prep, StepKind.SORT)
    assert sort.cautions == (SMALL_PARTS, STAPLES), "small pieces bring the first by themselves: it is said once"


def test_every_caution_a_kind_may_ask_for_has_its_words() -> None:
    assert set(BY_NAME) == set(CAUTIONS)


def test_laminating_adds_a_step_with_its_cautions(press_of: Any, plan_of: Any, flat_piece: Any) -> None:
    press = press_of()
    plan = plan_of([flat_piece(n, 62, 87) for n in range(10)], press)
    without, with_it = prepare(plan, press), prepare(plan, press, laminate=True)
    assert not of(without, StepKind.LAMINATE)
    assert next(need for need in without.shopping if "pouches" in need.what).optional
    (step,) = of(with_it, StepKind.LAMINATE)
    assert any("hot" in caution for caution in step.cautions)
    # by hand: 68 x 93 mm with rims; an A4 pouch of 216 x 303 mm takes 3 across and 3 down
    assert next(need.amount for need in with_it.shopping if "pouches" in need.what) == "2"


def test_reprints_without_pieces_have_their_booklets_too(press_of: Any, plan_of: Any, booklet_piece: Any) -> None:
    press = press_of()
    plan = replace(plan_of([booklet_piece(1, Making.SADDLE, 8)], press, "reprint-week-01"), pieces=())
    prep = prepare(plan, press)
    assert of(prep, StepKind.FOLD)
    assert prep.title == "Week 1: printed again"


def test_ink_is_told_in_standard_pages_and_owned_as_an_estimate(starter_plan: Any) -> None:
    plan, press = starter_plan(3)
    use = {file.name: InkUse(1.5, estimated=file is plan.files[0]) for file in plan.files}
    need = next(n for n in prepare(plan, press, use).shopping if n.what == "Ink or toner")
    assert need.amount == f"about {round(1.5 * len(plan.files))} pages"
    assert "estimated" in need.note
    assert not [n for n in prepare(plan, press).shopping if n.what == "Ink or toner"]


def test_paper_is_bought_with_spares(starter_plan: Any) -> None:
    plan, press = starter_plan(1, 4)
    sheets = Counter(run.setup.stock for run in plan.runs for _ in run.sheets)
    needs = {need.what.split(",")[0]: int(need.amount.split()[0]) for need in prepare(plan, press).shopping[:2]}
    for stock, what in (("plain", "Plain paper"), ("card", "Card")):
        assert sheets[stock] < needs[what] <= sheets[stock] * 1.04 + 1


def test_every_front_says_what_to_measure(starter_plan: Any) -> None:
    """The page named carries the ruler, read from its marks; a file without one names printed lines instead."""
    plan, press = starter_plan(3)
    prep = prepare(plan, press)
    with_ruler = 0
    for step in of(prep, StepKind.PRINT):
        file = next(f for f in plan.files if f.name == dict(step.settings)["File"])
        if file.two_sided == "by-hand-backs":
            continue
        ruler = [s for s in step.sentences if "printed ruler must measure 100 mm" in s]
        assert len(ruler) + (file.ruler in step.sentences) == 1
        for sentence in ruler:
            page = file.pages[int(sentence.split()[3]) - 1]
            assert RULER_TEXT in texts_of(page.marks)
            with_ruler += 1
    assert with_ruler


def test_warnings_and_notes_of_the_plan_are_told_once(press_of: Any, plan_of: Any, booklet_piece: Any) -> None:
    press = press_of()
    plan = plan_of([booklet_piece(1, Making.SADDLE, 48)], press)
    assert any("sections" in note for note in plan.notes)
    prep = prepare(replace(plan, warnings=("It may jam.",), notes=(*plan.notes, "Be kind.")), press)
    assert prep.notes == ("It may jam.", "Be kind.")


def test_trial_files_are_named_where_one_sheet_is_tried(starter_plan: Any) -> None:
    plan, press = starter_plan(1, 4)
    trials = trial_files(plan.files)
    prep = prepare(replace(plan, trials=trials), press)
    told = " ".join(s for step in prep.steps if step.aside for s in step.aside.sentences)
    many_sheets = {run for run in range(len(plan.runs)) if len(plan.runs[run].sheets) > 1}
    backs = [trial.name for trial in trials if trial.two_sided == "by-hand-backs" and trial.run in many_sheets]
    assert backs
    assert all(name in told for name in backs)


@pytest.mark.parametrize(
    ("making", "needed", "not_needed"),
    [
        (Making.SADDLE, {"long-arm stapler, or a stapler and corrugated card", "spoon"}, {"scissors", "stapler"}),
        (Making.SIDE, {"stapler"}, {"scissors", "spoon"}),
        (Making.SLIT, {"scissors", "spoon"}, {"stapler"}),
    ],
)
def test_the_tools_are_those_the_booklets_need(
    booklet_piece: Any, plan_of: Any, making: Making, needed: set[str], not_needed: set[str]
) -> None:
    press = Press()
    tools = set(prepare(plan_of([booklet_piece(1, making, 8)], press), press).tools)
    assert needed <= tools
    assert not not_needed & tools
