"""What a page looks like when pdfium draws it: expected pictures are typed here as letters, one a cell of 10 mm."""

from __future__ import annotations

import io
import struct
import zlib

import pypdf
import pytest
from PIL import Image

from kitbuilder.artwork.frame import Bitmap, Box, Frame, Group, Line, Path, Text
from kitbuilder.export.embedding import packed_bitmap
from kitbuilder.export.placing import Placed

COLOURS = {"r": "#ff0000", "g": "#00ff00", "b": "#0000ff", "k": "#000000", ".": "#ffffff"}
CELL_UM = 10_000
DIGEST = "ab" * 32


def cells(*rows: str) -> Frame:
    """Return a frame of coloured cells, as the rows of letters say."""
    boxes = [
        Box(x * CELL_UM, y * CELL_UM, CELL_UM, CELL_UM, COLOURS[letter])
        for y, row in enumerate(rows)
        for x, letter in enumerate(row)
        if letter != "."
    ]
    return Frame(CELL_UM * len(rows[0]), CELL_UM * len(rows), tuple(boxes))


def seen(picture: Image.Image, dpi: float, columns: int, rows: int) -> tuple[str, ...]:
    """Return the letters of the colours at the middles of the cells."""
    names = {tuple(bytes.fromhex(c[1:])): letter for letter, c in COLOURS.items()}
    at = [(i + 0.5) * CELL_UM / 25_400 * dpi for i in range(max(columns, rows))]
    return tuple(
        "".join(names.get(picture.getpixel((int(at[x]), int(at[y]))), "?") for x in range(columns)) for y in range(rows)
    )


@pytest.mark.parametrize(
    ("turns", "expected"),
    [
        (0, ("....", ".rgb", ".k..", "....")),
        (1, ("....", ".b..", ".g..", ".rk.")),
        (2, ("....", "...k", ".bgr", "....")),
        (3, ("....", ".kr.", "..g.", "..b.")),
    ],
)
def test_a_turned_frame_looks_turned_counter_clockwise(pdf_of, page_of, picture_of, turns, expected):
    data = pdf_of(page_of(Placed(cells("rgb", "k.."), CELL_UM, CELL_UM, turns)))
    assert seen(picture_of(data), 72, 4, 4) == expected
    inside = Frame(50_000, 50_000, (Group(CELL_UM, CELL_UM, turns, cells("rgb", "k..")),))
    assert seen(picture_of(pdf_of(page_of(inside))), 72, 4, 4) == expected


@pytest.mark.parametrize(
    ("turns", "corner"), [(0, "lower left"), (1, "lower right"), (2, "upper right"), (3, "upper left")]
)
def test_letters_stand_upright_on_their_baseline(pdf_of, page_of, picture_of, turns, corner):
    """The two strokes of an L meet at its foot, on the left; turned counter-clockwise they meet elsewhere."""
    frame = Frame(60_000, 60_000, (Text(20_000, 45_000, "L", "Andika-Bold", 40_000),))
    picture = picture_of(pdf_of(page_of(Placed(frame, 0, 0, turns)))).convert("L").point(lambda dot: 255 * (dot < 128))
    left, top, right, foot = picture.getbbox()
    for name, (x, y) in {
        "upper left": (left + 2, top + 2),
        "upper right": (right - 3, top + 2),
        "lower left": (left + 2, foot - 3),
        "lower right": (right - 3, foot - 3),
    }.items():
        opposite = {"lower": "upper", "upper": "lower", "left": "right", "right": "left"}
        empty = " ".join(opposite[word] for word in corner.split())
        assert (picture.getpixel((x, y)) == 255) == (name != empty), name
    if turns == 0:
        assert foot == pytest.approx(45_000 / 25_400 * 72, abs=1)


def test_later_items_cover_earlier_ones(pdf_of, page_of, picture_of):
    frame = Frame(20_000, 10_000, (Box(0, 0, 20_000, 10_000, "#ff0000"), Box(10_000, 0, 10_000, 10_000, "#0000ff")))
    assert seen(picture_of(pdf_of(page_of(frame))), 72, 2, 1) == ("rb",)


def test_what_one_frame_sets_does_not_colour_the_next(pdf_of, page_of, picture_of):
    plain = Frame(
        10_000,
        10_000,
        (Path("M 0 0 L 10000 0 L 10000 10000 L 0 10000"),),
    )
    data = pdf_of(page_of(Placed(cells("r"), 0, 0), Placed(plain, 10_000, 0)))
    assert seen(picture_of(data), 72, 2, 1) == ("rk",)
    red = cells("r").items[0]
    data = pdf_of(page_of(Frame(40_000, 10_000, (red, Group(10_000, 0, 0, plain)))))
    assert seen(picture_of(data), 72, 2, 1) == ("rk",)


def test_a_dashed_line_is_on_and_off_as_long_as_said(pdf_of, page_of, picture_of):
    line = Line(0, 10_000, 60_000, 10_000, 4_000, "#000000", (10_000, 5_000))
    picture = picture_of(pdf_of(page_of(Frame(60_000, 20_000, (line,)))), dpi=254)  # ten dots a millimetre
    dark = [picture.getpixel((x, 100)) == (0, 0, 0) for x in range(600)]
    assert [x for x in range(1, 600) if dark[x] != dark[x - 1]] == pytest.approx(
        [100, 150, 250, 300, 400, 450, 550], abs=1
    )


def test_a_round_corner_leaves_paper_free_and_meets_both_edges(pdf_of, page_of, picture_of):
    box = Box(10_000, 10_000, 40_000, 30_000, "#000000", radius_um=10_000)
    picture = picture_of(pdf_of(page_of(Frame(60_000, 60_000, (box,)))), dpi=254)
    for x, y in ((127, 127), (472, 127), (127, 372), (472, 372)):  # 7.3 mm from the circle's centre both ways: outside
        assert picture.getpixel((x, y)) == (255, 255, 255)
    for x, y in ((202, 102), (102, 202), (498, 250), (300, 398), (131, 131), (468, 368)):  # 6.9 mm both ways: inside
        assert picture.getpixel((x, y)) == (0, 0, 0)


def test_a_stroke_of_no_width_draws_nothing(pdf_of, page_of, picture_of):
    items = (
        Line(0, 5_000, 50_000, 5_000, 0),
        Box(1_000, 1_000, 9_000, 9_000, None, "#000000", 0),
        Path("M 0 0 L 9000 9000", None, "#000000", 0),
    )
    picture = picture_of(pdf_of(page_of(Frame(60_000, 60_000, items))))
    assert picture.getextrema() == ((255, 255),) * 3


def test_a_path_is_filled_by_the_nonzero_rule(pdf_of, page_of, picture_of):
    """Two squares in one path: turning the same way the inner one is ink, turning the other way it is a hole."""
    outer = "M 0 0 L 30000 0 L 30000 30000 L 0 30000 Z "
    same = "M 10000 10000 L 20000 10000 L 20000 20000 L 10000 20000 Z"
    against = "M 10000 10000 L 10000 20000 L 20000 20000 L 20000 10000 Z"
    full = picture_of(pdf_of(page_of(Frame(30_000, 30_000, (Path(outer + same),)))))
    hole = picture_of(pdf_of(page_of(Frame(30_000, 30_000, (Path(outer + against),)))))
    assert seen(full, 72, 3, 3) == ("kkk", "kkk", "kkk")
    assert seen(hole, 72, 3, 3) == ("kkk", "k.k", "kkk")


def encoded(image: Image.Image, format_name: str) -> bytes:
    out = io.BytesIO()
    image.save(out, format_name, **({"quality": 95, "subsampling": 0} if format_name == "JPEG" else {}))
    return out.getvalue()


def quarters(mode: str) -> Image.Image:
    """Return 40 x 20 dots: red and green above blue and black."""
    image = Image.new("RGB", (40, 20))
    for letter, corner in (("r", (0, 0)), ("g", (20, 0)), ("b", (0, 10)), ("k", (20, 10))):
        image.paste(COLOURS[letter], (*corner, corner[0] + 20, corner[1] + 10))
    return image.convert(mode)


@pytest.mark.parametrize(
    ("turns", "expected"), [(0, ("rg", "bk")), (1, ("gk", "rb")), (2, ("kb", "gr")), (3, ("br", "kg"))]
)
def test_a_bitmap_stands_upright_in_its_box(pdf_of, page_of, picture_of, turns, expected):
    frame = Frame(20_000, 20_000, (Bitmap(0, 0, 20_000, 20_000, DIGEST, "png"),))
    data = pdf_of(page_of(Placed(frame, 0, 0, turns)), bitmaps={DIGEST: encoded(quarters("RGB"), "PNG")})
    assert seen(picture_of(data), 72, 2, 2) == expected


def test_a_photo_goes_in_as_it_is(pdf_of, page_of):
    jpeg = encoded(quarters("RGB"), "JPEG")
    data = pdf_of(page_of(Frame(9_000, 9_000, (Bitmap(0, 0, 9_000, 9_000, DIGEST, "jpeg"),))), bitmaps={DIGEST: jpeg})
    (image,) = pypdf.PdfReader(io.BytesIO(data)).pages[0]["/Resources"]["/XObject"].values()
    assert image.get_object()._data == jpeg
    assert data == pdf_of(
        page_of(Frame(9_000, 9_000, (Bitmap(0, 0, 9_000, 9_000, DIGEST, "jpeg"),))), bitmaps={DIGEST: jpeg}
    )


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_every_kind_of_png_becomes_plain_grey_or_colour(mode):
    image = Image.new("I;16", (4, 2), 0x8000) if mode == "I;16" else quarters("RGB").convert(mode)
    packed = packed_bitmap(encoded(image, "PNG"), "png")
    assert (packed.width, packed.height) == image.size
    assert packed.colours == ("DeviceGray" if mode in ("1", "L", "LA", "I;16") else "DeviceRGB")
    if mode == "I;16":
        assert set(Image.open(io.BytesIO(encoded(image, "PNG"))).convert("I").tobytes()) == {0, 0x80}
        assert set(zlib.decompress(packed.data)) == {128}


def test_see_through_dots_become_white_paper(pdf_of, page_of, picture_of):
    image = quarters("RGBA")
    image.paste((0, 255, 0, 0), (20, 0, 40, 10))
    frame = Frame(20_000, 20_000, (Bitmap(0, 0, 20_000, 20_000, DIGEST, "png"),))
    data = pdf_of(page_of(frame), bitmaps={DIGEST: encoded(image, "PNG")})
    assert seen(picture_of(data), 72, 2, 2) == ("r.", "bk")


@pytest.mark.parametrize(
    ("data", "format_name"),
    [(b"", "png"), (b"\x89PNG\r\n\x1a\n broken", "png"), (b"\xff\xd8\xff broken", "jpeg"), (b"GIF89a....", "png")],
)
def test_a_broken_bitmap_is_refused_in_plain_words(data, format_name):
    with pytest.raises(ValueError, match="cannot be read"):
        packed_bitmap(data, format_name)


@pytest.mark.parametrize("side", [9_000, 60_000])
def test_a_picture_that_would_fill_the_memory_is_refused(side):
    chunk = b"IHDR" + struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    data = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + chunk + struct.pack(">I", zlib.crc32(chunk))
    with pytest.raises(ValueError, match=r"too large|cannot be read"):
        packed_bitmap(data + struct.pack(">I", 0) + b"IDAT" + struct.pack(">I", zlib.crc32(b"IDAT")), "png")


def test_half_a_photo_is_refused():
    whole = encoded(quarters("RGB"), "JPEG")
    with pytest.raises(ValueError, match="cannot be read"):
        packed_bitmap(whole[: len(whole) // 2], "jpeg")


def test_a_bitmap_that_is_not_there_is_refused(pdf_of, page_of):
    frame = Frame(9_000, 9_000, (Bitmap(0, 0, 9_000, 9_000, DIGEST, "png"),))
    with pytest.raises(ValueError, match="abab"):
        pdf_of(page_of(frame))
