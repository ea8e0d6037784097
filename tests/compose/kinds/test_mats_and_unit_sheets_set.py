"""How tile mats and unit sheets are set: places in column and used up, rows that fill the page, bullets that hang."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from kitbuilder.artwork.frame import Box, Line, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.palette import TINTS

Compose = Callable[..., tuple[Piece, ...]]


def read_by_child(piece: Piece) -> list[Text]:
    return [i for i in piece.pages[0].frame.items if isinstance(i, Text) and i.read_by is ReadBy.CHILD]


def places(piece: Piece) -> list[Box]:
    return [i for i in piece.pages[0].frame.items if isinstance(i, Box) and i.stroke]


def test_groups_use_free_places_so_that_no_sheet_is_begun_for_one_tile(compose: Compose) -> None:
    for paper in ("a4", "letter"):
        assert len(compose("tile-mat", 5, paper)) == 1
        for unit in (7, 8, 10, 12):
            sheets = compose("tile-mat", unit, paper)
            assert all(len(read_by_child(sheet)) >= 8 for sheet in sheets)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", range(1, 13))
def test_every_mat_has_places_to_build_a_word_with_its_ending(unit: int, paper: str, compose: Compose) -> None:
    sheet = compose("tile-mat", unit, paper)[-1]
    frame = sheet.pages[0].frame
    empty = [b for b in places(sheet) if b.dash]
    assert len(empty) >= 4
    assert "build here" in texts_of(frame)
    assert max(b.y_um + b.height_um for b in empty) <= frame.height_um - 8_000


def test_an_ending_stands_in_column_and_its_bar_above_its_band(compose: Compose) -> None:
    sheet = compose("tile-mat", 12)[-1]
    items = sheet.pages[0].frame.items
    columns = {b.x_um for b in places(sheet)}
    dashed = {b.x_um for b in places(sheet) if b.dash}
    assert columns == dashed, "every place, an ending's too, begins where an empty one does"
    bars = [i for i in items if isinstance(i, Box) and i.fill and not i.stroke and i.width_um == 1_100]
    bands = [i for i in items if isinstance(i, Box) and i.fill == TINTS["ending"]]
    assert bars
    assert all(bar.y_um + bar.height_um <= min(b.y_um for b in bands if b.y_um > bar.y_um) for bar in bars)


def test_the_name_of_a_group_is_nearer_to_its_row_than_to_the_row_above(compose: Compose) -> None:
    for paper in ("a4", "letter"):
        sheet = compose("tile-mat", 12, paper)[-1]
        (name,) = [i for i in sheet.pages[0].frame.items if isinstance(i, Text) and i.text == "ending"]
        top = name.y_um - metrics("Andika").letter_ascent_um(name.size_um)
        foot = name.y_um + metrics("Andika").letter_descent_um(name.size_um)
        above = max(b.y_um + b.height_um for b in places(sheet) if b.y_um < top)
        below = min(b.y_um for b in places(sheet) if b.y_um > foot - 1_000)
        assert top - above >= 2_000
        assert foot <= below


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_unit_sheet_is_well_filled_in_type_that_can_be_read(compose: Compose, paper: str) -> None:
    for unit in range(1, 13):
        (sheet,) = compose("unit-sheet", unit, paper)
        frame = sheet.pages[0].frame
        texts = [i for i in frame.items if isinstance(i, Text)]
        side = min(t.x_um for t in texts)
        told = [t for t in texts if t.x_um > side + 30_000 and 32_000 < t.y_um < frame.height_um - 22_000]
        assert min(t.size_um for t in told) * 72 / 25_400 >= 9.9, f"unit {unit}"
        lowest = max([t.y_um for t in told] + [i.y1_um for i in frame.items if isinstance(i, Line)])
        assert frame.height_um - 45_000 < lowest < frame.height_um - 18_000, f"unit {unit}"


def test_further_lines_of_a_bullet_hang_under_its_first_word(compose: Compose) -> None:
    (sheet,) = compose("unit-sheet", 12)
    texts = [i for i in sheet.pages[0].frame.items if isinstance(i, Text)]
    bullets = [t for t in texts if t.text == "•"]
    assert len(bullets) > 5
    head, after = (next(t.y_um for t in texts if t.text == head) for head in ("Take out", "Say"))
    lines = [t for t in texts if head - 1_500 <= t.y_um < after - 3_000 and t.text not in ("•", "Take out")]
    assert len(lines) > len([b for b in bullets if b.y_um < after - 3_000]), "some item has more than one line"
    assert len({t.x_um for t in lines}) == 1
    assert lines[0].x_um - bullets[0].x_um >= 3_000
