"""What a print file says, read with pypdf and pdfium, which are not the writer."""

from __future__ import annotations

import gc
import hashlib
import io
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pypdf
import pypdfium2
import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph

from kitbuilder.artwork.frame import Box, Frame, Group, Line, Text
from kitbuilder.export.embedding import embedded_font
from kitbuilder.export.pdf import PdfSettings, PrintPage, drawing_operators, pdf_bytes, write_pdf
from kitbuilder.export.placing import Placed
from kitbuilder.measure.geometry import turn_point

CLOSE_UM = 10  # a hundredth of a millimetre
SENTENCE = "Tansy’s “otter” fi ffl AVA – naïve, ½"


def reader(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def card(text: str = "otter", font: str = "Andika") -> Frame:
    edge = Box(0, 0, 62_000, 87_000, None, "#c0c0c0", 200)
    return Frame(62_000, 87_000, (Text(5_000, 40_000, text, font, 9_000), edge))


@pytest.mark.parametrize(
    ("duplex", "name"), [("simplex", "/Simplex"), ("long", "/DuplexFlipLongEdge"), ("short", "/DuplexFlipShortEdge")]
)
def test_print_settings_are_those_of_the_standard(pdf_of, page_of, duplex, name):
    """ISO 32000-2, table 147: entries in a viewer preferences dictionary."""
    preferences = reader(pdf_of(page_of(card()), duplex=duplex, copies=3)).root_object["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None"
    assert preferences["/Duplex"] == name
    assert preferences["/PickTrayByPDFSize"].value is True
    assert preferences["/NumCopies"] == 3
    assert preferences["/Enforce"] == ["/PrintScaling"]


def test_title_and_language_are_the_documents(pdf_of, page_of):
    made = reader(pdf_of(page_of(card()), title="Woche 3 – größer", language="de-DE"))
    assert made.metadata.title == "Woche 3 – größer"
    assert made.root_object["/Lang"] == "de-DE"
    assert made.root_object["/ViewerPreferences"]["/DisplayDocTitle"].value is True


@pytest.mark.parametrize(
    ("um", "points"),
    [
        ((215_900, 279_400), (612, 792)),  # ANSI/ASME Y14.1 size A: 8.5 x 11 in at 72 points an inch
        ((210_000, 297_000), (595.275591, 841.889764)),  # ISO 216 A4: mm x 72 / 25.4
        ((297_000, 420_000), (841.889764, 1190.551181)),  # ISO 216 A3
    ],
)
def test_every_box_is_the_sheet(pdf_of, page_of, um, points):
    page = reader(pdf_of(page_of(card(), size=um))).pages[0]
    for box in ("/MediaBox", "/TrimBox", "/CropBox", "/BleedBox"):
        assert [float(v) for v in page[box]] == pytest.approx([0, 0, *points], abs=0.00003)  # 0.01 micrometres


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_text_copies_out_as_what_it_says(pdf_of, page_of, turns):
    data = pdf_of(page_of(Placed(card(SENTENCE), 40_000, 40_000, turns)))
    assert reader(data).pages[0].extract_text() == SENTENCE
    with pypdfium2.PdfDocument(data) as document:
        assert document[0].get_textpage().get_text_range() == SENTENCE


def test_letters_above_the_first_plane_copy_out_and_draw(pdf_of, page_of, fonts, letters_of):
    high = sorted(c for c in TTFont(fonts["Andika"])["cmap"].getBestCmap() if c > 0xFFFF)
    text = "a" + chr(high[0]) + "b" + chr(high[-1]) + "c"
    data = pdf_of(page_of(card(text)))
    assert reader(data).pages[0].extract_text() == text
    with pypdfium2.PdfDocument(data) as document:
        assert document[0].get_textpage().get_text_range() == text
    xs = [x for _, x, _ in letters_of(data)]
    assert xs == sorted(xs)
    assert len(set(xs)) >= 5


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_letters_lie_within_a_hundredth_of_a_millimetre(pdf_of, page_of, letters_of, fonts, turns):
    """Origins by pdfium against geometry.turn_point; advances against the font's own table, read by fontTools.

    An advance counts in whole thousandths of the em, as pdfium reads them.
    """
    font = TTFont(fonts["Andika"])
    units = [font["hmtx"][font.getBestCmap()[ord(c)]][0] / font["head"].unitsPerEm for c in "otter"]
    advances = [round(u * 1000) * 9_000 / 1000 for u in units]
    found = letters_of(pdf_of(page_of(Placed(card(), 31_234, 57_891, turns))))
    assert "".join(c for c, _, _ in found) == "otter"
    for index, (_, x, y) in enumerate(found):
        right, down = turn_point(5_000 + round(sum(advances[:index])), 40_000, 62_000, 87_000, turns)
        assert (x, y) == pytest.approx((31_234 + right, 57_891 + down), abs=CLOSE_UM)


def test_a_frame_in_a_frame_lies_where_geometry_says(pdf_of, page_of, letters_of):
    inner = Frame(30_000, 20_000, (Text(4_000, 15_000, "d", "Andika", 5_000),))
    outer = Frame(62_000, 87_000, (Group(10_000, 20_000, 1, inner),))
    ((_, x, y),) = letters_of(pdf_of(page_of(Placed(outer, 50_000, 60_000, 3))))
    in_outer = tuple(a + b for a, b in zip((10_000, 20_000), turn_point(4_000, 15_000, 30_000, 20_000, 1), strict=True))
    right, down = turn_point(*in_outer, 62_000, 87_000, 3)
    assert (x, y) == pytest.approx((50_000 + right, 60_000 + down), abs=CLOSE_UM)


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_a_frames_operators_are_the_same_wherever_it_lies(pdf_of, page_of, turns):
    frame = Frame(62_000, 87_000, (*card().items, Group(1_000, 1_000, 1, card("inside", "Andika-Bold"))))
    other = card("before it, with other letters", "Andika-Bold")
    data = pdf_of(page_of(other), page_of(other, Placed(frame, 77_777, 5_432, turns)))
    assert b"\n" + drawing_operators(frame) + b"\nQ" in reader(data).pages[1].get_contents().get_data()


def test_every_font_is_embedded_and_none_is_the_viewers_own(pdf_of, page_of):
    data = pdf_of(page_of(card(), card("bold", "Andika-Bold")))
    fonts = reader(data).pages[0]["/Resources"]["/Font"]
    assert len(fonts) == 2
    for font in fonts.values():
        descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert descriptor["/FontFile2"].get_object().get_data()[:4] == b"\0\1\0\0"
        assert "/ToUnicode" in font.get_object()
    assert b"Helvetica" not in data


def test_greys_are_printed_with_one_ink(pdf_of, page_of):
    items = (Box(0, 0, 9_000, 9_000, "#808080"), Line(0, 0, 9, 9, 100, "#000000"))
    data = pdf_of(page_of(Frame(10_000, 10_000, items)))
    operators = reader(data).pages[0].get_contents().get_data()
    assert b"0.502 g" in operators
    assert b" rg" not in operators
    assert b" RG" not in operators


def test_pages_carry_their_names(pdf_of, page_of):
    data = pdf_of(page_of(card(), label="A1 front"), page_of(card()), page_of(card(), label="A2 front"))
    assert reader(data).page_labels == ["A1 front", "2", "A2 front"]


def test_a_measured_scale_stretches_the_ruler_about_the_sheets_centre(pdf_of, page_of, letters_of):
    ruler = Frame(100_000, 10_000, (Text(0, 5_000, "|", "Andika", 3_000), Text(100_000, 5_000, "|", "Andika", 3_000)))
    page = page_of(Placed(ruler, 55_000, 143_500))  # in the middle of A4
    plain = letters_of(pdf_of(page))
    scaled = letters_of(pdf_of(page, scale_ppm=(1_002_000, 1_000_000)))
    assert scaled[1][1] - scaled[0][1] == pytest.approx(100_200, abs=CLOSE_UM)
    assert scaled[0][1] + scaled[1][1] == pytest.approx(plain[0][1] + plain[1][1], abs=CLOSE_UM)
    assert [y for _, _, y in scaled] == pytest.approx([y for _, _, y in plain], abs=CLOSE_UM)


SCRIPT = """
import hashlib, sys
from pathlib import Path
from kitbuilder.artwork.frame import Frame, Text
from kitbuilder.export.embedding import embedded_font
from kitbuilder.export.pdf import PdfSettings, PrintPage, pdf_bytes
from kitbuilder.export.placing import Placed
frame = Frame(62_000, 87_000, (Text(5_000, 40_000, "same öther bytes", "Andika", 9_000),))
pages = [PrintPage(210_000, 297_000, (Placed(frame, 0, 0),), "A1")]
print(hashlib.sha256(pdf_bytes(pages, PdfSettings("t", "en", "long"), {"Andika": Path(sys.argv[1])})).hexdigest())
"""


def test_same_pages_give_the_same_bytes_in_another_process_and_folder(fonts, tmp_path):
    moved = tmp_path / "other name.ttf"
    moved.write_bytes(fonts["Andika"].read_bytes())
    digests = set()
    for seed, font in (("1", fonts["Andika"]), ("2", moved)):
        environment = os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(__file__).parents[2])}
        command = [sys.executable, "-c", SCRIPT, str(font)]
        digests.add(subprocess.run(command, env=environment, capture_output=True, text=True, check=True).stdout)
    assert len(digests) == 1


def test_pages_are_taken_one_by_one_and_let_go(fonts):
    most = 0

    def pages():
        nonlocal most
        for number in range(400):
            placed = tuple(Placed(card(f"{number}"), 0, 0) for _ in range(4))
            yield PrintPage(210_000, 297_000, placed)
            most = max(most, sum(isinstance(o, Frame) for o in gc.get_objects()))

    gc.collect()
    gc.freeze()  # what other tests left is not looked through four hundred times
    try:
        write_pdf(pages(), PdfSettings("t", "en", "simplex"), fonts, {}, io.BytesIO())
    finally:
        gc.unfreeze()
    assert 0 < most < 100


def test_a_file_is_written_where_asked(tmp_path, fonts, page_of):
    settings = PdfSettings("t", "en", "simplex")
    assert write_pdf([page_of(card()), page_of(card())], settings, fonts, {}, tmp_path / "a file é.pdf") == 2
    assert len(pypdf.PdfReader(tmp_path / "a file é.pdf").pages) == 2


@pytest.mark.parametrize(
    ("frame", "said"),
    [
        (card("x", "No Such Font"), "No Such Font"),
        (card("☃ﬆ\U0001f9a6"), "U\\+1F9A6"),  # never an empty box in place of a letter
        (Frame(10, 10, (Box(0, 0, 9, 9, "red"),)), "#rrggbb"),
    ],
)
def test_what_cannot_be_drawn_is_refused(fonts, page_of, frame, said):
    with pytest.raises(ValueError, match=said):
        pdf_bytes([page_of(frame)], PdfSettings("t", "en", "simplex"), fonts)


def test_two_rare_characters_that_would_share_a_code_are_refused():
    """A font made here, with two empty letter shapes 2,048 numbers apart."""
    made = FontBuilder(1000, isTTF=True)
    made.setupGlyphOrder([".notdef", "one", "two"])
    made.setupCharacterMap({0x10000: "one", 0x10800: "two"})
    made.setupGlyf({name: Glyph() for name in (".notdef", "one", "two")})
    made.setupHorizontalMetrics(dict.fromkeys((".notdef", "one", "two"), (500, 0)))
    made.setupHorizontalHeader(ascent=800, descent=-200)
    made.setupNameTable({"familyName": "Rare", "styleName": "Regular", "psName": "Rare"})
    made.setupOS2()
    made.setupPost()
    out = io.BytesIO()
    made.save(out)
    assert embedded_font("Rare", out.getvalue(), frozenset("\U00010800")).name.endswith("+Rare")
    with pytest.raises(ValueError, match="one file"):
        embedded_font("Rare", out.getvalue(), frozenset("\U00010000\U00010800"))


def test_a_file_without_pages_is_refused(fonts):
    with pytest.raises(ValueError, match="at least one page"):
        pdf_bytes([], PdfSettings("t", "en", "simplex"), fonts)


def test_a_font_that_is_none_is_refused(page_of):
    for data in (b"", b"not a font at all", b"\0\1\0\0\0\4" + bytes(40), b"OTTO" + bytes(200)):
        with pytest.raises(ValueError, match="cannot be embedded"):
            pdf_bytes([page_of(card())], PdfSettings("t", "en", "simplex"), {"Andika": data})


def test_frames_in_frames_end_somewhere(pdf_of, page_of):
    frame = card()
    for _ in range(40):
        frame = Frame(62_000, 87_000, (Group(0, 0, 0, frame),))
    with pytest.raises(ValueError, match="deep"):
        pdf_of(page_of(frame))


def test_strict_readers_find_nothing_wrong(pdf_of, page_of, tmp_path):
    data = pdf_of(page_of(card(SENTENCE), Placed(card("b", "Andika-Bold"), 9, 9, 3), label="A1"), page_of(card()))
    assert len(reader(data).pages) == 2
    path = tmp_path / "checked.pdf"
    path.write_bytes(data)
    qpdf = shutil.which("qpdf")
    assert qpdf or not os.environ.get("CI"), "install qpdf: this check may not be left out where CI runs"
    if qpdf:
        done = subprocess.run([qpdf, "--check", str(path)], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout + done.stderr
    assert hashlib.sha256(data).hexdigest() == hashlib.sha256(path.read_bytes()).hexdigest()
