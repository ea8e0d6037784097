"""The page as text: whole, alone, escaped, the same twice."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont

from kitbuilder.artwork.frame import Frame, Text
from kitbuilder.diagnostics import Location, Problem
from kitbuilder.export.preview import write_preview
from kitbuilder.export.preview_drawing import fold_lines
from kitbuilder.imposition.flats import FoldedPage
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.model.press import Press

VOID = {"meta", "input", "br", "img", "link", "hr"}
FETCHING = {"src", "href", "action", "data", "poster", "srcset", "formaction", "ping", "xlink:href"}


class Reader(HTMLParser):
    """Reads a page and refuses what is not well nested."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.texts: list[str] = []
        self.scripts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        (self.scripts if self.open[-1:] == ["script"] else self.texts).append(data)


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


@pytest.fixture
def page_of(tmp_path: Path, small_plan: PackPlan, family_bitmaps: dict[str, bytes]) -> Any:
    """Return a function: what differs from the small plan and the usual press, to the page's text."""

    def write(plan: PackPlan | None = None, press: Press | None = None, **more: Any) -> str:
        target = tmp_path / "preview.html"
        write_preview(plan or small_plan, press or Press(), target, bitmaps=family_bitmaps, **more)
        assert [p.name for p in tmp_path.iterdir()] == ["preview.html"]
        return target.read_text(encoding="utf-8")

    return write


def test_the_page_is_well_nested_and_its_ids_are_unique(page_of: Any) -> None:
    reader = read(page_of(guide_html="<section><h2>Guide</h2></section>", warnings=("Mind the blade.",)))
    ids = [attributes["id"] for _, attributes in reader.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    targets = {a["href"][1:] for _, a in reader.elements if a.get("href", "").startswith("#")}
    targets |= {word for _, a in reader.elements for word in a.get("aria-labelledby", "").split()}
    targets |= {a["for"] for _, a in reader.elements if "for" in a}
    assert targets <= set(ids)


def test_nothing_is_fetched(page_of: Any) -> None:
    page = page_of()
    for _, attributes in read(page).elements:
        for name in FETCHING & set(attributes):
            assert attributes[name].startswith(("#", "data:")), attributes[name][:60]
    assert all(address.startswith("data:") for address in re.findall(r"url\(([^)]*)", page))
    assert "@import" not in page


def test_only_its_own_script_may_run(page_of: Any) -> None:
    page = page_of()
    policy = next(a["content"] for tag, a in read(page).elements if tag == "meta" and "http-equiv" in a)
    script = read(page).scripts[-1]
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none'")


def test_same_plan_same_page(page_of: Any) -> None:
    assert page_of() == page_of()


def test_every_sheet_side_stands_once_with_file_and_page(page_of: Any, small_plan: PackPlan) -> None:
    reader = read(page_of())
    sides = [a["data-side"] for _, a in reader.elements if "data-side" in a]
    assert len(sides) == sum(len(file.pages) for file in small_plan.files)
    assert sides.count("front") == len(list(small_plan.sheets()))
    assert sides == ["front", "back"] * sides.count("front")  # all sheets of this plan are two-sided
    for file in small_plan.files:
        for number in range(1, len(file.pages) + 1):
            assert reader.texts.count(f"{file.name}, page\u00a0{number}") == 1


def test_strokes_are_drawn_once_a_stack_and_numbered(page_of: Any, small_plan: PackPlan) -> None:
    reader = read(page_of())
    strokes = [a for _, a in reader.elements if a.get("class") == "ct"]
    assert len(strokes) == sum(len(layout.strokes) for layout in small_plan.layouts())
    numbers = [a["data-s"] for _, a in reader.elements if a.get("class") == "nr"]
    expected = [str(s.number) for layout in small_plan.layouts() for s in layout.strokes]
    assert numbers == expected


def test_what_lies_under_the_blade_is_said_once_a_pass(page_of: Any) -> None:
    told = next(stack["told"] for stack in json.loads(read(page_of()).scripts[0])["stacks"] if len(stack["told"]) > 5)
    turns = [sentence for sentence in told if "Turn it" in sentence]
    assert len(turns) == len(set(turns))
    assert len(turns) < len(told) - 2
    assert any(re.match(r"Stroke \d+ of \d+\. Edge stop at ", sentence) for sentence in told)


def test_outlines_and_bitmaps_are_in_the_page_once(page_of: Any, family_bitmaps: dict[str, bytes]) -> None:
    page = page_of()
    (picture,) = family_bitmaps.values()
    assert page.count(base64.b64encode(picture).decode()) == 1
    assert page.count("<title>leaf</title>") == 1
    uses = [a["href"] for tag, a in read(page).elements if tag == "use"]
    assert uses.count("#o1") >= 10  # five cards, front and back, and their spares
    assert uses.count("#b1") >= 5


def test_words_are_escaped_wherever_they_come_from(page_of: Any, small_plan: PackPlan) -> None:
    evil = "</script ><b onclick=x>\"'&<!--"
    flats = tuple(replace(f, title=evil, learner=evil) for f in small_plan.flats)
    runs = tuple(
        replace(
            run,
            sheets=tuple(
                replace(s, placements=tuple(replace(p, flat=replace(p.flat, title=evil)) for p in s.placements))
                for s in run.sheets
            ),
            piles=tuple(replace(pile, envelope=evil) for pile in run.piles),
            bound=evil,
        )
        for run in small_plan.runs
    )
    plan = replace(small_plan, title=evil, name=evil, flats=flats, runs=runs, warnings=(evil,))
    problem = Problem(evil, evil, evil, Location(evil, 1, 2))
    reader = read(page_of(plan, problems=(problem,), warnings=(evil,), make_first=evil))
    assert [tag for tag, a in reader.elements if "onclick" in a] == []
    assert len([tag for tag, _ in reader.elements if tag == "script"]) == 2
    data = json.loads(reader.scripts[0])
    assert not set(reader.scripts[0]) & set("<>&")  # nothing that a parser of HTML could take for a tag
    assert evil in {row[3] for row in data["flats"]}
    assert any(evil in text for text in reader.texts)


def test_the_page_carries_the_letters_it_uses(page_of: Any, small_plan: PackPlan) -> None:
    wide = Frame(210_000, 148_500, (Text(0, 9_000, "ŋ ä", "Andika", 8_000),))
    old = small_plan.flats[-1]
    flats = (*small_plan.flats[:-1], replace(old, front=wide))
    page = page_of(replace(small_plan, flats=flats, title="Ŵ in a title"))
    rules = dict(re.findall(r"font-family:'([^']*)';src:url\(data:font/woff;base64,([^)]*)\)", page))
    assert set(rules) == {"Andika", "Andika-Bold"}
    characters = TTFont(BytesIO(base64.b64decode(rules["Andika"]))).getBestCmap()
    assert {ord(c) for c in "adŴ·ŋä" if c in page} <= set(characters)
    assert len(base64.b64decode(rules["Andika"])) < 40_000


def test_the_rim_follows_the_printers_edges(page_of: Any) -> None:
    wide = Press.model_validate({"printer": {"edges": {"left": "12 mm", "right": "12 mm"}}})
    usual = next(a["d"] for _, a in read(page_of()).elements if a.get("class") == "rim")
    wider = next(a["d"] for _, a in read(page_of(press=wide)).elements if a.get("class") == "rim")
    assert "M5 " in usual
    assert "M12 " in wider


def test_a_folded_flat_shows_its_fold_between_its_pages(small_plan: PackPlan) -> None:
    folded = next(f for f in small_plan.flats if f.folded)
    assert fold_lines(folded, "front") == ("M105 0V148.5",)
    assert fold_lines(folded, "back") == ("M105 0V148.5",)
    quarters = tuple(
        FoldedPage(n, "front", x, y, 105_000, 74_250)
        for n, (x, y) in enumerate(((0, 0), (105_000, 0), (0, 74_250), (105_000, 74_250)), 1)
    )
    lines = fold_lines(replace(folded, folded=quarters), "front")
    assert set(lines) == {"M105 0V74.25", "M105 74.25V148.5", "M0 74.25H105", "M105 74.25H210"}


def test_the_plans_own_warnings_are_shown_once(page_of: Any) -> None:
    texts = "".join(read(page_of(warnings=("Card may curl.",))).texts)
    assert texts.count("Card may curl.") == 1


def test_backs_show_the_cuts_mirrored(page_of: Any) -> None:
    page = page_of()
    backs = re.findall(r'data-side="back".*?</svg>', page, re.DOTALL)
    fronts = re.findall(r'data-side="front".*?</svg>', page, re.DOTALL)
    assert backs
    assert all('<g class="over" transform="matrix(-1 0 0 1 210 0)">' in back for back in backs)
    assert all('<g class="over">' in front for front in fronts)


def test_a_bitmap_that_is_missing_is_said_plainly(small_plan: PackPlan, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no file was given for the picture"):
        write_preview(small_plan, Press(), tmp_path / "preview.html")
    assert list(tmp_path.iterdir()) == []


def test_a_trimmer_in_inches_gets_its_settings_in_inches(page_of: Any) -> None:
    inches = Press.model_validate({"trimmer": {"inches": "yes"}})
    told = "".join(read(page_of(press=inches)).scripts)
    assert re.search(r"Edge stop at [\d\u00a0/]+\u00a0in\.", told)
    assert not re.search(r"Edge stop at [\d.]+\u00a0mm", told)


def test_the_page_calls_kinds_by_their_titles(page_of: Any) -> None:
    text = page_of(kinds={"letter-card": "Cards of ours"})
    assert "Cards of ours" in text
    assert "Letter cards" not in text
