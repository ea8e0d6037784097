"""Text widths and heights agree with two other readers of the same font, and what cannot be set is said in words."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.ttfonts import TTFont as ReportlabFont

from kitbuilder.artwork.fonts import FontProblem
from kitbuilder.artwork.shipped import shipped
from kitbuilder.artwork.type_metrics import metrics, unsupported

FONTS = ("Andika", "Andika-Bold")
LINE = "The pan is on the dock, and Tansy’s “quick” fox can jump – 1,234 times at café № 7½ £€"


def file_of(name: str) -> Path:
    return shipped("fonts") / ("Andika-Regular.ttf" if name == "Andika" else f"{name}.ttf")


REPORTLAB = {name: ReportlabFont(name, str(file_of(name))) for name in FONTS}


@pytest.mark.parametrize("name", FONTS)
def test_every_character_is_as_wide_as_an_independent_font_reader_says(name: str) -> None:
    """fontTools is the general-purpose reference reader."""
    font = TTFont(file_of(name))
    cmap, widths, ours = font.getBestCmap(), font["hmtx"], metrics(name)
    em = font["head"].unitsPerEm
    checked = {code for code in cmap if ours.width_um(chr(code), em) == widths[cmap[code]][0]}
    assert checked == set(cmap)
    assert {chr(code) for code in cmap if not ours.supports(chr(code))} == set()


@given(st.text(alphabet=st.sampled_from(LINE), max_size=60), st.integers(1_000, 60_000), st.sampled_from(FONTS))
def test_lines_are_as_wide_as_the_pdf_writer_sets_them(text: str, size_um: int, name: str) -> None:
    theirs = REPORTLAB[name].stringWidth(text, size_um)
    assert abs(metrics(name).width_um(text, size_um) - theirs) <= 0.51 + theirs / 100_000


@pytest.mark.parametrize("name", FONTS)
def test_heights_are_the_fonts_own(name: str) -> None:
    font = TTFont(file_of(name))
    ours, em = metrics(name), font["head"].unitsPerEm
    heights = (font["hhea"].ascent, -font["hhea"].descent, font["OS/2"].sCapHeight, font["OS/2"].sxHeight)
    assert (ours.ascent, ours.descent, ours.cap_height, ours.x_height) == tuple(round(1000 * h / em) for h in heights)
    assert ours.x_height < ours.cap_height < ours.letter_ascent < ours.ascent
    assert 0 < ours.letter_descent < ours.descent
    assert ours.x_height_um(20_000) == pytest.approx(20_000 * font["OS/2"].sxHeight / em, abs=11)


@pytest.mark.parametrize("text", ["jam", "fjord", "Tansy", "ÅÇ"])
def test_ink_box_is_the_box_an_independent_reader_draws(text: str) -> None:
    font = TTFont(file_of("Andika"))
    cmap, glyphs, pen_x = font.getBestCmap(), font.getGlyphSet(), 0
    boxes = []
    for char in text:
        pen = BoundsPen(glyphs)
        glyphs[cmap[ord(char)]].draw(pen)
        boxes.append((pen.bounds[0] + pen_x, pen.bounds[1], pen.bounds[2] + pen_x, pen.bounds[3]))
        pen_x += font["hmtx"][cmap[ord(char)]][0]
    ink = metrics("Andika").ink_um(text, font["head"].unitsPerEm)
    assert ink is not None
    expected = (
        min(b[0] for b in boxes), -max(b[3] for b in boxes), max(b[2] for b in boxes), -min(b[1] for b in boxes),
    )  # fmt: skip
    assert (ink.left_um, ink.top_um, ink.right_um, ink.bottom_um) == pytest.approx(expected, abs=1)


def test_spaces_have_width_but_no_ink() -> None:
    assert metrics("Andika").ink_um("  ", 10_000) is None
    assert metrics("Andika").width_um("\u00a0", 10_000) == metrics("Andika").width_um(" ", 10_000) > 0


@pytest.mark.parametrize("name", FONTS)
def test_a_and_g_are_drawn_as_children_write_them(name: str) -> None:
    """The hole of a single-storey a is most of its height (in the other form, a third); a g with two has two holes."""
    font = TTFont(file_of(name))
    glyphs, cmap, x_height = font.getGlyphSet(), font.getBestCmap(), font["OS/2"].sxHeight
    contours = {}
    for char in "ag":
        pen = DecomposingRecordingPen(glyphs)
        glyphs[cmap[ord(char)]].draw(pen)
        contours[char] = "".join(command[0] for command, _ in pen.value).count("m")
        if char == "a":
            starts = [i for i, (command, _) in enumerate(pen.value) if command == "moveTo"]
            hole = [p[1] for _, points in pen.value[starts[1] :] for p in points]
            assert max(hole) - min(hole) > 0.5 * x_height
    assert contours == {"a": 2, "g": 2}


def test_missing_characters_are_listed_once_in_order() -> None:
    assert metrics("Andika").missing("a日b本日é") == ("日", "本")


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("e\u0301", "accent typed apart"),
        ("שלום", "right to left"),
        ("سلام", "right to left"),
        ("\U0001f9a6", "picture"),
        ("❤\ufe0f", "picture"),
        ("a\u200db", "picture"),
        ("so\u00adft", "invisible"),
        ("zero\u200bwidth", "invisible"),
        ("tab\there", "invisible"),
        ("two\nlines", "new line"),
        ("\ue000", "not a letter"),
        ("क", "join or move"),
    ],
)
def test_what_cannot_be_set_is_said_in_plain_words(text: str, part: str) -> None:
    reasons = [why for _, why in unsupported(text)]
    assert any(part in why for why in reasons)
    assert len(reasons) == len({char for char, _ in unsupported(text)})


def test_ordinary_text_is_never_refused() -> None:
    assert unsupported(LINE + "\u00a0ñßœłÅŁğ…‘’—·×") == ()


def test_a_font_that_may_not_be_embedded_is_refused(tmp_path: Path) -> None:
    font = TTFont(file_of("Andika"))
    font["OS/2"].fsType = 2
    font.save(tmp_path / "Locked.ttf")
    with pytest.raises(FontProblem) as caught:
        metrics("Locked", tmp_path)
    assert "does not allow" in caught.value.message


@pytest.mark.parametrize("length", [0, 3, 40, 400, 100_000])
def test_a_damaged_font_file_is_a_problem_not_a_crash(tmp_path: Path, length: int) -> None:
    (tmp_path / "Broken.ttf").write_bytes(file_of("Andika").read_bytes()[:length])
    with pytest.raises(FontProblem) as caught:
        metrics("Broken", tmp_path)
    assert "Broken.ttf" in caught.value.message
    assert caught.value.hint


def test_a_small_font_with_the_older_character_map_is_read_too(tmp_path: Path) -> None:
    """A cmap of format 4 only, 1,000 units an em, last width repeated."""
    builder = FontBuilder(1000)
    builder.setupGlyphOrder([".notdef", "space", "a", "x"])
    builder.setupCharacterMap({0x20: "space", 0x61: "a", 0x78: "x"})
    pen = TTGlyphPen(None)
    for move, point in (("moveTo", (50, 0)), ("lineTo", (50, 480)), ("lineTo", (400, 480))):
        getattr(pen, move)(point)
    pen.closePath()
    shape, blank = pen.glyph(), TTGlyphPen(None).glyph()
    builder.setupGlyf({".notdef": blank, "space": blank, "a": shape, "x": shape})
    builder.setupHorizontalMetrics({".notdef": (500, 0), "space": (250, 0), "a": (450, 50), "x": (450, 50)})
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Tiny", "styleName": "Regular"})
    builder.setupOS2(version=1)
    builder.setupPost()
    builder.save(tmp_path / "Tiny.ttf")
    tiny = metrics("Tiny", tmp_path)
    assert [tiny.width_um(c, 10_000) for c in " ax\u00a0"] == [2_500, 4_500, 4_500, 2_500]
    assert tiny.missing("ab") == ("b",)
    assert tiny.x_height == 480


def test_the_same_font_is_read_once(tmp_path: Path) -> None:
    shutil.copy(file_of("Andika"), tmp_path / "Own.ttf")
    assert metrics("Own", tmp_path) is metrics("own", tmp_path)


def test_reading_metrics_loads_no_heavy_library() -> None:
    program = (
        "import sys; from kitbuilder.artwork.type_metrics import metrics; metrics('Andika');"
        "print([m for m in ('reportlab', 'fontTools', 'PIL', 'numpy') if m in sys.modules])"
    )
    package = Path(sys.modules["kitbuilder"].__file__ or "").parent.parent
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=package)
    assert done.stdout.strip() == "[]"
