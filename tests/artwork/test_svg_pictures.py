"""A family's simple SVG comes out as the shapes an independent SVG reader sees, and nothing dangerous gets in."""

from __future__ import annotations

import math

import pytest
from fontTools.misc.transform import Transform
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib import SVGPath
from fontTools.svgLib.path import parse_path as reference_path
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.artwork.path_shape import bounds
from kitbuilder.artwork.pictures import PictureOutline, PictureProblem
from kitbuilder.artwork.svg_pictures import outline_from_svg
from kitbuilder.artwork.svg_shapes import transform
from kitbuilder.artwork.vector_paths import parse_path

SHAPES = {
    "rect": '<rect x="10" y="20" width="60" height="40"/>',
    "round rect": '<rect x="10" y="20" width="60" height="40" rx="12" ry="5"/>',
    "polygon": '<polygon points="20,90 50,60 80,90"/>',
    "path": '<path d="M10 10h80v80h-80z"/>',
    "curves": '<path d="M10,50 C10,20 40,20 40,50 S70,80 70,50 Q80 10 90 50 T95 60 Z"/>',
    "arcs": '<path d="M10 80 A 30 20 -45 1 1 60 30 a10 10 0 0120 20 L 80 80 Z"/>',
    "arc 00": '<path d="M10 10A50 30 20 0 0 60 40L0 90Z"/>',
    "arc 01": '<path d="M10 10A50 30 20 0160 40L0 90Z"/>',
    "arc 10": '<path d="M10 10A50 30 20 1060 40L0 90Z"/>',
    "arc 11": '<path d="M10 10a50,30,20,1,1,50,30L0 90Z"/>',
    "matrix": '<path transform="matrix(1 .2 -.3 .9 4 5)" d="M0 0L50 0L50 70Z"/>',
}


def svg(inside: str, attributes: str = 'viewBox="0 0 100 100"') -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}>{inside}</svg>'


def area(picture: PictureOutline) -> float:
    pen = AreaPen()
    for layer in picture.layers:
        draw_with(pen, list(layer.commands))
    return float(pen.value)


def draw_with(pen: object, commands: list[tuple[str | float, ...]]) -> None:
    is_open = False
    for letter, *numbers in commands:
        points = list(zip(numbers[::2], numbers[1::2], strict=True))
        if letter == "M" and is_open:
            pen.endPath()  # type: ignore[attr-defined]  # fontTools pens share no typed base
        name = {"M": "moveTo", "L": "lineTo", "C": "curveTo", "Z": "closePath"}[str(letter)]
        getattr(pen, name)(*points)
        is_open = letter != "Z"
    if is_open:
        pen.endPath()  # type: ignore[attr-defined]  # as above


@pytest.mark.parametrize("shape", SHAPES)
def test_shapes_have_the_proportions_and_area_an_independent_reader_sees(shape: str) -> None:
    """fontTools' SVG reader is the reference; it shares no code with ours."""
    text = svg(SHAPES[shape])
    box, ink = BoundsPen(None), AreaPen()
    SVGPath.fromstring(text.encode()).draw(box)
    SVGPath.fromstring(text.encode()).draw(ink)
    left, top, right, bottom = box.bounds
    ours = outline_from_svg(text)
    scale = 2048 / max(right - left, bottom - top)
    assert max(ours.width, ours.height) == 2048
    assert (ours.width, ours.height) == pytest.approx(((right - left) * scale, (bottom - top) * scale), abs=2)
    assert abs(area(ours)) == pytest.approx(abs(ink.value) * scale**2, rel=0.003)
    assert bounds(list(ours.layers[0].commands)) == pytest.approx((0, 0, ours.width, ours.height), abs=1.5)


@pytest.mark.parametrize(
    ("shape", "wide", "high"),
    [
        ('<circle cx="40" cy="50" r="30"/>', 60, 60),
        ('<ellipse cx="-4" cy="50" rx="30" ry="10"/>', 60, 20),
        ('<g transform="translate(5 7) scale(2 .5)"><circle cx="20" cy="50" r="10"/></g>', 40, 10),
        ('<rect transform="rotate(45)" width="10" height="10" rx="5"/>', 10, 10),
    ],
)
def test_ellipses_have_the_area_geometry_gives_them(shape: str, wide: float, high: float) -> None:
    picture = outline_from_svg(svg(shape))
    scale = 2048 / max(wide, high)
    assert (picture.width, picture.height) == pytest.approx((wide * scale, high * scale), abs=2)
    assert abs(area(picture)) == pytest.approx(math.pi * wide * high / 4 * scale**2, rel=0.003)


@pytest.mark.parametrize(
    ("text", "reference"),
    [
        ("translate(5 7)", Transform().translate(5, 7)),
        ("translate(5), scale(2 3)", Transform().translate(5).scale(2, 3)),
        ("scale(.5)rotate(30)", Transform().scale(0.5).rotate(math.radians(30))),
        ("rotate(30 40 -50)", Transform().translate(40, -50).rotate(math.radians(30)).translate(-40, 50)),
        ("skewX(20) skewY(-10)", Transform().skew(math.radians(20)).skew(0, math.radians(-10))),
        ("matrix(1 2 3 4 5 6) translate(1,1)", Transform(1, 2, 3, 4, 5, 6).translate(1, 1)),
        ("", Transform()),
    ],
)
def test_transform_lists_multiply_as_a_reference_library_multiplies(text: str, reference: Transform) -> None:
    assert transform(text) == pytest.approx(tuple(reference))


NUMBERS = st.integers(-900, 900).map(lambda n: n / 10)
SEGMENTS = st.one_of(
    st.tuples(st.sampled_from("LlTt"), st.tuples(NUMBERS, NUMBERS)),
    st.tuples(st.sampled_from("HhVv"), st.tuples(NUMBERS)),
    st.tuples(st.sampled_from("QqSs"), st.tuples(NUMBERS, NUMBERS, NUMBERS, NUMBERS)),
    st.tuples(st.sampled_from("Cc"), st.tuples(*[NUMBERS] * 6)),
)


@given(st.lists(SEGMENTS, min_size=1, max_size=8), st.booleans())
def test_any_path_data_is_read_as_an_independent_reader_reads_it(
    segments: list[tuple[str, tuple[float, ...]]], closed: bool
) -> None:
    data = "M3 4" + "".join(letter + " ".join(map(str, n)) for letter, n in segments) + ("z" if closed else "")
    theirs, ours = BoundsPen(None), BoundsPen(None)
    reference_path(data, theirs)
    draw_with(ours, parse_path(data))
    assert ours.bounds == pytest.approx(theirs.bounds, abs=0.01)
    drawn = bounds(parse_path(data))
    assert drawn is not None
    assert drawn == pytest.approx(theirs.bounds, abs=0.01)


@pytest.mark.parametrize(
    "data", ["M0 0L10", "10 10", "L1 1", "M0 0 X3", "M0 0z5 5", "M1e9 0L1 1", "M0 0L1e999 0", "M 0 0 L inf 2"]
)
def test_broken_path_data_is_a_problem(data: str) -> None:
    with pytest.raises(PictureProblem) as caught:
        outline_from_svg(svg(f'<path d="{data}"/>'))
    assert caught.value.hint


def test_even_odd_holes_stay_holes_under_the_nonzero_rule() -> None:
    rings = svg('<path fill-rule="evenodd" d="M10 10h80v80h-80zM30 30h40v40h-40zM40 40h20v20h-20z"/>')
    solid = 2048**2
    assert abs(area(outline_from_svg(rings))) == pytest.approx(solid * (6400 - 1600 + 400) / 6400, rel=0.01)


def test_light_shapes_hide_dark_ones_and_paper_is_left_out() -> None:
    picture = outline_from_svg(svg(
        '<rect width="100%" height="100%" fill="white"/><circle cx="50" cy="50" r="40" fill="#123"/>'
        '<circle cx="50" cy="50" r="20" fill="yellow"/><circle cx="50" cy="50" r="5" style="fill:rgb(10,20,30)"/>'
    ))  # fmt: skip
    assert [layer.white for layer in picture.layers] == [False, True, False]
    assert (picture.width, picture.height) == (2048, 2048)


def test_strokes_keep_their_width_and_count_as_ink() -> None:
    picture = outline_from_svg(
        svg('<g transform="scale(2)"><line x1="10" y1="10" x2="30" y2="10" stroke="black" stroke-width="2"/></g>')
    )
    (layer,) = picture.layers
    scale = 2048 / 44  # 40 long, and half of a 4 wide line at each end
    assert (layer.fill, layer.stroke_width) == (False, round(4 * scale))
    assert (picture.width, picture.height) == (2048, pytest.approx(4 * scale, abs=1))


def test_style_sheets_classes_and_inheritance_are_followed() -> None:
    picture = outline_from_svg(svg(
        "<style>/* x */ .a, #b { fill: none; stroke: #000 } g.c > path { fill: red }</style>"
        '<g stroke-width="3"><circle class="a" r="10"/><circle id="b" r="20"/><circle r="5" fill="none"/></g>'
    ))  # fmt: skip
    assert [(layer.fill, layer.stroke_width > 0) for layer in picture.layers] == [(False, True), (False, True)]


def test_parts_used_again_are_drawn_again() -> None:
    picture = outline_from_svg(
        svg('<defs><rect id="r" width="10" height="10"/></defs><use href="#r"/><use href="#r" x="30"/>')
    )
    assert (len(picture.layers), picture.width, picture.height) == (2, 2048, 512)


def test_hidden_parts_are_not_drawn() -> None:
    hidden = ('display="none"', 'visibility="hidden"', 'opacity="0"', 'style="display:none"', 'fill="none"')
    parts = "".join(f'<rect {how} width="99" height="99"/>' for how in hidden)
    assert len(outline_from_svg(svg(parts + '<rect width="5" height="5"/>')).layers) == 1


def test_a_clip_of_the_whole_sheet_is_ignored_and_a_smaller_one_refused() -> None:
    clip = '<clipPath id="c"><rect width="{0}" height="{0}"/></clipPath><g clip-path="url(#c)"><circle r="9"/></g>'
    assert outline_from_svg(svg(clip.format(100))).width == 2048
    with pytest.raises(PictureProblem, match="clipping"):
        outline_from_svg(svg(clip.format(50)))


@pytest.mark.parametrize(
    ("inside", "part"),
    [
        ("<script>alert(1)</script>", "script"),
        ('<rect onload="x()" width="5" height="5"/>', "script"),
        ("<text>hi</text>", "writing"),
        ('<image href="cat.png"/>', "bitmap"),
        ('<use href="other.svg#a"/>', "another file"),
        ('<use href="#missing"/>', "not there"),
        ('<rect fill="url(http://x.test/a)" width="5" height="5"/>', "another file"),
        ('<style>@import "x.css";</style>', "another file"),
        ("<foreignObject/>", "web page"),
        ('<g mask="url(#m)"><rect width="5" height="5"/></g>', "mask"),
        ('<filter id="f"/>', "filter"),
        ("", "nothing dark"),
        ('<rect width="5" height="5" fill="white"/>', "nothing dark"),
        ('<rect width="5ell" height="5"/>', "not a length"),
        ('<rect transform="spin(3)" width="5" height="5"/>', "not a transform"),
        ('<g id="a"><use href="#a"/><rect width="5" height="5"/></g>', "too many parts"),
        ("<g>" * 60 + "</g>" * 60, "too many parts"),
    ],
)
def test_what_cannot_be_printed_safely_is_refused_with_a_hint(inside: str, part: str) -> None:
    with pytest.raises(PictureProblem) as caught:
        outline_from_svg(svg(inside))
    assert part in caught.value.message
    assert caught.value.hint


@pytest.mark.parametrize(
    "text",
    [
        '<!DOCTYPE svg [<!ENTITY a "x"><!ENTITY b "&a;&a;">]>' + svg("<g>&b;</g>"),
        '<!doctype svg [<!ENTITY f SYSTEM "file:///etc/passwd">]>' + svg("<g>&f;</g>"),
        svg("<g/>")[:-4],
        "",
        "a drawing",
        "<html/>",
        svg("<!--" + "x" * 1_000_000 + "-->"),
    ],
)
def test_files_that_are_no_plain_svg_are_refused(text: str) -> None:
    with pytest.raises(PictureProblem):
        outline_from_svg(text)


def test_a_document_type_without_entities_is_harmless() -> None:
    kind = '<?xml version="1.0" encoding="utf-8"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/x.dtd">'
    assert outline_from_svg(kind + svg('<rect width="5" height="5"/>'), "box").name == "box"
