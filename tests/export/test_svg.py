"""The preview shows what is printed: the SVG read by an XML parser, against the PDF read by pdfium."""

from __future__ import annotations

import base64
import re
import xml.etree.ElementTree as ElementTree

import pytest

from kitbuilder.artwork.frame import Bitmap, Box, Frame, Group, Line, Path, Text
from kitbuilder.export.placing import Placed
from kitbuilder.export.svg import font_face, frame_svg, mm, page_svg

EVIL = "</text><script>alert('1')</script>\" & ]]> <!-- \x00\x0b"
DIGEST = "cd" * 32


def parsed(fragment: str) -> ElementTree.Element:
    return ElementTree.fromstring(f'<svg viewBox="0 0 210 297">{fragment}</svg>')


def text_places(element: ElementTree.Element, matrix=(1.0, 0.0, 0.0, 1.0, 0.0, 0.0)):
    """Yield (text, x, y) in micrometres, multiplying the matrices on the way down as SVG 2, section 8, says."""
    moved = element.get("transform", "")
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", moved)]
    own = (1, 0, 0, 1, *numbers) if moved.startswith("translate") else tuple(numbers) or (1, 0, 0, 1, 0, 0)
    a, b, c, d, e, f = matrix
    g, h, i, j, k, m = own
    matrix = (a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * m + e, b * k + d * m + f)
    if element.tag == "text":
        x, y = float(element.get("x")), float(element.get("y"))
        a, b, c, d, e, f = matrix
        yield element.text, (a * x + c * y + e) * 1000, (b * x + d * y + f) * 1000
    for child in element:
        yield from text_places(child, matrix)


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_preview_and_print_put_every_text_at_the_same_place(pdf_of, page_of, letters_of, turns):
    inner = Frame(30_000, 20_000, (Text(4_321, 15_678, "i", "Andika", 5_000),))
    frame = Frame(62_000, 87_000, (Text(5_001, 40_009, "o", "Andika", 9_000), Group(11_111, 22_222, turns + 1, inner)))
    placed = (Placed(frame, 20_003, 30_007, turns), Placed(frame, 100_000, 150_000, turns + 2))
    printed = letters_of(pdf_of(page_of(*placed)))
    shown = list(text_places(parsed(page_svg(placed, "p"))))
    assert sorted(shown) == [(c, pytest.approx(x, abs=5), pytest.approx(y, abs=5)) for c, x, y in sorted(printed)]


def test_every_item_is_there_with_its_measures_in_millimetres():
    frame = Frame(
        62_000,
        87_000,
        (
            Line(0, 500, 62_000, 500, 250, "#808080", (1_000, 500)),
            Box(-1_000, 5_000, 30_000, 20_000, "#ddeeff", "#000000", 300, 3_000),
            Path("M 0 0 L 1500 -20 C 1 2 3 4 5 6 Z", "#102030", name="otter"),
            Text(1, 2, "d", "Andika", 9_000, "#333333"),
        ),
    )
    line, box, path, text = parsed(frame_svg(frame, "f"))[0]
    assert dict(line.attrib) == {
        "x1": "0", "y1": ".5", "x2": "62", "y2": ".5", "stroke": "#808080", "stroke-width": ".25",
        "stroke-dasharray": "1 .5",
    }  # fmt: skip
    assert dict(box.attrib) == {
        "x": "-1", "y": "5", "width": "30", "height": "20", "rx": "3", "fill": "#ddeeff", "stroke": "#000000",
        "stroke-width": ".3",
    }  # fmt: skip
    assert path.get("d") == "M0 0L1.5 -.02C.001 .002 .003 .004 .005 .006Z"
    assert path.get("fill") == "#102030"
    assert path[0].text == "otter"
    assert (text.text, text.get("font-size"), text.get("font-family")) == ("d", "9", "'Andika'")


def test_nothing_a_family_writes_can_leave_its_place():
    items = (Text(0, 0, EVIL, "An'}</style>\"dika", 9_000), Path("M 0 0 L 1 1", name=EVIL))
    root = parsed(frame_svg(Frame(10, 10, items), 'x" onload="alert(1)'))
    assert [e.tag for e in root.iter()] == ["svg", "g", "text", "path", "title"]
    assert root[0][0].text == EVIL.replace("\x00", "").replace("\x0b", "")
    assert "'" not in root[0][0].get("font-family")[1:-1]
    assert "onload" not in root[0].attrib
    assert "</style" not in font_face("An'}</style>", b"")
    with pytest.raises(ValueError, match="#rrggbb"):
        frame_svg(Frame(10, 10, (Text(0, 0, "d", "Andika", 9, '#000"/><x'),)))


def test_ids_are_unique_on_a_page():
    frame = Frame(10, 10, (Group(0, 0, 0, Frame(5, 5, ())),))
    page = page_svg([Placed(frame, 0, 0)] * 3, "A1-front") + page_svg([Placed(frame, 0, 0)] * 3, "A1-back")
    ids = [e.get("id") for e in parsed(page).iter() if e.get("id")]
    assert len(ids) == len(set(ids)) == 6


def test_bitmaps_travel_inside_the_page_and_must_be_there():
    frame = Frame(10, 10, (Bitmap(0, 0, 1_000, 2_000, DIGEST, "png"),))
    (image,) = parsed(frame_svg(frame, "f", {DIGEST: b"dots"}))[0]
    assert image.get("href") == "data:image/png;base64," + base64.b64encode(b"dots").decode()
    with pytest.raises(ValueError, match="cdcd"):
        frame_svg(frame)


def test_what_prints_nothing_shows_nothing():
    items = (Line(0, 0, 9, 9, 0), Box(0, 0, 9, 9, None, "#000000", 0), Text(0, 0, "", "Andika", 9), Path("", "#000000"))
    assert frame_svg(Frame(9, 9, items)) == "<g></g>"


def test_frames_in_frames_end_somewhere():
    frame = Frame(9, 9, ())
    for _ in range(40):
        frame = Frame(9, 9, (Group(0, 0, 0, frame),))
    with pytest.raises(ValueError, match="deep"):
        frame_svg(frame)


@pytest.mark.parametrize(
    ("um", "text"), [(62_000, "62"), (500, ".5"), (-1, "-.001"), (0, "0"), (1_230, "1.23"), (-62_050, "-62.05")]
)
def test_millimetres_are_exact_and_short(um, text):
    assert mm(um) == text
