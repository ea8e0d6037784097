"""All example words of the year 1 spelling appendix, and its rules.

Source: Department for Education, The national curriculum in England: framework document (2013), English Appendix 1;
copied with its notes in data/nc_year1.yaml.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from kitbuilder.phonics.alignment import Segment
from kitbuilder.phonics.lexicon import Lexicon, load_lexicon

SOURCE: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "data" / "nc_year1.yaml").read_text("utf-8"))
RULES = {rule["rule"]: rule for rule in SOURCE["rules"]}


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon("uk")


def _segments(lexicon: Lexicon, word: str) -> list[tuple[Segment, ...]]:
    entry = lexicon.get(word)
    return [alignment.segments for alignment in entry.alignments] if entry else []


def test_every_example_word_is_aligned(lexicon: Lexicon) -> None:
    words = [word for rule in SOURCE["rules"] for word in (*rule["words"], *rule.get("exceptions", ()))]
    words += SOURCE["common_exception_words"]["words"]
    assert len(words) > 280
    assert not [word for word in words if not _segments(lexicon, word)]


@pytest.mark.parametrize(
    ("rule", "pairs"),
    [
        ("n before k = /ng/", "n=NG"),
        ("tch", "tch=CH"),
        ("ve", "ve=V"),
        ("ai", "ai=EY"),
        ("oi", "oi=OY"),
        ("ay", "ay=EY"),
        ("oy", "oy=OY"),
        ("a_e", "a_e=EY"),
        ("e_e", "e_e=IY"),
        ("i_e", "i_e=AY"),
        ("o_e", "o_e=OW"),
        ("u_e", "u_e=UW u_e=Y.UW"),
        ("ar", "ar=AA.R"),
        ("ee", "ee=IY"),
        ("ea (as in sea)", "ea=IY"),
        ("ea (as in head)", "ea=EH"),
        ("er (stressed)", "er=ER"),
        ("er (schwa)", "er=ER"),
        ("ir", "ir=ER"),
        ("ur", "ur=ER"),
        ("oo (as in food)", "oo=UW"),
        ("oo (as in book)", "oo=UH"),
        ("oa", "oa=OW"),
        ("oe", "oe=OW"),
        ("ou", "ou=AW"),
        ("ow (as in now)", "ow=AW"),
        ("ow (as in own)", "ow=OW"),
        ("ue", "ue=UW ue=Y.UW"),
        ("ew", "ew=UW ew=Y.UW"),
        ("ie (as in chief)", "ie=IY"),
        ("igh", "igh=AY"),
        ("or", "or=AO.R"),
        ("ore", "ore=AO.R"),
        ("aw", "aw=AO"),
        ("au", "au=AO aur=AO.R"),
        ("air", "air=EH.R"),
        ("ear (as in dear)", "ear=IH.R"),
        ("ear (as in bear)", "ear=EH.R"),
        ("are", "are=EH.R ar=EH.R"),
        ("-y (final, /ee/ or /i/)", "y=IY"),
        ("ph", "ph=F"),
        ("wh", "wh=W"),
        ("k before e i y", "k=K"),
    ],
)
def test_the_examples_of_a_rule_hold_its_grapheme_and_sound(lexicon: Lexicon, rule: str, pairs: str) -> None:
    wanted = {tuple(pair.split("=")) for pair in pairs.split()}
    for word in RULES[rule]["words"]:
        found = {(s.grapheme, s.phoneme) for segments in _segments(lexicon, word) for s in segments}
        assert found & wanted, (word, found)


def test_ie_as_in_lie_may_end_in_the_suffix(lexicon: Lexicon) -> None:
    """cried, tried, dried: i and ed, or ie and d; the sound of the vowel is the same."""
    for word in RULES["ie (as in lie)"]["words"]:
        assert any(
            s.grapheme[0] == "i" and s.phoneme == "AY" for segments in _segments(lexicon, word) for s in segments
        )


def test_doubled_letters_after_one_short_vowel_are_one_grapheme(lexicon: Lexicon) -> None:
    for word in RULES["ff ll ss zz ck"]["words"]:
        assert all(segments[-1].grapheme == word[-2:] for segments in _segments(lexicon, word))
    for word in RULES["ff ll ss zz ck"]["exceptions"]:
        assert all(segments[-1].grapheme == word[-1] for segments in _segments(lexicon, word))
