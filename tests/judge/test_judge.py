"""The judge of packs is judged: a small pack made by hand passes, and every fault put into it is found.

The pack: one A4 sheet, printed on both sides by turning it about its long edge, cut across to the two flats of an
eight-page booklet; and one A4 sheet of card, backs loaded by hand, with four cards (one of them turned) and a ruler.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdf
import pytest
from pypdf.generic import BooleanObject, DictionaryObject, NameObject, NumberObject, TextStringObject
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

FONTS = Path(__file__).parents[2] / "fonts"
PT = 72 / 25_400
WIDE, HIGH = 210_000, 297_000
HALF = 148_500
Row = dict[str, Any]


def place(file: int, page: int, x: int, y: int, turns: int = 0) -> Row:
    return {"file": file, "page": page, "x_um": x, "y_um": y, "quarter_turns": turns}


def flat(name: str, piece: str, kind: str, size: tuple[int, int], front: Row, back: Row | None, **more: Any) -> Row:
    row = {
        "id": name, "piece": piece, "set": f"03-{kind}", "kind": kind, "unit": 3, "learner": None, "role": "piece",
        "copy": 1, "stock": "card", "durable": True, "width_um": size[0], "height_um": size[1],
        "text": {"front": [], "back": []}, "front": front, "back": back, "pages": None, "pile": "", "depth": 1,
    }  # fmt: skip
    return row | more


def booklet_flat(number: int, y: int, front: tuple[int, int], back: tuple[int, int]) -> Row:
    pages = [
        {"page": page, "side": side, "x_um": column * 105_000, "y_um": 0, "width_um": 105_000, "height_um": HALF,
         "quarter_turns": 0}
        for side, pair in (("front", front), ("back", back)) for column, page in enumerate(pair)
    ]  # fmt: skip
    return flat(
        f"03-BK-1.{number}", "03-BK-1", "booklet", (WIDE, HALF), place(0, 1, 0, y), place(0, 2, 0, y), pages=pages,
        stock="plain", pile=f"A{number}",
        text={"front": [f"page {p}" for p in front], "back": [f"page {p}" for p in back]},
    )  # fmt: skip


def card(number: int, front: Row, back: Row) -> Row:
    texts = {"front": [f"d {number}"], "back": [f"desk {number}", "-s"]}
    return flat(
        f"03-LC-{number}", f"03-LC-{number}", "card", (60_000, 80_000), front, back, pile=f"B{number}", text=texts
    )


def cut(stroke: int, axis: str, at: int, start: int, end: int) -> Row:
    return {"stroke": stroke, "axis": axis, "at_um": at, "from_um": start, "to_um": end, "stage": 1, "fence_um": at,
            "turn": 0}  # fmt: skip


def good_pack() -> Row:
    """Return the manifest. Backs by hand: the sheet turned about its vertical axis, moved 1 mm right and 0.5 mm up."""
    cards = [
        card(1, place(1, 1, 10_000, 10_000), place(2, 1, 141_000, 9_500)),
        card(2, place(1, 1, 70_000, 10_000), place(2, 1, 81_000, 9_500)),
        card(3, place(1, 1, 10_000, 90_000), place(2, 1, 141_000, 89_500)),
        card(4, place(1, 1, 70_000, 90_000, 1), place(2, 1, 61_000, 89_500, 3)),
    ]
    book = [booklet_flat(1, 0, (8, 1), (2, 7)), booklet_flat(2, HALF, (6, 3), (4, 5))]
    cuts = [
        cut(1, "y", 10_000, 0, WIDE), cut(2, "y", 90_000, 0, WIDE), cut(3, "y", 170_000, 0, WIDE),
        cut(4, "x", 10_000, 10_000, 170_000), cut(5, "x", 70_000, 10_000, 170_000),
        cut(6, "x", 130_000, 10_000, 90_000), cut(7, "x", 150_000, 90_000, 170_000),
        cut(8, "y", 150_000, 70_000, 150_000),
    ]  # fmt: skip
    names = ("print-1-plain-two-sided.pdf", "print-2-card-fronts.pdf", "print-3-card-backs.pdf")
    sides = ("long-edge", "by-hand-fronts", "by-hand-backs")
    return {
        "format": "kitbuilder-manifest", "version": 1, "pack": "week-03", "units": [3], "seed": 1,
        "files": [
            {"path": path, "stock": "plain" if n == 0 else "card", "paper": "a4", "two_sided": sides[n],
             "pages": 2 if n == 0 else 1, "copies": 1, "sha256": "", "reload": None,
             "back_offset_um": [1_000, -500] if n == 2 else [0, 0]}
            for n, path in enumerate(names)
        ],
        "sets": [{"id": "03-booklet", "unit": 3, "kind": "booklet", "learner": None, "pieces": 2, "things": 1},
                 {"id": "03-card", "unit": 3, "kind": "card", "learner": None, "pieces": 4, "things": 4}],
        "pieces": book + cards,
        "sheets": [
            {"file": 0, "front_page": 1, "back_file": 0, "back_page": 2, "width_um": WIDE, "height_um": HIGH,
             "layout": "A", "stack": 1, "position_in_stack": 1},
            {"file": 1, "front_page": 1, "back_file": 2, "back_page": 1, "width_um": WIDE, "height_um": HIGH,
             "layout": "B", "stack": 1, "position_in_stack": 1},
        ],
        "layouts": [{"id": "A", "copies": 1, "cuts": [cut(1, "y", HALF, 0, WIDE)]},
                    {"id": "B", "copies": 1, "cuts": cuts}],
        "piles": [{"id": r["pile"], "layout": r["pile"][0], "holds": [r["set"]], "envelope": ""} for r in book + cards],
        "runs": [{"stock": s, "sheets": 1, "lower_bound": 1, "bound": "", "strokes": 1, "layouts": 1}
                 for s in ("plain", "card")],
    }  # fmt: skip


class Made:
    """A pack about to be written: its manifest, what is drawn where, and settings; faults change one of them."""

    def __init__(self) -> None:
        self.manifest = good_pack()
        # (file, page, place, size, text, u, v): baselines in the flat's own coordinates
        self.drawn: list[list[Any]] = []
        for row in self.manifest["pieces"]:
            for side in ("front", "back"):
                self._draw(row, side)
        self.drawn.append([1, 1, place(1, 1, 0, 0), (WIDE, HIGH), "100 mm", 20_000, 280_000])
        self.ruler_um = 100_000
        self.sizes = {0: (WIDE, HIGH), 1: (WIDE, HIGH), 2: (WIDE, HIGH)}
        self.settings: list[Row] = [
            {"PrintScaling": "/None", "Duplex": f"/{d}", "PickTrayByPDFSize": True, "NumCopies": 1, "Lang": "en-US",
             "Title": "Week 3", "Trim": True}
            for d in ("DuplexFlipLongEdge", "Simplex", "Simplex")
        ]  # fmt: skip
        self.loose_font = False
        self.stale = False

    def _draw(self, row: Row, side: str) -> None:
        size = (row["width_um"], row["height_um"])
        for number, text in enumerate(row["text"][side]):
            u, v = (10_000 + number * 105_000, 40_000) if row["pages"] else (10_000, 40_000 + 20_000 * number)
            self.drawn.append([row[side]["file"], row[side]["page"], row[side], size, text, u, v])

    def row(self, name: str) -> Row:
        return next(r for r in self.manifest["pieces"] if r["id"] == name)

    def spot(self, text: str) -> list[Any]:
        return next(d for d in self.drawn if d[4] == text)

    def write(self, folder: Path) -> Path:
        pdfmetrics.registerFont(TTFont("Andika", str(FONTS / "Andika-Regular.ttf")))
        for index, file in enumerate(self.manifest["files"]):
            data = self._finished(self._pages(index, file["pages"]), self.settings[index])
            (folder / file["path"]).write_bytes(data)
            file["sha256"] = file["sha256"] or hashlib.sha256(data).hexdigest()
        (folder / "manifest.json").write_text(json.dumps(self.manifest), encoding="utf-8")
        return folder

    def _pages(self, index: int, count: int) -> bytes:
        wide, high = self.sizes[index]
        out = io.BytesIO()
        font = "Helvetica" if self.loose_font else "Andika"
        canvas = Canvas(out, pagesize=(wide * PT, high * PT), initialFontName="Andika")
        for page in range(1, count + 1):
            for file, on, where, size, text, u, v in self.drawn:
                if (file, on) == (index, page):
                    canvas.saveState()
                    across, down = size[::-1] if where["quarter_turns"] % 2 else size
                    canvas.translate((where["x_um"] + across / 2) * PT, (high - where["y_um"] - down / 2) * PT)
                    canvas.rotate(90 * where["quarter_turns"])
                    canvas.setFont(font, 16)
                    canvas.drawString((u - size[0] / 2) * PT, (size[1] / 2 - v) * PT, text)
                    canvas.restoreState()
            if index == 1:
                canvas.line(20_000 * PT, 10_000 * PT, (20_000 + self.ruler_um) * PT, 10_000 * PT)
            canvas.showPage()
        canvas.save()
        return out.getvalue()

    def _finished(self, data: bytes, said: Row) -> bytes:
        writer = pypdf.PdfWriter(clone_from=io.BytesIO(data))
        wanted = DictionaryObject()
        for key in ("PrintScaling", "Duplex"):
            wanted[NameObject(f"/{key}")] = NameObject(said[key])
        wanted[NameObject("/PickTrayByPDFSize")] = BooleanObject(said["PickTrayByPDFSize"])
        wanted[NameObject("/NumCopies")] = NumberObject(said["NumCopies"])
        writer.root_object[NameObject("/ViewerPreferences")] = wanted
        if said["Lang"]:
            writer.root_object[NameObject("/Lang")] = TextStringObject(said["Lang"])
        writer.add_metadata({"/Title": said["Title"]})
        for page in writer.pages:
            if said["Trim"]:
                page.trimbox = page.mediabox
            else:
                page.trimbox = pypdf.generic.RectangleObject((10, 10, 300, 300))
        out = io.BytesIO()
        writer.write(out)
        return out.getvalue()


def test_a_pack_made_by_hand_has_no_faults(judge_pack, tmp_path):
    assert judge_pack(Made().write(tmp_path)) == []


Fault = Callable[[Made], object]


def swap_pages(made: Made) -> None:
    """Pages 3 and 6 change places, on paper and in the manifest."""
    pages = made.row("03-BK-1.2")["pages"]
    pages[0]["page"], pages[1]["page"] = pages[1]["page"], pages[0]["page"]


def turn_whole_back(made: Made) -> None:
    """As if the booklet's sheet were turned about its short edge."""
    for name, y in (("03-BK-1.1", HALF), ("03-BK-1.2", 0)):
        made.row(name)["back"].update(y_um=y, quarter_turns=2)


def back_upside_down(made: Made) -> None:
    for page in made.row("03-BK-1.1")["pages"][2:]:
        page["quarter_turns"] = 2


def shift(name: str, side: str, **more: int) -> Fault:
    def fault(made: Made) -> None:
        made.row(name)[side].update(more)

    return fault


def settings(index: int, **more: Any) -> Fault:
    return lambda made: made.settings[index].update(more)


def manifest(*keys: Any, value: Any) -> Fault:
    def fault(made: Made) -> None:
        part = made.manifest
        for key in keys[:-1]:
            part = part[key]
        part[keys[-1]] = value

    return fault


def without_cut(number: int) -> Fault:
    def fault(made: Made) -> None:
        made.manifest["layouts"][1]["cuts"] = [c for c in made.manifest["layouts"][1]["cuts"] if c["stroke"] != number]

    return fault


def move_text(text: str, at: int, value: Any) -> Fault:
    return lambda made: made.spot(text).__setitem__(at, value)


def add_text(made: Made) -> None:
    made.drawn.append([1, 1, made.row("03-LC-2")["front"], (60_000, 80_000), "stray", 10_000, 60_000])


def bind_on_the_right(made: Made) -> None:
    """Left and right change places on every side: a good booklet, for a left-handed child."""
    for name in ("03-BK-1.1", "03-BK-1.2"):
        pages = made.row(name)["pages"]
        for pair in (pages[:2], pages[2:]):
            pair[0]["x_um"], pair[1]["x_um"] = pair[1]["x_um"], pair[0]["x_um"]


def set_value(name: str, value: Any) -> Fault:
    return lambda made: setattr(made, name, value)


FAULTS: dict[str, tuple[Fault, str]] = {
    "printed to fit": (settings(0, PrintScaling="/AppDefault"), "PrintScaling is 'AppDefault'"),
    "wrong edge in the file": (settings(0, Duplex="/DuplexFlipShortEdge"), "Duplex is 'DuplexFlipShortEdge'"),
    "by hand and yet two-sided": (settings(2, Duplex="/DuplexFlipLongEdge"), "Duplex is"),
    "any tray": (settings(1, PickTrayByPDFSize=False), "PickTrayByPDFSize"),
    "other number of copies": (settings(1, NumCopies=2), "NumCopies is 2"),
    "no language": (settings(1, Lang=""), "no language"),
    "no title": (settings(1, Title=""), "no title"),
    "small trim box": (settings(1, Trim=False), "TrimBox is not the sheet"),
    "letter instead of A4": (lambda made: made.sizes.update({1: (215_900, 279_400)}), "the sheet is not"),
    "a font of the viewer": (set_value("loose_font", True), "Helvetica is not embedded"),
    "file changed later": (manifest("files", 1, "sha256", value="0" * 64), "SHA-256"),
    "wrong paper name": (manifest("files", 1, "paper", value="letter"), "not of the size letter"),
    "page count": (manifest("files", 1, "pages", value=2), "is a side of 0 sheets"),
    "two sheets claim a side": (manifest("sheets", 1, "front_page", value=2), "no such page"),
    "back on another sheet": (manifest("sheets", 0, "back_page", value=None), "not on the back of its sheet"),
    "off the sheet": (shift("03-LC-2", "front", x_um=170_000), "does not lie on the sheet"),
    "on one another": (shift("03-LC-2", "front", x_um=69_000), "lies on"),
    "wrong stock": (manifest("pieces", 3, "stock", value="plain"), "printed on card"),
    "back beside its front": (shift("03-LC-1", "back", x_um=142_000), "not behind its front"),
    "offset forgotten": (manifest("files", 2, "back_offset_um", value=[0, 0]), "not behind its front"),
    "back turned": (shift("03-LC-4", "back", quarter_turns=1), "not behind its front"),
    "wrong edge on paper": (turn_whole_back, "mm from its front"),
    "words without a back": (manifest("pieces", 2, "back", value=None), "words for a back and no back"),
    "back in a fronts file": (manifest("files", 2, "two_sided", value="no"), "printed on one side"),
    "text across a cut": (move_text("d 1", 5, 55_000), "crosses the cut"),
    "text off the sheet": (move_text("100 mm", 5, 205_000), "runs off the sheet"),
    "text missing": (move_text("desk 3", 4, "dusk 3"), "should say \\['desk 3'\\]"),
    "text too many": (add_text, "also says \\['stray'\\]"),
    "card printed another way up": (move_text("d 3", 2, place(1, 1, 10_000, 90_000, 2)), "is turned 2 quarters"),
    "cut through a card": (manifest("layouts", 1, "cuts", 4, "at_um", value=65_000), "a cut goes through it"),
    "cut left out": (without_cut(6), "do not set it free"),
    "cut that meets nothing": (manifest("layouts", 1, "cuts", 7, "at_um", value=90_000), "cuts nothing"),
    "cut that stops inside": (manifest("layouts", 1, "cuts", 3, "to_um", value=100_000), "stops inside a part"),
    "cuts in the wrong order": (manifest("layouts", 1, "cuts", 2, "stroke", value=9), "stops inside a part"),
    "layout on more sheets": (manifest("layouts", 0, "copies", value=2), "is on 1 sheets"),
    "two pages changed places": (swap_pages, "order \\[1, 2, 6, 4, 5, 3, 7, 8\\]"),
    "back pages upside down": (back_upside_down, "do not all stand the same way up"),
    "bound on the other side": (bind_on_the_right, "is bound on the right, not on the left"),
    "page missing": (lambda made: made.row("03-BK-1.2")["pages"].pop(), "pages are numbered"),
    "page outside": (manifest("pieces", 0, "pages", 0, "x_um", value=150_000), "lies outside its flat"),
    "pages on one another": (manifest("pieces", 0, "pages", 0, "x_um", value=50_000), "lie on one another"),
    "text across a fold": (move_text("page 8", 5, 95_000), "lies across a fold"),
    "page printed another way up": (move_text("page 8", 2, place(0, 1, 0, 0, 2)), "is not turned as the manifest"),
    "short ruler": (set_value("ruler_um", 97_000), "no line is 100 mm long"),
    "one id twice": (manifest("pieces", 3, "id", value="03-LC-1"), "2 rows have this id"),
    "set counts": (manifest("sets", 1, "pieces", value=5), "set 03-card: has 4 flats"),
    "things": (manifest("sets", 0, "things", value=2), "of 1 things"),
    "unknown set": (manifest("pieces", 3, "set", value="04-card"), "not in the list of sets"),
    "run counts": (manifest("runs", 0, "sheets", value=2), "the runs have 3 sheets"),
    "bound above the count": (manifest("runs", 0, "lower_bound", value=2), "fewer than the bound"),
    "pile with two tops": (manifest("pieces", 3, "pile", value="B1"), "at the same depth"),
    "pile of another set": (manifest("piles", 2, "holds", value=["03-booklet"]), "does not hold the sets"),
    "unknown pile": (manifest("pieces", 3, "pile", value="Z9"), "not in the list of piles"),
    "later version": (manifest("version", value=2), "version 1"),
    "key left out": (lambda made: made.manifest.pop("runs"), "lacks something"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_found(judge_pack, tmp_path, name):
    fault, said = FAULTS[name]
    made = Made()
    fault(made)
    findings = judge_pack(made.write(tmp_path))
    assert any(re.search(said, finding) for finding in findings), findings


def test_a_booklet_for_a_left_handed_child_passes_when_the_manifest_says_so(judge_pack, tmp_path):
    made = Made()
    bind_on_the_right(made)
    for number, texts in enumerate(
        (("page 8", "page 1"), ("page 2", "page 7"), ("page 6", "page 3"), ("page 4", "page 5"))
    ):
        first, second = (made.spot(t) for t in texts)
        first[5], second[5] = second[5], first[5]
        made.row(f"03-BK-1.{number // 2 + 1}")["binding"] = "right"
    assert judge_pack(made.write(tmp_path)) == []


@pytest.mark.parametrize("damage", ["nothing", "no files", "no json"])
def test_a_folder_that_is_no_pack_is_said_to_be_none(judge_pack, tmp_path, damage):
    if damage == "no files":
        (tmp_path / "manifest.json").write_text(json.dumps(good_pack()))
    if damage == "no json":
        (tmp_path / "manifest.json").write_text("{")
    assert len(judge_pack(tmp_path)) == 1
