"""Reference charts, tile mats, unit sheets and envelope labels."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations, pairwise

import pytest

from kitbuilder.artwork.frame import Box, Line, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.listening import listen_for
from kitbuilder.compose.palette import TINTS
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.templates import load_templates
from kitbuilder.model.home import Home
from kitbuilder.phonics import ipa

Compose = Callable[..., tuple[Piece, ...]]

# The pulmonic consonants of English in the rows of the IPA chart (International Phonetic Association, revised to 2020):
# place of articulation, left and right of each cell; "-" where English has none. /w/ stands under "other symbols" there
# as voiced labial-velar, affricates are two symbols joined.
IPA_ROWS = {
    "plosive": "bilabial p b, alveolar t d, velar k ɡ",
    "nasal": "bilabial - m, alveolar - n, velar - ŋ",
    "fricative": "labiodental f v, dental θ ð, alveolar s z, postalveolar ʃ ʒ, glottal h -",
    "approximant": "postalveolar - ɹ, palatal - j, velar - w",
    "lateral approximant": "alveolar - l",
    "affricate": "postalveolar tʃ dʒ",
}
IPA_PLACES = "bilabial labiodental dental alveolar postalveolar palatal velar glottal"  # columns, from left to right


def text_of(piece: Piece) -> str:
    return " ".join(texts_of(piece.pages[0].frame))


def test_consonants_stand_where_the_phonetic_alphabet_has_them() -> None:
    expected = set()
    for manner, row in IPA_ROWS.items():
        for cell in row.split(", "):
            place, left, right = cell.split()
            expected |= {(s, place, manner, voiced) for s, voiced in ((left, False), (right, True)) if s != "-"}
    assert {(c.symbol, c.place, c.manner, c.voiced) for c in ipa.CONSONANTS.values()} == expected
    assert tuple(IPA_PLACES.split()) == ipa.PLACES
    rows = [m for m in ipa.MANNERS if m != "affricate"]
    assert rows == ["plosive", "nasal", "fricative", "approximant", "lateral approximant"], "from top to bottom"


def test_vowels_go_from_close_to_open_and_from_front_to_back() -> None:
    """Heights and backness of the IPA chart's vowels that English has as single sounds."""
    chart = {"i": ("close", "front"), "u": ("close", "back"),
             "ɪ": ("near-close", "front"), "ʊ": ("near-close", "back"),
             "ə": ("mid", "central"), "ɛ": ("open-mid", "front"),
             "ʌ": ("open-mid", "central"), "ɔ": ("open-mid", "back"),
             "æ": ("near-open", "front"), "ɑ": ("open", "back")}  # fmt: skip
    ours = {v.symbol: (v.height, v.backness) for v in ipa.vowels("us").values()}
    assert {s: ours[s] for s in chart} == chart  # ʌ is drawn further back there; English has it in the middle
    assert "ɒ" in {v.symbol for v in ipa.vowels("uk").values()}
    assert "ɒ" not in ours


def test_a_chart_shows_what_was_taught_and_nothing_later(compose: Compose, home: Home) -> None:
    for unit in (1, 4, 8, 12):
        charts = {c.title: c for c in compose("reference-chart", unit)}
        taught = {str(t.grapheme) for u in home.units if u.unit <= unit for t in u.teach}
        shown = {
            g
            for name in ("vowels", "consonants")
            for text in texts_of(charts[name].pages[0].frame, ReadBy.CHILD)
            for g in text.split()
        }
        double = {g for g in taught if f"{g} as in" in text_of(charts["consonants"])}
        assert shown | double == taught


def test_voiceless_stands_left_of_voiced(compose: Compose) -> None:
    chart = next(c for c in compose("reference-chart", 12) if c.title == "consonants")
    at = {
        i.text: (i.x_um, i.y_um)
        for i in chart.pages[0].frame.items
        if isinstance(i, Text) and i.read_by is ReadBy.CHILD
    }
    for without, with_voice in (("p", "b"), ("t", "d"), ("ch", "j")):
        assert at[without][0] < at[with_voice][0]
        assert abs(at[without][1] - at[with_voice][1]) < 1_000
    assert at["p"][0] < at["t"][0] < at["h"][0], "from the lips to the throat"
    assert at["p"][1] < at["m"][1] < at["h"][1] < at["r"][1], "plosive, nasal, fricative, approximant"


def test_the_new_rule_comes_with_words_that_follow_it(compose: Compose) -> None:
    chart = next(c for c in compose("reference-chart", 11) if c.title == "new in this unit")
    words = texts_of(chart.pages[0].frame, ReadBy.CHILD)
    assert any(word.endswith("ing") for word in words)
    doubled = [word for word in words if " – " in word]
    assert doubled
    for pair in doubled:
        stem, word = pair.split(" – ")
        assert word == stem + stem[-1] + "ing"


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
    """'CVCC' is for the adult, small; the child sees what it means."""
    chart = next(c for c in compose("reference-chart", 8) if c.title == "new in this unit")
    texts = {i.text: i for i in chart.pages[0].frame.items if isinstance(i, Text)}
    assert "two consonants at the end" in text_of(chart)
    assert texts["CVCC"].size_um < 9 * 353


def places(piece: Piece) -> list[Box]:
    return [i for i in piece.pages[0].frame.items if isinstance(i, Box) and i.stroke]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("wide", ["yes", "no"])
def test_a_mat_has_a_place_for_every_tile_larger_than_the_tile(wide: str, paper: str, compose: Compose) -> None:
    for unit in (1, 6, 12):
        sheets = compose("tile-mat", unit, paper, options={"wide": wide})
        shown = [text for sheet in sheets for text in texts_of(sheet.pages[0].frame, ReadBy.CHILD)]
        assert len(shown) == len(set(shown))
        made = {p.title for u in range(1, unit + 1) for p in compose("letter-tile", u, paper)}
        assert made <= set(shown)
        for sheet in sheets:
            boxes = places(sheet)
            assert all(b.width_um >= 38_000 + 2_000 - 1 and b.height_um >= 38_000 + 2_000 - 1 for b in boxes)
            for one, two in combinations(boxes, 2):
                beside = one.x_um + one.width_um <= two.x_um or two.x_um + two.width_um <= one.x_um
                above = one.y_um + one.height_um <= two.y_um or two.y_um + two.height_um <= one.y_um
                assert beside or above, "no two places lie on one another"


def test_groups_use_free_places_so_that_no_sheet_is_begun_for_one_tile(compose: Compose) -> None:
    for paper in ("a4", "letter"):
        assert len(compose("tile-mat", 7, paper)) == 1
        for unit in (8, 10, 12):
            sheets = compose("tile-mat", unit, paper)
            assert all(len(read_by_child(sheet)) >= 8 for sheet in sheets)


def test_a_mat_with_room_left_has_places_to_build_a_word(compose: Compose) -> None:
    for unit, dashed in ((1, True), (3, True), (7, False), (12, True)):
        sheet = compose("tile-mat", unit)[-1]
        frame = sheet.pages[0].frame
        empty = [b for b in places(sheet) if b.dash]
        assert bool(empty) == dashed, f"unit {unit}"
        assert ("build here" in texts_of(frame)) == dashed
        if dashed:
            assert len(empty) >= 6
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


def test_smaller_tiles_need_fewer_mats(compose: Compose) -> None:
    assert len(compose("tile-mat", 12, options={"tile": "25 mm"})) < len(compose("tile-mat", 12))


def test_a_unit_sheet_says_what_is_no_longer_learnt_by_heart(compose: Compose) -> None:
    """'and' is by heart in unit 2 and can be sounded out when CVCC comes in unit 8; is, has, his follow in unit 12."""
    assert "and: can be sounded out from now on. Take it" in text_of(compose("unit-sheet", 8)[0])
    assert "is, has, his: can be sounded out from now on. Take them" in text_of(compose("unit-sheet", 12)[0])
    assert "No longer by heart" not in text_of(compose("unit-sheet", 7)[0])


def test_a_unit_sheet_has_the_weeks_words_and_sentences_and_where_to_listen(compose: Compose, home: Home) -> None:
    unit = home.unit(5)
    text = text_of(compose("unit-sheet", 5)[0])
    for part in ("Take out", "Say", "Listen for", "Put away", *map(str, unit.words), *map(str, unit.sentences)):
        assert part in text
    assert "sh says /ʃ/, as in shell" in text
    assert "he: the letter e" in text


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


def test_sounds_that_can_be_held_are_told_from_those_that_cannot() -> None:
    def sound(text: str, phoneme: str, *, new: bool = True) -> dict[str, object]:
        return {"text": text, "phoneme": phoneme, "new": new}

    lines = listen_for((sound("m", "M"), sound("t", "T"), sound("a", "AE"), sound("n", "N", new=False)))
    assert lines[0].startswith("t: short and clean")
    assert lines[1].startswith("m: drawn out")
    assert lines[2].startswith("a: the mouth stays open")
    assert lines[3].startswith("m and n: do they look alike")
    assert lines[4].startswith("m and n: do they sound alike")


def test_a_label_lists_what_the_child_uses_up_with_the_right_numbers(compose: Compose, home: Home) -> None:
    wren = home.learner("wren")
    (label,) = compose("envelope-label", 3, learner=wren)
    frame = label.pages[0].frame
    shown = texts_of(frame)
    assert "Week 3" in shown
    assert "wren" in shown
    assert {"Fluency grids", "Booklets"} <= set(shown)
    assert not {"Letter cards", "Letter tiles"} & set(shown), "they go into the review box"
    assert any(text.startswith("in the review box: ") and "letter cards" in text for text in shown)
    boxes = [i for i in frame.items if isinstance(i, Box) and i.width_um == i.height_um == 4_400]
    kinds = load_templates(None, ProblemLog()).kinds
    used_up = [kinds[str(name)] for name in home.sequence.kinds if not kinds[str(name)].durable]
    assert len(boxes) == len([kind for kind in used_up if kind.name not in ("envelope-label", "unit-sheet")])
    assert str(len(compose("booklet", 3, learner=wren))) in shown
    assert wren.forms == 2
    assert str(len(compose("fluency-grid", 3, learner=wren))) in shown, "two forms, a child's page and an adult's each"


def test_a_unit_sheet_counts_games_and_books_as_one_with_their_parts(compose: Compose) -> None:
    """A die and figures belong to their game, leaves to their flip book."""
    kinds = ("flip-book", "dice-page", "path", "sort", "handwriting")
    told = text_of(compose("unit-sheet", 8, beside=kinds)[0])
    for counted in ("flip books (1)", "dice pages (1)", "word paths (1)", "word sorts (1)", "fluency grids (2)"):
        assert counted in told
    assert f"handwriting pages ({len(compose('handwriting', 8))})" in told
    assert all(compose(kind, 8) for kind in kinds)


def test_a_mat_names_its_groups_in_nine_points_at_least(compose: Compose) -> None:
    names = {"vowel", "consonant", "consonant team", "ending"}
    for unit in (5, 12):
        for sheet in compose("tile-mat", unit):
            heads = [i for i in sheet.pages[0].frame.items if isinstance(i, Text) and i.text in names]
            assert heads
            assert all(head.size_um * 72 / 25_400 >= 9 - 0.1 for head in heads)


def test_sketches_keep_the_proportions_of_the_things(compose: Compose, home: Home) -> None:
    (label,) = compose("envelope-label", 3, learner=home.learner("wren"))
    boxes = [i for i in label.pages[0].frame.items if isinstance(i, Box) and i.fill and i.stroke_um == 350]
    ratios = {round(b.width_um / b.height_um, 2) for b in boxes}
    assert ratios == {round(210 / 297, 2), round(105 / 148, 2)}, "pages and a booklet"
    assert max(b.height_um for b in boxes) <= 11_000
    assert [i for i in label.pages[0].frame.items if isinstance(i, Line)]
