"""Ink against pages whose coverage is known by geometry."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from kitbuilder.artwork.frame import Box, Frame, Line
from kitbuilder.export.ink import MOST_PAGES, coverage, ink_use, measure_ink, sampling_step

A4 = (210_000, 297_000)


def page(share: float, colour: str = "#000000") -> Frame:
    """An A4 page with a black box over this share of it, its edges on whole pixels of no resolution in particular."""
    return Frame(*A4, (Box(10_000, 10_000, 150_000, round(share * 210_000 * 297_000 / 150_000), colour),))


@pytest.fixture
def file_of(pdf_of: Callable[..., bytes], page_of: Callable[..., Any], tmp_path: Path) -> Callable[..., Path]:
    def write(*frames: Frame, size: tuple[int, int] = A4) -> Path:
        path = tmp_path / "ink.pdf"
        path.write_bytes(pdf_of(*(page_of(frame, size=size) for frame in frames)))
        return path

    return write


@pytest.mark.parametrize("share", [0.0, 0.01, 0.05, 0.4])
def test_coverage_is_the_share_that_is_black(file_of: Callable[..., Path], share: float) -> None:
    (found,) = coverage(file_of(page(share)))
    assert found == pytest.approx(share, abs=0.001)


def test_five_percent_of_a4_is_one_standard_page(file_of: Callable[..., Path]) -> None:
    """The page that yields are counted in has 5 % of it covered: ISO/IEC 19752, ISO/IEC 24711 and 24712."""
    use = ink_use(file_of(page(0.05), page(0.05), page(0.0)))
    assert use.standard_pages == pytest.approx(2, abs=0.03)
    assert not use.estimated


def test_a_larger_page_takes_more(file_of: Callable[..., Path]) -> None:
    """A3 is two A4 (ISO 216)."""
    box = Box(0, 0, 297_000, 21_000, "#000000")  # 5 % of A3
    use = ink_use(file_of(Frame(297_000, 420_000, (box,)), size=(297_000, 420_000)))
    assert use.standard_pages == pytest.approx(2, abs=0.03)


def test_a_grey_tint_counts_by_its_darkness(file_of: Callable[..., Path]) -> None:
    (found,) = coverage(file_of(page(0.4, "#808080")))
    assert found == pytest.approx(0.4 * 127 / 255, abs=0.002)


def test_hairlines_are_not_counted_as_bars(file_of: Callable[..., Path]) -> None:
    """Forty lines of 0.5 mm across 190 mm."""
    lines = tuple(Line(10_000, 10_000 + 6_000 * n, 200_000, 10_000 + 6_000 * n, 500) for n in range(40))
    (found,) = coverage(file_of(Frame(*A4, lines)))
    assert found == pytest.approx(40 * 190 * 0.5 / (210 * 297), rel=0.1)


def test_a_long_file_is_sampled_on_fronts_and_backs_alike(file_of: Callable[..., Path]) -> None:
    """Fronts black, backs white: an even step would see one of them only."""
    frames = [page(0.1 if n % 2 == 0 else 0.0) for n in range(130)]
    use = ink_use(file_of(*frames))
    assert use.estimated
    assert use.standard_pages == pytest.approx(130, rel=0.05)


def test_the_sample_is_never_larger_than_promised_and_odd() -> None:
    assert [sampling_step(n) for n in (0, 1, 60, 61, 120, 180, 181, 300)] == [1, 1, 1, 3, 3, 3, 5, 5]
    assert all(-(-n // sampling_step(n)) <= MOST_PAGES for n in range(1, 3000))


def test_a_long_pack_is_sampled_whole_not_file_by_file(pdf_of: Any, page_of: Any, tmp_path: Path) -> None:
    for name in ("a", "b", "c"):
        (tmp_path / name).write_bytes(pdf_of(*(page_of(page(0.05)) for _ in range(30))))
    use = measure_ink(tmp_path, ["a", "b", "c"])
    assert [u.standard_pages for u in use.values()] == pytest.approx([30, 30, 30], rel=0.03)
    assert all(u.estimated for u in use.values())


def test_ink_is_told_file_by_file(file_of: Callable[..., Path]) -> None:
    path = file_of(page(0.05))
    assert measure_ink(path.parent, [path.name]) == {path.name: ink_use(path)}
