"""Booklets: pictures as large as a page allows, one size of type, a frame that fills its page, a cover of one title."""

from __future__ import annotations

import pytest

from kitbuilder.artwork.frame import Box, Frame, Line, Path, ReadBy, Text
from kitbuilder.artwork.outlines import commands_of
from tests.compose.kinds.conftest import PAPERS, UNITS, Compose


def _texts(frame: Frame) -> list[Text]:
    return [item for item in frame.items if isinstance(item, Text)]


def _read(frame: Frame) -> list[Text]:
    return [text for text in _texts(frame) if text.read_by is ReadBy.CHILD]


def _span(path: Path) -> tuple[int, int]:
    levels = [value for command in commands_of(path.outline) for value in command[2::2]]
    return min(levels), max(levels)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("unit", UNITS)
def test_pictures_and_text_share_the_page(unit: int, paper: str, compose: Compose) -> None:
    for booklet in compose("booklet", unit, paper=paper):
        story = [page.frame for page in booklet.pages if page.role == "page"]
        assert len({text.size_um for frame in story for text in _read(frame)}) == 1, "one size through the book"
        pictured = [frame for frame in story if any(isinstance(item, Path) for item in frame.items)]
        assert len({_read(frame)[0].y_um for frame in pictured}) == 1, "first lines stand on one level"
        for frame in story:
            first = _read(frame)[0]
            top = first.y_um - first.size_um * 3 // 4
            for path in (item for item in frame.items if isinstance(item, Path)):
                assert top - _span(path)[1] >= 3_000, "a picture keeps off the text"
            for box in (item for item in frame.items if isinstance(item, Box)):
                assert box.height_um >= frame.height_um * 38 // 100, "a frame fills what the text leaves"
                assert any(text.text == "Draw it." for text in _texts(frame))
        assert max(_span(item)[1] - _span(item)[0] for f in pictured for item in f.items if isinstance(item, Path)) >= (
            booklet.pages[0].frame.height_um * 35 // 100
        )


@pytest.mark.parametrize(("unit", "says"), [(7, "Unit 7"), (4, "Unit 4")])
def test_a_cover_does_not_say_its_title_twice(unit: int, says: str, compose: Compose) -> None:
    (cover,) = [page.frame for page in compose("booklet", unit)[0].pages if page.role == "cover"]
    assert [text.text for text in _texts(cover) if text.text.startswith("Unit")] == [says]


@pytest.mark.parametrize("paper", PAPERS)
def test_the_line_below_a_frame_to_retell_in_is_no_second_edge(paper: str, compose: Compose) -> None:
    for unit in (1, 9):
        items = compose("retell-page", unit, paper=paper)[0].pages[0].frame.items
        lines = [item.y1_um for item in items if isinstance(item, Line)]
        for box in (item for item in items if isinstance(item, Box)):
            foot = box.y_um + box.height_um
            assert 5_000 <= min(level for level in lines if level > foot) - foot <= 9_000


def test_a_frame_beside_copywork_says_what_it_is_for(compose: Compose) -> None:
    with_frame, without = compose("copywork", 3)[0], compose("copywork", 3, options={"drawing": "no"})[0]
    assert "Draw it." in [text.text for text in _texts(with_frame.pages[0].frame)]
    assert "Draw it." not in [text.text for text in _texts(without.pages[0].frame)]
