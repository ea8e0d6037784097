"""Reference charts, tile mats, unit sheets and envelope labels."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import pytest

from kitbuilder.artwork.frame import Box, Line, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.listening import listen_for
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
    ours = {v.symbol.rstrip("ː"): (v.height, v.backness) for v in ipa.vowels("us").values()}
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
    assert "sh as in shell" in text, "a sign such as /j/ for y would be read as a letter"
    assert "/" not in text
    assert "he: the letter e" in text


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


def test_a_unit_sheet_counts_games_and_books_as_one_with_their_parts(compose: Compose, home: Home) -> None:
    """A die and figures belong to their game, leaves to their flip book."""
    kinds = ("flip-book", "dice-page", "path", "sort", "handwriting")
    told = text_of(compose("unit-sheet", 8, beside=kinds)[0])
    for counted in ("dice pages (1)", "word paths (1)", "word sorts (1)", "flip books,", "fluency grids,"):
        assert counted in told, "a child's own pages are counted on its envelope"
    (label,) = compose("envelope-label", 8, learner=home.learner("wren"), beside=kinds)
    shown = texts_of(label.pages[0].frame)
    pages = len(compose("handwriting", 8, learner=home.learner("wren")))
    assert shown[shown.index("Handwriting pages") + 1] == str(pages)
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
