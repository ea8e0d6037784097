"""The guide as printed and in the preview: all of it there, readable by other readers, the same twice."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pypdf
import pypdfium2
import pytest

from kitbuilder.artwork.fonts import font_file
from kitbuilder.artwork.frame import Box, Frame, Group, Line, Text
from kitbuilder.artwork.frame import Path as FramePath
from kitbuilder.artwork.outlines import commands_of
from kitbuilder.artwork.shipped import shipped
from kitbuilder.build import plan_pack, read_family
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.export.guide_front import part_words, sitting_words
from kitbuilder.export.guide_html import guide_html
from kitbuilder.export.guide_sheet_picture import layout_picture
from kitbuilder.export.guide_steps import PHASES, phase_blocks
from kitbuilder.export.guide_strip_names import NamedStrip, name_places
from kitbuilder.export.guide_type import BODY, guide_type
from kitbuilder.export.prep_guide import drawer, pages_of, write_prep_guide
from kitbuilder.measure.geometry import Rect
from kitbuilder.measure.length import mm
from kitbuilder.prep.evenings import evenings
from kitbuilder.prep.prepare import prepare
from kitbuilder.prep.steps import CutPass, FoldPicture, LayoutPicture, Prep, ReloadPicture, StepKind, StrokeLine
from kitbuilder.request import Request

CASES = [(3, None, None), (1, 4, "letter")]


@pytest.fixture(scope="module", params=CASES, ids=["week", "letter-term"])
def made(request: Any, tmp_path_factory: Any) -> Any:
    """Return plan, press, prep, evenings and the guide's path."""
    first, last, paper = request.param
    asked = Request(Path(shipped("units")).parent, first, last, paper=paper)
    family = read_family(asked, ProblemLog())
    plan, press = plan_pack(family, asked), family.home.press
    prep = prepare(plan, press)
    sittings = evenings(prep, 20)
    path = tmp_path_factory.mktemp("guide") / "prep-guide.pdf"
    write_prep_guide(prep, plan, press, font_file, path, sittings)
    return plan, press, prep, sittings, path


def texts_in(prep: Prep, sittings: Any) -> Iterator[str]:
    """Yield all that a reader of the guide is told."""
    yield from (prep.title, prep.subtitle, prep.footing, *prep.tools, *prep.notes)
    yield from (text for pair in prep.contents for text in pair)
    yield from (f"{need.what}: {need.amount}" for need in prep.shopping)
    yield from (need.note for need in prep.shopping)
    for sitting in sittings:
        yield from (sitting_words(sitting), part_words(sitting, prep))
    for step in prep.steps:
        yield from (step.title, *step.sentences, *step.cautions)
        yield from (text for pair in step.settings for text in pair)
        yield from (text for row in step.rows for text in (row.label, row.text, row.aside))
        yield from (each.heading for each in step.passes)
        yield from (line.setting for each in step.passes for line in each.strokes)
        yield from step.aside.sentences if step.aside else ()


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_every_step_is_read_from_the_pdf(made: Any) -> None:
    _, _, prep, sittings, path = made
    found = squeezed("".join(page.extract_text() for page in pypdf.PdfReader(path).pages))
    with pypdfium2.PdfDocument(path) as document:
        other = squeezed("".join(page.get_textpage().get_text_range() for page in document).replace("￾", ""))
    for text in texts_in(prep, sittings):
        # columns beside one another are read line by line: a text broken into lines is looked for in its words
        missing = [word for word in text.split() if squeezed(word) not in found or squeezed(word) not in other]
        assert not missing, text


def test_strokes_are_printed_with_their_settings(made: Any) -> None:
    """Number and setting stand beside one another on the page, read by position, as often as they are cut."""
    _, _, prep, _, path = made
    with pypdfium2.PdfDocument(path) as document:
        text = " ".join(page.get_textpage().get_text_range() for page in document)
    for step in prep.steps:
        for each in step.passes:
            for line in each.strokes:
                assert re.search(rf"(?<!\d){line.number}\s+{re.escape(line.setting)}", text), (step.title, line)


def test_the_guide_prints_at_true_size_with_its_own_fonts(made: Any) -> None:
    plan, _, _, _, path = made
    reader = pypdf.PdfReader(path)
    catalog = reader.trailer["/Root"]
    assert catalog["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert catalog["/Lang"] == plan.language
    assert plan.name in reader.metadata.title
    fonts = {str(f.get_object()["/BaseFont"]) for p in reader.pages for f in p["/Resources"]["/Font"].values()}
    assert fonts
    assert all("Andika" in name for name in fonts)
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            descendant = font.get_object()["/DescendantFonts"][0].get_object()
            assert "/FontFile2" in descendant["/FontDescriptor"].get_object()


def test_paper_is_the_familys(made: Any) -> None:
    _, press, _, _, path = made
    width, height = (float(v) * 25.4 / 72 for v in pypdf.PdfReader(path).pages[0].mediabox[2:])
    wanted = (215.9, 279.4) if press.paper == "letter" else (210, 297)
    assert (width, height) == pytest.approx(wanted, abs=0.01)


def test_a_week_is_short_and_nothing_leaves_the_page(made: Any) -> None:
    plan, _, _, _, path = made
    with pypdfium2.PdfDocument(path) as document:
        assert len(document) <= (5 if len(plan.units) == 1 else 9)
        for page in document:
            picture = page.render(scale=1, grayscale=True).to_pil()
            margin = int(14 / 25.4 * 72)
            width, height = picture.size
            inner = picture.copy()
            inner.paste(255, (margin, margin, width - margin, height - margin))
            # the page number stands in the foot margin; nothing else may
            inner.paste(255, (margin, height - int(22 / 25.4 * 72), width - margin, height - int(10 / 25.4 * 72)))
            assert inner.getextrema()[0] > 200


def test_a_layout_of_very_many_strokes_runs_on_below_its_drawing_and_never_off_the_page(made: Any) -> None:
    plan, _, prep, _, _ = made
    cut = next(step for step in prep.steps if step.kind is StepKind.CUT)
    passes = tuple(
        CutPass(f"Strip {n}: turn it a quarter to the left", (StrokeLine(n, f"{n} mm"),)) for n in range(1, 90)
    )
    long = replace(cut, passes=passes)
    kind = guide_type(font_file)
    blocks = tuple(phase_blocks(PHASES[1], (long,), mm(178).um, kind, drawer(plan, kind)))
    column = Rect(mm(16).um, mm(16).um, mm(178).um, mm(256).um)
    for page in pages_of(blocks, column, (mm(210).um, mm(297).um)):
        assert all(y <= column.bottom_um for _, y in corners(page))
    told = [text for block in blocks for text in texts_of(block.frame) if text.endswith(" mm")]
    assert told == [f"{n} mm" for n in range(1, 90)]


def test_the_same_guide_is_the_same_bytes(made: Any, tmp_path: Path) -> None:
    plan, press, prep, sittings, path = made
    again = tmp_path / "again.pdf"
    write_prep_guide(prep, plan, press, font_file, again, sittings)
    assert again.read_bytes() == path.read_bytes()


def test_a_drawing_has_every_pile_and_every_stroke_at_its_place(made: Any) -> None:
    plan, _, _, _, _ = made
    kind = guide_type(font_file)
    for layout in plan.layouts():
        picture = layout_picture(plan, layout, mm(78).um, mm(98).um, kind)
        texts = [item.text for item in picture.items if isinstance(item, Text)]
        piles = {p.pile for _, _, s in plan.sheets() if s.layout.id == layout.id for p in s.placements}
        assert piles <= set(texts)
        assert [t for t in texts if t in {str(s.number) for s in layout.strokes}].count("1") <= 1 + len(piles)
        lines = [item for item in picture.items if isinstance(item, Line)]
        sheet = next(i for i in picture.items if isinstance(i, Box) and i.fill is None)
        for stroke, line in zip(layout.strokes, lines, strict=True):
            at, length = (
                (line.x1_um - sheet.x_um, sheet.width_um)
                if stroke.axis == "x"
                else (line.y1_um - sheet.y_um, sheet.height_um)
            )
            full = layout.setup.width_um if stroke.axis == "x" else layout.setup.height_um
            assert at / length == pytest.approx(stroke.at_um / full, abs=0.002)


def test_numbers_of_strokes_lie_on_neither_piles_nor_one_another(made: Any) -> None:
    plan, _, _, _, _ = made
    for layout in plan.layouts():
        picture = layout_picture(plan, layout, mm(112).um, mm(150).um, guide_type(font_file))
        rings = [i for i in picture.items if isinstance(i, Box) and i.radius_um]
        assert sum(ring.fill == "#ffffff" for ring in rings) == len(layout.strokes)
        for number, one in enumerate(rings):
            for other in rings[:number]:
                apart = max(abs(one.x_um - other.x_um), abs(one.y_um - other.y_um))
                assert apart >= min(one.width_um, other.width_um) - 200


@pytest.mark.parametrize(
    "picture",
    [
        ReloadPicture("down", "down", "top"),
        ReloadPicture("up", "down", "bottom"),
        FoldPicture("saddle", 2, 105_000, 148_500, "left", (37_125, 111_375)),
        FoldPicture("saddle", 12, 148_500, 210_000, "left", (52_500, 157_500)),
        FoldPicture("side", 6, 105_000, 148_500, "left", (37_125, 111_375)),
        FoldPicture("side", 6, 148_500, 105_000, "top", (37_125, 111_375)),
        FoldPicture("slit", 1, 74_250, 105_000, "right"),
    ],
    ids=str,
)
def test_hand_drawings_stay_inside_their_frame(made: Any, picture: Any) -> None:
    plan, *_ = made
    frame = drawer(plan, guide_type(font_file))(picture)
    for x, y in corners(frame):
        assert 0 <= x <= frame.width_um
        assert 0 <= y <= frame.height_um


def corners(frame: Frame) -> Iterator[tuple[int, int]]:
    for item in frame.items:
        if isinstance(item, Group):
            assert item.quarter_turns in (0, 2)
            yield from ((item.x_um + x, item.y_um + y) for x, y in corners(item.frame))
        elif isinstance(item, Box):
            yield from ((item.x_um, item.y_um), (item.x_um + item.width_um, item.y_um + item.height_um))
        elif isinstance(item, Line):
            yield from ((item.x1_um, item.y1_um), (item.x2_um, item.y2_um))
        elif isinstance(item, FramePath):
            for command in commands_of(item.outline):
                numbers = [int(n) for n in command[1:]]
                yield from zip(numbers[::2], numbers[1::2], strict=True)
        elif isinstance(item, Text):
            yield item.x_um, item.y_um


def texts_of(frame: Frame) -> Iterator[str]:
    for item in frame.items:
        if isinstance(item, Group):
            yield from texts_of(item.frame)
        elif isinstance(item, Text):
            yield item.text


def test_titles_with_letters_the_font_lacks_do_not_stop_the_guide() -> None:
    kind = guide_type(font_file)
    assert kind.settable("Ünï 漢 title", BODY) == "Ünï ? title"
    assert kind.lines("漢" * 3, mm(100).um, BODY) == ("???",)


def test_a_word_wider_than_its_column_is_broken_not_clipped() -> None:
    kind = guide_type(font_file)
    lines = kind.lines("print-1-a-very-long-file-name-without-any-space.pdf", mm(20).um, BODY)
    assert len(lines) > 2
    assert "".join(lines) == "print-1-a-very-long-file-name-without-any-space.pdf"
    assert all(kind.width_um(line, BODY) <= mm(20).um for line in lines)


class Reader(HTMLParser):
    """Collects ids, labels, texts, and checks that tags close in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.labels: list[str] = []
        self.headings: list[int] = []
        self.names: list[str] = []
        self.words: list[str] = []
        self.values: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag not in ("input", "line", "rect", "path") and "/" not in said:
            self.open.append(tag)
        self.ids += [said["id"] or ""] if "id" in said else []
        self.labels += [said["for"] or ""] if tag == "label" else []
        self.headings += [int(tag[1])] if re.fullmatch(r"h\d", tag) else []
        self.names += [said["aria-label"] or ""] if tag == "svg" else []
        self.values += [said["value"] or ""] if tag == "li" and "value" in said else []

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        pass

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def test_the_preview_has_the_same_steps_with_labelled_boxes(made: Any) -> None:
    plan, _, prep, sittings, _ = made
    reader = Reader()
    reader.feed(guide_html(prep, plan, font_file, sittings, level=3))
    assert reader.open == []
    assert len(reader.ids) == len(set(reader.ids))
    assert set(reader.labels) <= set(reader.ids)
    boxes = [name for name in reader.ids if name != "guide-title"]
    assert sorted(boxes) == sorted(reader.labels)
    assert set(reader.headings) == {3, 4}
    assert all(reader.names)
    assert len(reader.names) == sum(step.picture is not None for step in prep.steps)
    found = squeezed("".join(reader.words))
    for text in texts_in(prep, sittings):
        assert squeezed(text) in found
    strokes = [str(s.number) for step in prep.steps for each in step.passes for s in each.strokes]
    assert reader.values == strokes
    assert [s.picture.layout for s in prep.steps if isinstance(s.picture, LayoutPicture)]


def test_preparing_loads_no_pdf_library() -> None:
    """The plan alone can be told without them: they take a tenth of a second."""
    code = (
        "import sys, kitbuilder.prep.prepare\n"
        "print([m for m in ('reportlab', 'pypdf', 'pypdfium2') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert out.strip() == "[]"


def test_every_strip_that_is_cut_is_named_in_the_drawing(made: Any) -> None:
    plan, _, prep, _, _ = made
    kind = guide_type(font_file)
    for step in prep.steps:
        if isinstance(step.picture, LayoutPicture):
            layout = next(each for each in plan.layouts() if each.id == step.picture.layout)
            picture = layout_picture(plan, layout, mm(112).um, mm(150).um, kind)
            told = {name for each in step.passes for name in re.findall(r"\b[A-Z]\b", each.heading)}
            assert told == {item.text for item in picture.items if isinstance(item, Text) and item.colour == "#ffffff"}


def test_a_name_that_could_mean_two_strips_stands_on_its_own() -> None:
    """Two strips of a stage behind one another, with upright cuts: beside the sheet their names would mix."""
    sheet = Rect(0, 0, 60_000, 80_000)
    apart = tuple(NamedStrip(n, 2, (Line(30_000, y, 30_000, y + 20_000, 300),)) for n, y in (("A", 0), ("B", 40_000)))
    behind = tuple(NamedStrip(n, 2, (Line(x, 10_000, x, 40_000, 300),)) for n, x in (("A", 15_000), ("B", 45_000)))
    assert {place.x_um > 60_000 for _, place in name_places(apart, sheet, ())} == {True}
    for (name, place), strip in zip(name_places(behind, sheet, ()), behind, strict=True):
        assert name == strip.name
        assert abs(place.x_um + place.width_um // 2 - strip.lines[0].x1_um) < 10
