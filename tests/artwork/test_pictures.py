"""Shipped pictures: every name and word finds an outline that lies in its box and prints as neither blank nor blot."""

from __future__ import annotations

import io
import unicodedata

import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from kitbuilder.artwork.frame import Path
from kitbuilder.artwork.outlines import commands_of
from kitbuilder.artwork.path_shape import bounds
from kitbuilder.artwork.pictures import (
    Layer,
    PictureOutline,
    everyday_words,
    find_picture,
    nearest_names,
    picture_names,
    placed,
    unclear_words,
)
from kitbuilder.artwork.shipped import shipped

COLOURS = {"black", "white", "red", "green", "blue", "orange", "yellow", "purple", "brown", "pink", "grey"}
CELL = 50  # points a picture on the test page


def codes_of() -> dict[str, str]:
    text = (shipped("fonts") / "pictures" / "names.txt").read_text(encoding="utf-8")
    rows = [line.split("\t") for line in text.splitlines() if line and not line.startswith("#")]
    return {row[0]: row[1] for row in rows}


def known_picture(name: str) -> PictureOutline:
    picture = find_picture(name)
    assert picture is not None, name
    return picture


def ink_shares(pictures: list[PictureOutline]) -> list[float]:
    """Return for each picture which part of its square prints black, drawn by one library and read by another."""
    page, data = Canvas("", pagesize=(CELL * len(pictures), CELL)), io.BytesIO()
    for i, picture in enumerate(pictures):
        for item in placed(picture, i * CELL * 1000, 0, CELL * 1000, CELL * 1000):
            draw(page, item)
    data.write(page.getpdfdata())
    bitmap = pypdfium2.PdfDocument(data)[0].render(scale=1).to_pil().convert("L")
    squares = [bitmap.crop((i * CELL, 0, (i + 1) * CELL, CELL)) for i in range(len(pictures))]
    return [1 - sum(s.tobytes()) / (255 * CELL * CELL) for s in squares]


def draw(page: Canvas, item: Path) -> None:
    path = page.beginPath()
    for letter, *numbers in commands_of(item.outline):
        values = [CELL - n / 1000 if i % 2 else n / 1000 for i, n in enumerate(map(int, numbers))]
        {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo, "Z": path.close}[str(letter)](*values)
    page.setFillColor(item.fill or "#000000")
    page.drawPath(path, stroke=0, fill=1, fillMode=1)


def test_there_is_a_picture_for_many_hundred_names() -> None:
    assert len(picture_names()) > 1_000
    assert list(picture_names()) == sorted(picture_names())


def test_names_are_unicodes_without_words_for_colour() -> None:
    """Outside source: the Unicode Character Database that comes with Python (14.0 and later)."""
    for name, codes in codes_of().items():
        known = unicodedata.name(chr(int(codes.split()[0], 16)), None)
        if known and " " not in codes and name != "leafy green":
            assert name == " ".join(word for word in known.lower().split() if word not in COLOURS)


def test_every_outline_lies_in_its_box_and_fills_it() -> None:
    for name in picture_names():
        picture = known_picture(name)
        assert len(picture.layers) == 1
        (layer,) = picture.layers
        assert layer.fill
        assert layer.stroke_width == 0
        box = bounds(list(layer.commands))
        assert box == pytest.approx((0, 0, picture.width, picture.height), abs=1.5), name


def test_outlines_are_whole_numbers_and_closed_contours() -> None:
    for name in picture_names():
        commands = known_picture(name).layers[0].commands
        assert all(type(n) is int for command in commands for n in command[1:])
        assert {(c[0], len(c)) for c in commands} <= {("M", 3), ("L", 3), ("C", 7), ("Z", 1)}
        letters = "".join(str(c[0]) for c in commands)
        assert letters.count("M") == letters.count("Z") == letters.count("ZM") + 1
        assert letters.endswith("Z")


def test_pictures_print_as_neither_blank_nor_blot() -> None:
    """A wrong winding direction or a lost contour fills holes: then the share of ink leaps."""
    names = list(picture_names())[::12]
    shares = dict(zip(names, ink_shares([known_picture(n) for n in names]), strict=True))
    assert {n: s for n, s in shares.items() if not 0.02 < s < 0.78} == {}
    assert sum(shares.values()) / len(shares) < 0.4


@pytest.mark.parametrize(("name", "least", "most"), [("heart", 0.06, 0.2), ("otter", 0.1, 0.35), ("bear", 0.4, 0.75)])
def test_outlined_pictures_keep_their_white_inside(name: str, least: float, most: float) -> None:
    assert least < ink_shares([known_picture(name)])[0] < most


def test_every_everyday_word_finds_its_picture() -> None:
    names = set(picture_names())
    for word, name in everyday_words():
        assert name in names
        assert word not in names
        assert known_picture(word).name == name


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("otter", "otter"),
        ("  Otter ", "otter"),
        ("red apple", "apple"),
        ("Green  Apple", "apple"),
        ("woman's hat", "womans hat"),
        ("T-Shirt", "t-shirt"),
        ("t shirt", "t-shirt"),
        ("polar_bear", "polar bear"),
        ("pan", "cooking"),
        ("sun", "sun with rays"),
        ("leafy green", "leafy green"),
    ],
)
def test_a_name_is_found_however_it_is_typed(asked: str, name: str) -> None:
    assert known_picture(asked).name == name


@pytest.mark.parametrize("asked", ["", "red", "no such thing", "../otter", "ot"])
def test_what_is_not_there_is_not_found(asked: str) -> None:
    assert find_picture(asked) is None


def test_hints_name_the_likeliest_pictures_first() -> None:
    assert nearest_names("oter")[0] == "otter"
    assert nearest_names("apples")[0] == "apple"
    assert "polar bear" in nearest_names("bear")
    assert nearest_names("qqqq") == ()
    assert len(nearest_names("face")) == 3


def test_hints_can_be_typed_as_they_are() -> None:
    for asked in ("cta", "hose", "fether", "trane", "bukket"):
        for hint in nearest_names(asked):
            assert find_picture(hint) is not None


@pytest.mark.parametrize("size", [(40_000, 40_000), (60_000, 20_000), (20_000, 60_000), (7, 5)])
def test_a_placed_picture_is_as_large_as_fits_and_in_the_middle(size: tuple[int, int]) -> None:
    picture = known_picture("otter")
    (path,) = placed(picture, 1_000, 2_000, *size)
    box = bounds(list(commands_of(path.outline)))
    assert box is not None
    left, top, right, bottom = box[0] - 1_000, box[1] - 2_000, box[2] - 1_000, box[3] - 2_000
    assert min(left, top) >= -3
    assert right <= size[0] + 3
    assert bottom <= size[1] + 3
    assert left == pytest.approx(size[0] - right, abs=25)
    assert top == pytest.approx(size[1] - bottom, abs=25)
    assert min(left, top) < 25
    if size[0] > 100:
        assert (right - left) / (bottom - top) == pytest.approx(picture.width / picture.height, rel=0.002)


def test_layers_are_placed_with_their_paint() -> None:
    square = (("M", 0, 0), ("L", 100, 0), ("L", 100, 100), ("L", 0, 100), ("Z",))
    picture = PictureOutline("x", 100, 100, (Layer(square, stroke_width=10), Layer(square, white=True)))
    below, above = placed(picture, 0, 0, 1_000, 1_000)
    assert (below.fill, below.stroke, below.stroke_um) == ("#000000", "#000000", 100)
    assert (above.fill, above.stroke, above.stroke_um) == ("#ffffff", None, 0)
    assert commands_of(below.outline)[2] == ("L", 1_000, 1_000)


def test_words_with_an_unclear_picture_are_in_order_and_have_one() -> None:
    listed = (shipped("fonts") / "pictures" / "unclear.txt").read_text(encoding="utf-8").splitlines()[2:]
    assert listed == sorted(set(listed))
    assert set(listed) == unclear_words()
    assert [word for word in listed if find_picture(word) is None] == []


def test_no_two_short_words_that_are_clear_share_a_picture() -> None:
    """Words a beginner may be asked for: four letters at most, plurals aside."""
    shown: dict[str, str] = {}
    for word, name in everyday_words():
        if len(word) <= 4 and not word.endswith("s") and word not in unclear_words():
            assert name not in shown, f"{word} and {shown[name]}"
            shown[name] = word
