"""How much ink a print file takes: its pages drawn as small grey pictures, and the darkness in them added up.

The unit is the page that cartridges are rated with: 5 % of it covered. That share comes from the test pages of the
yield standards ISO/IEC 19752 (black toner) and ISO/IEC 24711 with 24712 (ink cartridges); yields on packets are counted
in such pages. A tint counts by its darkness, and a colour by the grey it makes: an estimate, good to about a tenth.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from kitbuilder.prep.ink_use import InkUse

STANDARD_SHARE = 0.05  # of the page that yields are counted in
STANDARD_PAGE_MM2 = 210 * 297  # A4, the page of the yield standards
DPI = 72  # at 40 dpi hairlines come out a fifth too dark; 72 is as fast, and within a tenth of 300 (measured)
MOST_PAGES = 60  # longer packs are measured on about this many pages, spread evenly


def coverage(pdf: Path, every: int = 1) -> tuple[float, ...]:
    """Return the share of ink, 0 to 1, on the first page and on each `every`-th one after it.

    Raises:
        FileNotFoundError: when there is no such file.
        pypdfium2.PdfiumError: when it is no PDF.
    """
    return tuple(share for share, _ in _measured(pdf, every))


def ink_use(pdf: Path, every: int | None = None) -> InkUse:
    """Return how many standard pages of ink a file takes, measured on every n-th page; else on 60 pages at the most."""
    pages = _page_count(pdf)
    every = every or sampling_step(pages)
    found = _measured(pdf, every)
    standard = sum(share * mm2 for share, mm2 in found) / (STANDARD_SHARE * STANDARD_PAGE_MM2)
    return InkUse(standard * pages / len(found), estimated=len(found) < pages)


def measure_ink(folder: Path, names: Iterable[str]) -> dict[str, InkUse]:
    """Return the ink of each file of a pack, by name; a sample of its pages when there are more than 60 in all."""
    files = {name: folder / name for name in names}
    every = sampling_step(sum(_page_count(path) for path in files.values()))
    return {name: ink_use(path, every) for name, path in files.items()}


def sampling_step(pages: int) -> int:
    """Return how many pages to go on by: 1 up to 60 pages, then odd, so that fronts and backs are both met."""
    step = -(-pages // MOST_PAGES)
    return step if step % 2 else step + 1


def _page_count(pdf: Path) -> int:
    import pypdfium2  # loads a library of its own: only when ink is measured

    with pypdfium2.PdfDocument(pdf) as document:
        return len(document)


def _measured(pdf: Path, every: int) -> list[tuple[float, float]]:
    """Return (share of ink, page area in mm2) of every n-th page."""
    import pypdfium2

    found = []
    with pypdfium2.PdfDocument(pdf) as document:
        for index in range(0, len(document), every):
            page = document[index]
            width, height = page.get_size()
            picture = page.render(scale=DPI / 72, grayscale=True)
            rows = picture.height
            # a row may end in bytes that belong to no pixel
            white = sum(
                sum(picture.buffer[r * picture.stride : r * picture.stride + picture.width]) for r in range(rows)
            )
            picture.close()
            page.close()
            found.append((1 - white / (255 * picture.width * rows), width * height * (25.4 / 72) ** 2))
    return found
