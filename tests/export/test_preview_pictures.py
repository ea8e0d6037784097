"""Pictures of sheets: one a page, true to size, with the cuts on the front."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from kitbuilder.artwork.fonts import font_file
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.export.preview_pictures import DPI, write_pictures
from kitbuilder.imposition.pack_plan import PackPlan

GREEN = (15, 107, 92)


@pytest.fixture
def pictures(small_plan: PackPlan, family_bitmaps: dict[str, bytes], tmp_path: Path) -> dict[str, Path]:
    folder = tmp_path / "pictures"
    written = write_pictures(small_plan, folder, font_file, family_bitmaps, metrics)
    found = {p.name: p for p in sorted(folder.iterdir())}
    assert len(found) == written
    return found


def test_every_page_of_every_file_has_its_picture(pictures: dict[str, Path], small_plan: PackPlan) -> None:
    expected = [
        f"{file.name.removesuffix('.pdf')}-{n:03d}-{page.sheet.layout.id}-{page.side}.png"
        for file in small_plan.files
        for n, page in enumerate(file.pages, 1)
    ]
    assert sorted(pictures) == sorted(expected)


def test_a_picture_is_as_large_as_its_paper(pictures: dict[str, Path]) -> None:
    for path in pictures.values():
        with Image.open(path) as picture:
            assert picture.size == pytest.approx((210 / 25.4 * DPI, 297 / 25.4 * DPI), abs=1)


def test_the_cuts_are_on_the_fronts_and_not_on_the_backs(pictures: dict[str, Path], small_plan: PackPlan) -> None:
    run = next(run for run in small_plan.runs if run.setup.stock == "card")
    stroke = run.layouts[0].strokes[0]
    front = next(p for name, p in pictures.items() if "card-fronts" in name)
    back = next(p for name, p in pictures.items() if "card-backs" in name)
    middle = (stroke.from_um + stroke.to_um) // 2 + 20_000
    um = (stroke.at_um, middle) if stroke.axis == "x" else (middle, stroke.at_um)
    at = tuple(round(length / 25_400 * DPI) for length in um)

    def green(path: Path) -> bool:
        with Image.open(path) as picture:
            near = [picture.convert("RGB").getpixel((at[0] + x, at[1] + y)) for x in (-1, 0, 1) for y in (-1, 0, 1)]
        return any(all(abs(a - b) < 60 for a, b in zip(pixel, GREEN, strict=True)) for pixel in near)

    assert green(front)
    assert not green(back)


def test_same_plan_same_pictures(
    pictures: dict[str, Path], small_plan: PackPlan, family_bitmaps: dict[str, bytes], tmp_path: Path
) -> None:
    write_pictures(small_plan, tmp_path / "again", font_file, family_bitmaps, metrics)
    for name, path in pictures.items():
        assert (tmp_path / "again" / name).read_bytes() == path.read_bytes()
