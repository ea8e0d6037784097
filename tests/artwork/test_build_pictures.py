"""The converter from a font to picture outlines: same bytes every time, same shape as the font's glyph."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

from kitbuilder.artwork.build_pictures import build
from kitbuilder.artwork.fonts import font_file
from kitbuilder.artwork.path_shape import bounds
from kitbuilder.artwork.pictures import _commands
from kitbuilder.artwork.shipped import shipped

NAMES = ["# comment", "letter a\t61", "letter g\t67", "eight\t38", "accent\te9"]


def signed_area(commands: tuple[tuple[str | int, ...], ...]) -> float:
    """Return the area by Green's theorem, curves included (positive for contours clockwise on paper, y down)."""
    pen, here, start = AreaPen(), (0, 0), (0, 0)
    for letter, *numbers in commands:
        points = list(zip(map(int, numbers[::2]), map(int, numbers[1::2]), strict=True))
        if letter == "Z":
            if here != start:
                pen.lineTo(start)
            pen.closePath()
        else:
            {"M": pen.moveTo, "L": pen.lineTo, "C": pen.curveTo}[str(letter)](*points)
            here = points[-1]
            start = here if letter == "M" else start
    return float(pen.value)


def test_the_same_font_and_names_give_the_same_bytes() -> None:
    once, twice = (build(font_file("Andika"), NAMES) for _ in range(2))
    assert once == twice
    assert once[4:8] == b"\0\0\0\0"  # no time stamp: RFC 1952, section 2.3.1


def test_outlines_keep_the_area_of_the_fonts_glyphs() -> None:
    """fontTools draws the reference; y down turns the sign."""
    lines = gzip.decompress(build(font_file("Andika"), NAMES)).decode().splitlines()
    font = TTFont(font_file("Andika"))
    glyphs, cmap = font.getGlyphSet(), font.getBestCmap()
    assert [line.split("\t")[0] for line in lines] == ["61", "67", "38", "e9"]
    for line in lines:
        code, width, height, outline = line.split("\t")
        pen = AreaPen(glyphs)
        glyphs[cmap[int(code, 16)]].draw(pen)
        commands = _commands(outline)
        assert signed_area(commands) == pytest.approx(-pen.value, rel=0.002)
        assert bounds(list(commands)) == pytest.approx((0, 0, int(width), int(height)), abs=1.5)


def test_several_code_points_find_the_one_glyph_that_stands_for_them(tmp_path: Path) -> None:
    builder = FontBuilder(1000)
    builder.setupGlyphOrder([".notdef", "bear", "joiner", "snow", "polar"])
    builder.setupCharacterMap({0x1F43B: "bear", 0x200D: "joiner", 0x2744: "snow"})
    glyphs = {}
    for i, name in enumerate((".notdef", "bear", "joiner", "snow", "polar")):
        pen = TTGlyphPen(None)
        pen.moveTo((0, 0))
        pen.lineTo((0, 100 * (i + 1)))
        pen.lineTo((100 * (i + 1), 0))
        pen.closePath()
        glyphs[name] = pen.glyph()
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics(dict.fromkeys(glyphs, (1000, 0)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Tiny", "styleName": "Regular"})
    builder.setupOS2()
    builder.setupPost()
    builder.addOpenTypeFeatures("feature ccmp { sub bear joiner snow by polar; } ccmp;")
    builder.save(tmp_path / "tiny.ttf")
    text = gzip.decompress(build(tmp_path / "tiny.ttf", ["polar bear\t1f43b 200d 2744"])).decode()
    assert text == "1f43b 200d 2744\t500\t500\tm0 500l0-500l500 500z\n"


def test_the_shipped_outlines_follow_the_shipped_names() -> None:
    folder = shipped("fonts") / "pictures"
    names = [x for x in (folder / "names.txt").read_text(encoding="utf-8").splitlines() if not x.startswith("#")]
    outlines = gzip.decompress((folder / "outlines.txt.gz").read_bytes()).decode().splitlines()
    assert [line.split("\t")[0] for line in outlines] == [line.split("\t")[1] for line in names]
    assert len({line.split("\t")[0] for line in outlines}) == len(names)
