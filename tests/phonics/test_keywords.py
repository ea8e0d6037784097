"""The sound a keyword shows."""

from __future__ import annotations

import pytest

from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.keywords import KeywordProblem, sound_of
from kitbuilder.phonics.lexicon import Lexicon, load_lexicon


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon()


@pytest.mark.parametrize(
    ("grapheme", "keyword", "phoneme"),
    [
        ("d", "desk", "D"),
        ("o", "otter", "AA"),
        ("e", "elephant", "EH"),
        ("a_e", "cake", "EY"),
        ("ea", "head", "EH"),
        ("ea", "sea", "IY"),
        ("ow", "snow", "OW"),
        ("oo", "book", "UH"),
        ("oo", "moon", "UW"),
        ("th", "this", "DH"),
        ("th", "thin", "TH"),
        ("x", "fox", "K.S"),
        ("qu", "queen", "K.W"),
        ("s", "dogs", "Z"),
        ("n", "bank", "NG"),
        ("nk", "bank", "NG.K"),
        ("u_e", "cube", "Y.UW"),
        ("air", "chair", "EH.R"),
        ("tion", "station", "SH.AX.N"),
    ],
)
def test_the_keyword_gives_the_sound(lexicon: Lexicon, grapheme: str, keyword: str, phoneme: str) -> None:
    assert sound_of(grapheme, keyword, lexicon) == (Correspondence(grapheme, phoneme), None)


def test_a_split_digraph_may_be_written_with_a_hyphen(lexicon: Lexicon) -> None:
    assert sound_of("a-e", "Cake", lexicon)[0] == Correspondence("a_e", "EY")


@pytest.mark.parametrize(
    ("grapheme", "keyword", "found"),
    [
        ("zz", "sun", "has no zz in it"),
        ("a_e", "head", "has no a_e in it"),
        ("o", "boat", "read b oa t"),
        ("a", "banana", "more than one sound"),
        ("ea", "read", "two words in the same letters"),
        ("i", "wind", "two words in the same letters"),
        ("o", "zorp", "not in the list of words"),
        ("ei", "either", "more than one sound"),
    ],
)
def test_a_wrong_or_unclear_keyword_is_a_problem_with_a_hint(
    lexicon: Lexicon, grapheme: str, keyword: str, found: str
) -> None:
    with pytest.raises(KeywordProblem) as caught:
        sound_of(grapheme, keyword, lexicon)
    assert found in caught.value.message
    assert caught.value.hint


def test_the_hint_offers_keywords_that_work(lexicon: Lexicon) -> None:
    with pytest.raises(KeywordProblem) as caught:
        sound_of("ow", "bow", lexicon)
    assert "\u201cow as in snow\u201d" in caught.value.hint
    assert sound_of("ow", "snow", lexicon)[1] is None


@pytest.mark.parametrize(
    ("grapheme", "keyword"),
    [("a", "ant"), ("a", "jam"), ("i", "ink"), ("t", "tree"), ("x", "xylophone"), ("a", "about")],
)
def test_an_untypical_sound_is_a_warning(lexicon: Lexicon, grapheme: str, keyword: str) -> None:
    assert keyword in (sound_of(grapheme, keyword, lexicon)[1] or "")
