"""Stocks and what is done after cutting: labels, magnetic sheets, heavy card, rings, lamination, binder pages.

Holes: ISO 838 as quoted by two encyclopaedias (80 mm apart, 12 mm from the edge, centred, 6 mm across); three holes:
4.25 in apart, US practice. Rings and rims: common practice, no source.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.artwork.frame import Box
from kitbuilder.build import plan_pack, read_family
from kitbuilder.diagnostics import ProblemLog, ProblemsFound
from kitbuilder.export.pack_folder import WrittenPack
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.load.definitions import load_press, with_paper
from kitbuilder.request import Request

Family = Callable[..., Path]
Week = Callable[..., WrittenPack]
Judge = Callable[[Path], list[str]]

UNIT = """unit: 1
teach: [n as in nose, o as in otter, d as in door, i as in fish]
shapes: [VC, CVC]
words: [nod, din, in, on, did]
materials:
  {kind}:
{settings}"""
# a grid as such sheets are sold: 3 x 7 labels of 63.5 x 38.1 mm on A4 (made up here, no maker's)
LABELS = """paper: a4
stocks:
  stickers:
    weight: 120 g
    kind: label
    labels: {{width: 63.5 mm, height: 38.1 mm, right: {right}, down: 7, left: 7.2 mm, top: 15.1 mm, gap-right: 2.5 mm}}
"""
WORD_LABEL = """kind: word-label
code: WL
stock: stickers
size: 50 mm x 30 mm
keep-clear: 3 mm
durable: yes
made-for: words
name: "{{ item.text }}"
front: one-word
"""
ONE_WORD = """face: one-word
draw:
  - text: "{{ item.text }}"
    box: ["{{ left }}", "{{ top }}", "{{ clear_width }}", "{{ clear_height }}"]
    size: 24 pt
    read-by: child
"""
LEAF = """kind: leaf
code: LE
stock: plain
size: page
keep-clear: 5 mm
durable: no
made-for: unit
binding: left
front: edge
back: edge
"""
EDGE = """face: edge
draw:
  - rect: ["{{ left }}", "{{ top }}", "{{ clear_width }}", "{{ clear_height }}"]
    stroke: ink
"""


def folder(
    family: Family, kind: str, *, press: str = "paper: a4\n", settings: str = "    count: 4\n", **more: str
) -> Path:
    unit = UNIT.format(kind=kind, settings=settings)
    return family(**{"01": unit, "press": press, "sequence": f"kinds: [{kind}]\n", **more})


def own(root: Path, **files: str) -> Path:
    for name, text in files.items():
        part, _, stem = name.partition("_")
        (root / "templates" / part).mkdir(parents=True, exist_ok=True)
        (root / "templates" / part / f"{stem}.yaml").write_text(text, encoding="utf-8")
    return root


def planned(root: Path) -> PackPlan:
    return plan_pack(read_family(Request(root, 1), ProblemLog()), Request(root, 1))


def problems(root: Path) -> tuple[tuple[str, str], ...]:
    with pytest.raises(ProblemsFound) as found:
        planned(root)
    return tuple((str(p.location), p.code) for p in found.value.problems)


class TestLabels:
    def root(self, family: Family, *, settings: str = "    count: 5\n", right: int = 3) -> Path:
        root = folder(family, "word-label", press=LABELS.format(right=right), settings=settings)
        return own(root, kinds_word=WORD_LABEL, faces_word=ONE_WORD)

    def test_pieces_lie_on_the_labels_and_nothing_is_cut(self, family: Family, week: Week, judge_pack: Judge) -> None:
        pack = week(self.root(family))
        assert judge_pack(pack.folder) == []
        made = json.loads((pack.folder / "manifest.json").read_text(encoding="utf-8"))
        assert [layout["cuts"] for layout in made["layouts"]] == [[]]
        assert [(row["front"]["x_um"], row["front"]["y_um"]) for row in made["pieces"]] == [
            (7_200, 15_100), (73_200, 15_100), (139_200, 15_100), (7_200, 53_200), (73_200, 53_200)
        ]  # fmt: skip
        assert {(row["width_um"], row["height_um"]) for row in made["pieces"]} == {(63_500, 38_100)}, "the label's own"
        assert all(row["role"] == "piece" for row in made["pieces"]), "labels left over stay blank"
        assert any("Never print on a sheet from which a label is missing" in note for note in made["notes"])
        assert "hold it against a label sheet" in made["files"][0]["ruler"]

    def test_a_smaller_size_lies_in_the_middle_of_its_label(
        self, family: Family, week: Week, judge_pack: Judge
    ) -> None:
        pack = week(self.root(family, settings="    size: 50 mm x 30 mm\n"))
        assert judge_pack(pack.folder) == []
        first = pack.manifest["pieces"][0]
        assert (first["front"]["x_um"], first["front"]["y_um"]) == (7_200 + 6_750, 15_100 + 4_050)

    def test_a_larger_size_is_refused_at_its_line(self, family: Family) -> None:
        assert problems(self.root(family, settings="    size: 70 mm x 40 mm\n")) == (
            ("units/01.yaml:7:5", "larger-than-label"),
        )

    def test_labels_beyond_the_paper_are_refused(self, family: Family) -> None:
        assert problems(self.root(family, right=4)) == (("units/press.yaml:6:13", "labels-beyond-paper"),)

    def test_cards_with_backs_are_not_printed_on_labels(self, family: Family) -> None:
        root = folder(family, "letter-card", press=LABELS.format(right=3), settings="    stock: stickers\n")
        assert problems(root) == (("units/01.yaml:7:5", "back-on-label"),)

    def test_a_kind_that_computes_is_laid_on_labels_too(self, family: Family, week: Week, judge_pack: Judge) -> None:
        grid = "width: 95 mm, height: 135 mm, right: 2, down: 2, left: 8 mm, top: 10 mm, gap-right: 4 mm"
        press = f"stocks: {{stickers: {{weight: 120 g, kind: label, labels: {{{grid}}}}}}}\n"
        pack = week(folder(family, "envelope-label", press=press, settings="    stock: stickers\n"))
        assert judge_pack(pack.folder) == []
        assert {(row["width_um"], row["height_um"]) for row in pack.manifest["pieces"]} == {(95_000, 135_000)}

    def test_ink_stays_where_the_printer_reaches_the_outer_labels(self, family: Family) -> None:
        press = LABELS.format(right=3) + "printer: {edges: {left: 12 mm}}\n"
        root = own(folder(family, "word-label", press=press), kinds_word=WORD_LABEL, faces_word=ONE_WORD)
        assert planned(root).pieces[0].format.keep_clear.left.um == 12_000 - 7_200

    def test_a_label_sheet_is_printed_again_on_labels(self, family: Family, week: Week, judge_pack: Judge) -> None:
        from kitbuilder.load.pack import read_pack
        from kitbuilder.pick import Choice
        from kitbuilder.reprint import make_reprint, plan_reprint

        root = self.root(family)
        pack = read_pack(week(root).folder)
        press = load_press(root)
        plan = plan_reprint(pack, Choice(ids=(pack.manifest["pieces"][2]["id"],)), press, trial=True)
        again = make_reprint(pack, plan, press, root / "again")
        assert judge_pack(again.folder) == []
        assert again.manifest["trials"][0]["path"] == "trial-1-stickers-one-sided.pdf"


def test_magnetic_sheets_come_with_a_caution(family: Family, week: Week) -> None:
    press = "stocks: {magnet: {weight: 600 g, kind: magnetic}}\n"
    pack = week(folder(family, "letter-tile", press=press, settings="    stock: magnet\n"))
    notes = " ".join(pack.manifest["notes"])
    assert "inkjet printer only" in notes
    assert "A swallowed magnet is an emergency" in notes
    assert week(folder(family, "letter-tile"), replace=True).manifest["notes"] == []


def test_heavy_card_can_be_asked_for_by_its_name(family: Family, week: Week, judge_pack: Judge) -> None:
    pack = week(folder(family, "letter-card", settings="    stock: heavy-card\n"))
    assert judge_pack(pack.folder) == []
    assert {file["two_sided"] for file in pack.manifest["files"]} == {"by-hand-fronts", "by-hand-backs"}


def test_card_turned_by_the_printer_itself_is_warned_of_with_the_way_by_hand(family: Family, week: Week) -> None:
    """Most printers' manuals stop at 104 or 105 g/m2; a few go up to 176."""
    press = "stocks: {card: {weight: 160 g, two-sided: auto}}\n"
    pack = week(folder(family, "letter-card", press=press))
    (warning,) = pack.manifest["warnings"]
    assert "160 g/m2" in warning
    assert "write two-sided: by-hand below card in press.yaml" in warning
    quiet = week(folder(family, "letter-card"), replace=True)
    assert quiet.manifest["warnings"] == []


def test_a_paper_the_printer_does_not_have_is_refused(family: Family) -> None:
    root = folder(family, "letter-card", press="paper: a4\nprinter: {papers: [a4, letter]}\n")
    press = load_press(root)
    assert with_paper(press, "Letter").paper == "Letter"
    with pytest.raises(ProblemsFound) as found:
        with_paper(press, "legal")
    assert found.value.problems[0].code == "paper-not-there"
    other = folder(family, "letter-card", press="paper: legal\nprinter: {papers: [a4, letter]}\n")
    assert problems(other) == (("units/press.yaml:1:8", "paper-not-there"),)


@pytest.mark.parametrize("kind", ["letter-card", "letter-tile"])
def test_a_ring_corner_is_kept_clear_on_both_sides(family: Family, week: Week, judge_pack: Judge, kind: str) -> None:
    """A 6 mm hole whose middle is 8 to 10 mm in from both edges (common practice, no source)."""
    root = folder(family, kind, settings="    ring: yes\n    size: 70 mm x 100 mm\n")
    assert judge_pack(week(root).folder) == []
    for piece in planned(root).pieces:
        for page in piece.pages:
            width = page.frame.width_um
            rings = [i for i in page.frame.items if isinstance(i, Box) and i.radius_um == 3_000 and i.width_um == 6_000]
            (ring,) = rings
            x, y = ring.x_um + 3_000, ring.y_um + 3_000
            assert 8_000 <= y <= 10_000
            assert 8_000 <= (width - x if page.role == "back" else x) <= 10_000
            assert piece.format.keep_clear.top.um >= y + 3_000 + 2_000
    plain = planned(folder(family, kind, settings="    size: 70 mm x 100 mm\n"))
    assert not any(isinstance(i, Box) and i.radius_um == 3_000 for p in plain.pieces for i in p.pages[0].frame.items)


def test_laminated_pieces_keep_their_layout_and_say_how(family: Family, week: Week, judge_pack: Judge) -> None:
    pack = week(folder(family, "letter-card", settings="    laminate: yes\n"))
    assert judge_pack(pack.folder) == []
    assert all(row["laminate"] for row in pack.manifest["pieces"])
    notes = " ".join(pack.manifest["notes"])
    for said in ("let the ink dry", "8 mm apart", "3 mm outside their edges", "The laminator is hot"):
        assert said in notes
    bare = week(folder(family, "letter-card", settings="    laminate: no\n"), replace=True)
    assert [r["front"] for r in bare.manifest["pieces"]] == [r["front"] for r in pack.manifest["pieces"]]
    assert bare.manifest["notes"] == []


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("hand", "edge"), [("no", "left"), ("yes", "right")])
def test_binder_pages_keep_clear_of_the_holes_on_both_sides(
    family: Family, week: Week, judge_pack: Judge, paper: str, hand: str, edge: str
) -> None:
    learners = f"learners: [{{code: wren, at: 1, left-handed: {hand}}}]\n"
    root = folder(family, "leaf", press=f"paper: {paper}\n", settings="    count: 1\n", learners=learners)
    own(root, kinds_leaf=LEAF, faces_edge=EDGE)
    assert judge_pack(week(root).folder) == []
    (piece,) = planned(root).pieces
    assert piece.binding == edge
    for page in piece.pages:
        width, height = page.frame.width_um, page.frame.height_um
        box = next(item for item in page.frame.items if isinstance(item, Box))
        at_left = (edge == "left") == (page.role == "front")
        x = 12_000 if at_left else width - 12_000
        spread = [-40_000, 40_000] if paper == "a4" else [-107_950, 0, 107_950]
        for along in spread:
            nearest_x = min(max(x, box.x_um), box.x_um + box.width_um)
            nearest_y = min(max(height // 2 + along, box.y_um), box.y_um + box.height_um)
            away = math.hypot(nearest_x - x, nearest_y - height // 2 - along)
            assert away >= 3_250 + 1_000 + 500, "half a hole of 6.5 mm, and the tolerances of edge and spacing"


def test_backs_stay_two_millimetres_inside_whatever_the_kind_says(family: Family) -> None:
    """Two makers' service manuals: front against back within 1 mm each way; twice that is allowed for."""
    bare = LEAF.replace("size: page", "size: 60 mm x 80 mm").replace("5 mm", "0.5 mm").replace("binding: left\n", "")
    root = own(folder(family, "leaf", settings="    count: 1\n"), kinds_leaf=bare, faces_edge=EDGE)
    clear = planned(root).pieces[0].format.keep_clear
    assert min(clear.left.um, clear.top.um, clear.right.um, clear.bottom.um) == 2_000
