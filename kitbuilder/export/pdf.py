"""Pages of placed frames as a PDF that prints at true size. The only place that talks to the PDF library.

One pass: a page's operators are packed as soon as the page comes, and its frames are let go. The y axis is flipped
once, in the matrix at the head of each page. Same pages, same settings, same versions: same bytes.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path as FilePath
from typing import Any, BinaryIO, Literal

from reportlab.pdfbase import pdfdoc

from kitbuilder.artwork.frame import Frame
from kitbuilder.export.embedding import EmbeddedFont, PackedBitmap, embedded_font, packed_bitmap
from kitbuilder.export.operators import OperatorWriter, bitmap_resource, font_resource
from kitbuilder.export.placing import Placed

PT_PER_UM = 72 / 25_400  # points of 1/72 inch: PDF user space, ISO 32000-2, 8.3.2.3
UNSCALED_PPM = (1_000_000, 1_000_000)
PACKING = 4  # zlib level: of pages with pictures, 6 saves 2.5 % of the size and takes 3.6 times as long
# ISO 32000-2, table 147 (viewer preferences): values of /Duplex
_DUPLEX = {"simplex": "Simplex", "long": "DuplexFlipLongEdge", "short": "DuplexFlipShortEdge"}


@dataclass(frozen=True, slots=True)
class PrintPage:
    """One side of a sheet. `label` is what a viewer shows instead of the page number: "A3 front"."""

    width_um: int
    height_um: int
    placed: tuple[Placed, ...]
    label: str = ""


@dataclass(frozen=True, slots=True)
class PdfSettings:
    """What a viewer is told about printing. `language` is a BCP 47 tag: en-US.

    `scale_ppm` stretches all drawing about the sheet's centre, across and down, in millionths: 1,002,000 for a printer
    whose 100 mm ruler came out at 99.8 mm. It never changes the sheet's own size.
    """

    title: str
    language: str
    duplex: Literal["simplex", "long", "short"]
    copies: int = 1
    scale_ppm: tuple[int, int] = UNSCALED_PPM

    def __post_init__(self) -> None:
        if self.copies < 1:
            raise ValueError(f"copies: 1 or more, not {self.copies}")
        if not all(900_000 <= s <= 1_100_000 for s in self.scale_ppm):
            raise ValueError(f"a printer's scale is within a tenth of true size, not {self.scale_ppm}")


def write_pdf(
    pages: Iterable[PrintPage],
    settings: PdfSettings,
    fonts: Mapping[str, bytes | FilePath],
    bitmaps: Mapping[str, bytes],
    target: BinaryIO | FilePath,
) -> int:
    """Return the number of pages written. `fonts` maps names in frames to TrueType files, `bitmaps` digests to files.

    Raises:
        ValueError: when there is no page, or a frame uses a font, a character or a bitmap that is not there.
        OSError: when the target cannot be written.
    """
    document = _new_document(settings)
    writer = OperatorWriter()
    labels: list[str] = []
    for page in pages:
        _add_page(document, page, _page_operators(page, settings, writer))
        labels.append(page.label)
    if not labels:
        raise ValueError("a print file needs at least one page")
    _add_fonts(document, writer, fonts)
    _add_bitmaps(document, writer, bitmaps)
    _add_labels(document, labels)
    data: bytes = document.format()
    if isinstance(target, FilePath):
        target.write_bytes(data)
    else:
        target.write(data)
    return len(labels)


def drawing_operators(frame: Frame) -> bytes:
    """Return the operators of the frame drawn alone at the origin: what a reprint must repeat byte for byte."""
    return OperatorWriter().operators(frame).encode("ascii")


def _new_document(settings: PdfSettings) -> Any:
    document = pdfdoc.PDFDocument(dummyoutline=1, compression=1, invariant=1, pdfVersion=(1, 7), lang=settings.language)
    document.Catalog.Outlines = None
    document.info.invariant = 1
    document.info.title = settings.title
    document.info.author = document.info.subject = ""
    document.info.creator = document.info.producer = "kitbuilder"
    document.Catalog.ViewerPreferences = pdfdoc.PDFDictionary(
        {
            "PrintScaling": pdfdoc.PDFName("None"),
            "Duplex": pdfdoc.PDFName(_DUPLEX[settings.duplex]),
            "PickTrayByPDFSize": "true",
            "NumCopies": settings.copies,
            "DisplayDocTitle": "true",
            "Enforce": pdfdoc.PDFArray([pdfdoc.PDFName("PrintScaling")]),  # PDF 2.0; older viewers pass over it
        }
    )
    document.info.digest(document.signature)
    # One resource dictionary for all pages: it is written last, so it may grow until the last page is in.
    document.Reference(pdfdoc.PDFDictionary({}), "Bitmaps")
    document.Reference(
        pdfdoc.PDFDictionary({"Font": _reference(pdfdoc.BasicFonts), "XObject": _reference("Bitmaps")}), "Resources"
    )
    return document


def _reference(name: str) -> Any:
    return pdfdoc.PDFObjectReference(name)


def _page_operators(page: PrintPage, settings: PdfSettings, writer: OperatorWriter) -> bytes:
    across, down = (PT_PER_UM * s / 1e6 for s in settings.scale_ppm)
    left = page.width_um * (PT_PER_UM - across) / 2
    top = page.height_um * (PT_PER_UM + down) / 2
    parts = [f"q {across:.12f} 0 0 -{down:.12f} {left:.6f} {top:.6f} cm"]
    parts += [writer.placed(p.frame, p.x_um, p.y_um, p.quarter_turns) for p in page.placed]
    parts.append("Q\n")
    return "\n".join(parts).encode("ascii")


def _add_page(document: Any, page: PrintPage, operators: bytes) -> None:
    document.updateSignature(operators)
    made = pdfdoc.PDFPage()
    made.Override_default_compilation = 1  # every entry is set here; nothing is left to the library's defaults
    sheet = pdfdoc.PDFArray(["0", "0", _points(page.width_um), _points(page.height_um)])
    made.MediaBox = made.CropBox = made.BleedBox = made.TrimBox = sheet
    made.Parent = document.Reference(document.Pages)
    made.Resources = _reference("Resources")
    made.Contents = _packed(zlib.compress(operators, PACKING))
    document.inPage()
    document.addPage(made)


def _points(length_um: int) -> str:
    return f"{length_um * PT_PER_UM:.5f}".rstrip("0").rstrip(".")


class _OnceStream(pdfdoc.PDFStream):  # type: ignore[misc]  # the library has no types
    """A stream that lets its content go when it has been written: a year of pages is then in memory once, not twice."""

    def format(self, document: Any) -> bytes:
        written: bytes = super().format(document)
        self.content = b""
        return written


def _packed(data: bytes, **entries: Any) -> Any:
    return _OnceStream(pdfdoc.PDFDictionary({"Filter": "/FlateDecode", **entries}), data)


def _add_fonts(document: Any, writer: OperatorWriter, fonts: Mapping[str, bytes | FilePath]) -> None:
    resources = document.idToObject[pdfdoc.BasicFonts]
    for name in sorted(writer.characters):
        if name not in fonts:
            raise ValueError(f"no file was given for the font {name!r}")
        given = fonts[name]
        data = given if isinstance(given, bytes) else given.read_bytes()
        resources[font_resource(name)] = _font(document, embedded_font(name, data, frozenset(writer.characters[name])))


def _font(document: Any, font: EmbeddedFont) -> Any:
    """Return a reference to a composite font (ISO 32000-2, 9.7) with two-byte character codes."""
    dictionary, name = pdfdoc.PDFDictionary, pdfdoc.PDFName
    base = name(font.name)
    descriptor = dictionary(
        {
            "Type": "/FontDescriptor",
            "FontName": base,
            "Flags": 4,  # symbolic: the codes are not those of a standard Latin font
            "FontBBox": pdfdoc.PDFArray(list(font.box)),
            "ItalicAngle": font.italic_angle,
            "Ascent": font.ascent,
            "Descent": font.descent,
            "CapHeight": font.cap_height,
            "StemV": font.stem,
            "FontFile2": document.Reference(_packed(zlib.compress(font.program), Length1=len(font.program))),
        }
    )
    system = dictionary({"Registry": "(Adobe)", "Ordering": "(Identity)", "Supplement": 0})
    descendant = dictionary(
        {
            "Type": "/Font",
            "Subtype": "/CIDFontType2",
            "BaseFont": base,
            "CIDSystemInfo": system,
            "FontDescriptor": document.Reference(descriptor),
            "DW": 0,
            "W": font.widths,
            "CIDToGIDMap": document.Reference(_packed(zlib.compress(font.glyph_of_cid))),
        }
    )
    return document.Reference(
        dictionary(
            {
                "Type": "/Font",
                "Subtype": "/Type0",
                "BaseFont": base,
                "Encoding": name("Identity-H"),
                "DescendantFonts": pdfdoc.PDFArray([document.Reference(descendant)]),
                "ToUnicode": document.Reference(_packed(zlib.compress(font.to_unicode))),
            }
        )
    )


def _add_bitmaps(document: Any, writer: OperatorWriter, bitmaps: Mapping[str, bytes]) -> None:
    resources = document.idToObject["Bitmaps"]
    for digest in sorted(writer.bitmaps):
        if digest not in bitmaps:
            raise ValueError(f"no file was given for the picture {digest[:12]}")
        packed: PackedBitmap = packed_bitmap(bitmaps[digest], writer.bitmaps[digest])
        entries = {
            "Type": "/XObject",
            "Subtype": "/Image",
            "Width": packed.width,
            "Height": packed.height,
            "BitsPerComponent": 8,
            "ColorSpace": f"/{packed.colours}",
            "Filter": f"/{packed.filter}",
        }
        image = pdfdoc.PDFStream(pdfdoc.PDFDictionary(entries), packed.data)
        resources[bitmap_resource(digest)] = document.Reference(image)


def _add_labels(document: Any, labels: list[str]) -> None:
    if not any(labels):
        return
    numbers: list[Any] = []
    for index, label in enumerate(labels):
        numbers += [index, pdfdoc.PDFDictionary({"P": pdfdoc.PDFString(label or str(index + 1))})]
    document.Catalog.PageLabels = pdfdoc.PDFDictionary({"Nums": pdfdoc.PDFArray(numbers)})


def pdf_bytes(
    pages: Iterable[PrintPage],
    settings: PdfSettings,
    fonts: Mapping[str, bytes | FilePath],
    bitmaps: Mapping[str, bytes] | None = None,
) -> bytes:
    """Return the PDF that `write_pdf` writes."""
    out = BytesIO()
    write_pdf(pages, settings, fonts, bitmaps or {}, out)
    return out.getvalue()
