"""Print files as three readers that share no code draw them: pdfium, poppler and Ghostscript agree on every page."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pytest

from kitbuilder.export.pack_folder import WrittenPack

Family = Callable[..., Path]
Week = Callable[..., WrittenPack]
Pictures = list[np.ndarray]

DPI = 150
BLOCK = 12  # pixels a side: 2 mm, so that the readers' ways of smoothing edges fall away
# Of 255. Measured over these packs: at most 36 in one block and 0.8 on average.
MOST_IN_A_BLOCK, MOST_ON_AVERAGE = 70, 1.5


def by_pdfium(path: Path, _: Path) -> Pictures:
    with pdfium.PdfDocument(path) as document:
        return [page.render(scale=DPI / 72, grayscale=True).to_numpy().squeeze() for page in document]


def by_poppler(path: Path, place: Path) -> Pictures:
    subprocess.run(["pdftoppm", "-gray", "-r", str(DPI), str(path), str(place / "p")], check=True, capture_output=True)
    return [graymap(file) for file in sorted(place.glob("p-*.pgm"))]


def by_ghostscript(path: Path, place: Path) -> Pictures:
    # fmt: off
    command = ["gs", "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=pgmraw", f"-r{DPI}",
               "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4", f"-sOutputFile={place / 'g-%03d.pgm'}", str(path)]
    # fmt: on
    subprocess.run(command, check=True, capture_output=True)
    return [graymap(file) for file in sorted(place.glob("g-*.pgm"))]


READERS = {"pdftoppm": by_poppler, "gs": by_ghostscript}


def graymap(path: Path) -> np.ndarray:
    """Read a raw graymap (netpbm's PGM, P5): a header of words, then one byte a pixel."""
    data = path.read_bytes()
    words: list[bytes] = []
    at = 0
    while len(words) < 4:
        end = data.index(b"\n", at)
        line = data[at:end].split(b"#")[0].split()
        words += line
        at = end + 1
    width, height = int(words[1]), int(words[2])
    return np.frombuffer(data, np.uint8, width * height, at).reshape(height, width)


def blocks(picture: np.ndarray) -> np.ndarray:
    height, width = (size // BLOCK * BLOCK for size in picture.shape)
    parts = picture[:height, :width].astype(float).reshape(height // BLOCK, BLOCK, width // BLOCK, BLOCK)
    return parts.mean(axis=(1, 3))


def apart(one: np.ndarray, other: np.ndarray) -> tuple[float, float]:
    """The largest and the average difference of blocks, the better of what a pixel's shift either way gives."""
    best = (255.0, 255.0)
    for down in (0, 1):
        for right in (0, 1):
            for a, b in ((one[down:, right:], other), (one, other[down:, right:])):
                x, y = blocks(a), blocks(b)
                rows, columns = min(x.shape[0], y.shape[0]), min(x.shape[1], y.shape[1])
                off = np.abs(x[:rows, :columns] - y[:rows, :columns])
                best = min(best, (float(off.max()), float(off.mean())))
    return best


@pytest.fixture
def readers() -> dict[str, Callable[[Path, Path], Pictures]]:
    """The readers of this machine; the project's own check has both of them."""
    found = {tool: read for tool, read in READERS.items() if shutil.which(tool)}
    if os.environ.get("CI") == "true":
        assert found.keys() == READERS.keys(), "install poppler-utils and ghostscript"
    return found


@pytest.mark.parametrize(("paper", "sides"), [("a4", "long"), ("letter", "by-hand")])
def test_every_page_looks_the_same_in_every_reader(
    family: Family,
    week: Week,
    readers: dict[str, Callable[[Path, Path], Pictures]],
    tmp_path: Path,
    paper: str,
    sides: str,
) -> None:
    pack = week(family(paper, sides))
    for row in pack.manifest["files"]:
        path = pack.folder / row["path"]
        drawn = by_pdfium(path, tmp_path)
        assert len(drawn) == row["pages"]
        for tool, read in readers.items():
            place = tmp_path / f"{tool}-{path.stem}"
            place.mkdir()
            seen = read(path, place)
            assert len(seen) == len(drawn)
            for number, (one, other) in enumerate(zip(drawn, seen, strict=True), 1):
                assert max(abs(a - b) for a, b in zip(one.shape, other.shape, strict=True)) <= 1
                largest, average = apart(one, other)
                assert largest <= MOST_IN_A_BLOCK, (tool, path.name, number)
                assert average <= MOST_ON_AVERAGE, (tool, path.name, number)


def test_a_page_that_is_another_one_is_noticed(family: Family, week: Week, tmp_path: Path) -> None:
    """The measure can fail: other pages, and the same page 2 mm lower, are far beyond it."""
    pack = week(family())
    pages = [p for row in pack.manifest["files"] for p in by_pdfium(pack.folder / row["path"], tmp_path)]
    assert apart(pages[0], pages[2])[0] > 2 * MOST_IN_A_BLOCK
    lower = np.roll(pages[0], round(2 * DPI / 25.4), axis=0)
    assert apart(pages[0], lower)[0] > 2 * MOST_IN_A_BLOCK
