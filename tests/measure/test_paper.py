"""Sheet sizes against their standards.

ISO 216: A0 has a square metre and sides as 1 to the root of 2; each size halves the longer side of the one before,
rounded down to a whole millimetre. ANSI/ASME Y14.1: A is 8.5 x 11 in, B is 11 x 17 in. Legal: US trade size.
"""

from __future__ import annotations

import pytest

from kitbuilder.imposition.booklet_formats import PAGE_SIZES
from kitbuilder.measure.length import inch
from kitbuilder.measure.paper import PAPERS, paper_named


def iso_216(number: int) -> tuple[int, int]:
    width, height = 841, 1189  # ISO 216, table 1: A0
    for _ in range(number):
        width, height = height // 2, width
    return width * 1000, height * 1000


@pytest.mark.parametrize("number", [3, 4, 5, 6, 7])
def test_a_sizes_are_those_of_iso_216(number):
    size = PAPERS.get(f"a{number}") or PAGE_SIZES[f"a{number}"]
    assert (size.width.um, size.height.um) == iso_216(number)


@pytest.mark.parametrize(
    ("name", "width", "height"), [("letter", "8.5", 11), ("legal", "8.5", 14), ("tabloid", 11, 17)]
)
def test_us_sizes_are_whole_inches_and_halves(name, width, height):
    assert (PAPERS[name].width, PAPERS[name].height) == (inch(width), inch(height))


@pytest.mark.parametrize(("part", "into"), [("half", 2), ("quarter", 4), ("eighth", 8)])
def test_parts_of_letter_are_exact(part, into):
    size, whole = PAGE_SIZES[f"{part} letter"], PAPERS["letter"]
    assert size.width.um * size.height.um * into == whole.width.um * whole.height.um


def test_names_are_found_however_they_are_written():
    assert paper_named(" Letter ") == PAPERS["letter"]
    assert paper_named("b5") is None
