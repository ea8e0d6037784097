"""How reference charts are set: spellings apart, letters under their sign, words of one size."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations, pairwise

import pytest

from kitbuilder.artwork.frame import Box, Line, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.consonant_chart import consonant_chart

Compose = Callable[..., tuple[Piece, ...]]


def text_of(piece: Piece) -> str:
    return " ".join(texts_of(piece.pages[0].frame))


def read_by_child(piece: Piece) -> list[Text]:
    return [i for i in piece.pages[0].frame.items if isinstance(i, Text) and i.read_by is ReadBy.CHILD]


def ends(text: Text) -> int:
    """Where the text ends on its line."""
    return text.x_um + metrics(text.font).width_um(text.text, text.size_um)


@pytest.mark.parametrize("unit", [7, 12])
def test_spellings_of_consonants_stand_clear_and_alike_on_both_papers(compose: Compose, unit: int) -> None:
    looks = []
    for paper in ("a4", "letter"):
        chart = next(c for c in compose("reference-chart", unit, paper) if c.title == "consonants")
        shown = read_by_child(chart)
        assert len({text.size_um for text in shown}) == 1
        cells = [i for i in chart.pages[0].frame.items if isinstance(i, Box)]
        lines = []
        for cell in cells:
            inside = [t for t in shown if cell.x_um < t.x_um < cell.x_um + cell.width_um
                      and cell.y_um < t.y_um < cell.y_um + cell.height_um]  # fmt: skip
            for text in inside:
                assert text.x_um - cell.x_um >= 1_800
                assert cell.x_um + cell.width_um - ends(text) >= 1_800
            for one, two in combinations(inside, 2):
                if one.y_um == two.y_um:
                    assert max(two.x_um - ends(one), one.x_um - ends(two)) >= 3_000, f"{one.text} and {two.text}"
            levels = sorted({t.y_um for t in inside})
            lines.append([[t.text for t in inside if t.y_um == level] for level in levels])
        looks.append(lines)
    assert looks[0] == looks[1]


def test_many_spellings_of_a_sound_keep_their_size_and_their_field() -> None:
    """Empty columns give way to full ones: late in a sequence s, z, k and g are each spelt in four to six ways."""
    spelt = {"S": "s ss c ce se sc", "Z": "z zz s se", "K": "c k ck ch que", "G": "g gg gh gue", "F": "f ff ph gh"}
    taught = [{"text": t, "phoneme": p, "keyword": "window"} for p, texts in spelt.items() for t in texts.split()]
    font = metrics("Andika")
    for width, height in ((277.0, 190.0), (259.4, 195.9)):
        chart = consonant_chart(taught, width, height, font)
        assert int(chart["size"].removesuffix(" pt")) >= 18
        cells = [cell for line in chart["manners"] for cell in line["cells"]]
        assert max(cell["x"] + cell["width"] for cell in cells) <= width + 0.01
        for cell in cells:
            for part in cell["parts"]:
                for spelling in part["spellings"]:
                    assert spelling["x"] - part["x"] >= 2
                    assert part["x"] + part["width"] - spelling["x"] - spelling["width"] >= 2


def test_a_consonant_without_a_partner_has_the_middle_of_its_field(compose: Compose) -> None:
    chart = next(c for c in compose("reference-chart", 12) if c.title == "consonants")
    (m,) = [t for t in read_by_child(chart) if t.text == "m"]
    (cell,) = [i for i in chart.pages[0].frame.items if isinstance(i, Box) and i.x_um < m.x_um < i.x_um + i.width_um
               and i.y_um < m.y_um < i.y_um + i.height_um]  # fmt: skip
    assert abs((m.x_um + ends(m)) / 2 - (cell.x_um + cell.width_um / 2)) < 200


def test_a_vowels_letter_stands_under_its_own_sign(compose: Compose) -> None:
    chart = next(c for c in compose("reference-chart", 12) if c.title == "vowels")
    texts = {i.text: i for i in chart.pages[0].frame.items if isinstance(i, Text)}
    walls = [i.x1_um for i in chart.pages[0].frame.items if isinstance(i, Line)]
    assert any(texts["ɝ"].x_um < wall < texts["ʌ"].x_um for wall in walls), "the two signs are parted"
    assert not any(texts["ʌ"].x_um < wall < texts["u"].x_um for wall in walls)
    assert texts["ʌ"].x_um < texts["u"].x_um


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_example_words_of_a_chart_have_one_size_and_none_stands_alone(compose: Compose, paper: str) -> None:
    for unit in range(1, 13):
        charts = [c for c in compose("reference-chart", unit, paper) if c.title == "new in this unit"]
        for chart in charts:
            frame = chart.pages[0].frame
            beside = [t for t in read_by_child(chart) if t.x_um > frame.width_um // 3]
            assert len({t.size_um for t in beside}) == 1
            rows = sorted({t.y_um for t in beside})
            for above, row in pairwise(rows):
                alone = [t for t in beside if t.y_um == row]
                before = [t for t in beside if t.y_um == above]
                near = row - above < 2 * beside[0].size_um
                assert not (near and len(alone) == 1 and len(before) > 1), f"unit {unit}: {alone[0].text!r} alone"


def test_a_chart_tells_a_child_of_patterns_in_plain_words(compose: Compose) -> None:
    """'CVCC' is the trade's word; the child sees what it means."""
    chart = next(c for c in compose("reference-chart", 8) if c.title == "new in this unit")
    assert "two consonants at the end" in text_of(chart)
    assert "CVCC" not in text_of(chart)
