"""What a reprint needs lies in the pack: drawings, and the fonts under the names that frames use."""

from __future__ import annotations

from kitbuilder.artwork.drawings import decode_drawings
from kitbuilder.artwork.fonts import font_file
from kitbuilder.artwork.frame import Frame, Text
from kitbuilder.export.drawing_file import write_drawings
from kitbuilder.export.pdf import PdfSettings, drawing_operators, pdf_bytes


def test_a_pack_brings_its_drawings_its_fonts_and_their_licence(tmp_path, fonts):
    frame = Frame(62_000, 87_000, (Text(5_000, 40_000, "d", "Andika", 9_000),))
    write_drawings(tmp_path, {"03-LC-1A": (frame, None)}, {}, fonts)
    read = decode_drawings((tmp_path / "drawings.json.gz").read_bytes())
    assert read.flats["03-LC-1A"] == (frame, None)
    found = font_file("Andika", tmp_path / "fonts")
    assert found.parent == tmp_path / "fonts"
    assert found.read_bytes() == fonts["Andika"].read_bytes()
    assert sorted(p.name for p in (tmp_path / "fonts").iterdir()) == ["Andika-OFL.txt", "Andika.ttf"]


def test_a_reprint_from_the_pack_alone_draws_the_same_bytes(tmp_path, fonts, page_of):
    frame = Frame(62_000, 87_000, (Text(5_000, 40_000, "döck", "Andika", 9_000),))
    write_drawings(tmp_path, {"a": (frame, None)}, {}, fonts)
    again = decode_drawings((tmp_path / "drawings.json.gz").read_bytes()).flats["a"][0]
    assert drawing_operators(again) == drawing_operators(frame)
    settings = PdfSettings("t", "en", "simplex")
    first = pdf_bytes([page_of(frame)], settings, fonts)
    assert pdf_bytes([page_of(again)], settings, {"Andika": font_file("Andika", tmp_path / "fonts")}) == first
