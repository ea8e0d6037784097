"""Letters tied to sounds."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from kitbuilder.phonics.alignment import Segment, align
from kitbuilder.phonics.lexicon import Lexicon, load_lexicon

DATA = Path(__file__).parent / "data"


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon()


def _graphemes(word: str, sounds: str) -> str:
    return " ".join(segment.grapheme for segment in align(word, tuple(sounds.split()))[0].segments)


@pytest.mark.parametrize(
    ("word", "sounds", "graphemes"),
    [
        ("ship", "SH IH P", "sh i p"),
        ("make", "M EY K", "m a_e k"),
        ("makes", "M EY K S", "m a_e k s"),
        ("hoped", "HH OW P T", "h o p ed"),
        ("hopped", "HH AA P T", "h o pp ed"),
        ("taste", "T EY S T", "t a_e s t"),
        ("five", "F AY V", "f i_e v"),
        ("gave", "G EY V", "g a_e v"),
        ("place", "P L EY S", "p l a_e c"),
        ("give", "G IH V", "g i ve"),
        ("table", "T EY B AX L", "t a b le"),
        ("box", "B AA K S", "b o x"),
        ("labeled", "L EY B AX L D", "l a b e l ed"),
        ("battled", "B AE T AX L D", "b a tt le d"),
        ("loved", "L AH V D", "l o v ed"),
        ("starred", "S T AA R D", "s t arr ed"),
        ("quit", "K W IH T", "qu i t"),
        ("bank", "B AE NG K", "b a n k"),
        ("ball", "B AO L", "b a ll"),
        ("homework", "HH OW M W ER K", "h o_e m w or k"),
        ("don't", "D OW N T", "d o n 't"),
    ],
)
def test_words_are_cut_as_teachers_cut_them(word: str, sounds: str, graphemes: str) -> None:
    assert _graphemes(word, sounds) == graphemes


def test_a_split_digraph_knows_the_place_of_its_e() -> None:
    segments = align("cakes", ("K", "EY", "K", "S"))[0].segments
    assert segments[1] == Segment("a_e", "EY", 1, 2, 3)


def test_letters_that_cannot_give_the_sounds_have_no_alignment() -> None:
    assert align("cat", ("D", "AO", "G")) == ()
    assert align("", ("K",)) == ()


def test_alignments_come_cheapest_first_and_no_more_than_asked_for() -> None:
    found = align("have", ("HH", "AE", "V"), 3)
    assert [one.cost for one in found] == sorted(one.cost for one in found)
    assert len(found) == 2
    assert len(align("have", ("HH", "AE", "V"), 1)) == 1


def test_every_letter_is_covered_once(lexicon: Lexicon) -> None:
    for word in list(lexicon.words())[::37]:
        entry = lexicon.get(word)
        assert entry
        for alignment in entry.alignments:
            places = [at for s in alignment.segments for at in range(s.start, s.end)]
            tails = [s.tail for s in alignment.segments if s.tail is not None]
            assert sorted(places + tails) == list(range(len(word)))
            assert tuple(x for s in alignment.segments for x in s.phoneme.split(".")) == alignment.pronunciation


def _merged(sound: str) -> str:
    return ".".join({"AO": "AA", "IH": "AX", "AH": "AX"}.get(one, one) for one in sound.split("."))


def test_hand_cut_words_are_met(lexicon: Lexicon) -> None:
    """At least 97 % of boundaries and 96 % of sounds (first pronunciation; a two-way word's first reading)."""
    wanted = yaml.safe_load((DATA / "segmentations.yaml").read_text("utf-8"))["words"]
    cut = right = 0
    for one in wanted:
        alignment = _first(lexicon, one["word"])
        graphemes = [segment.grapheme for segment in alignment]
        cut += graphemes in (one["graphemes"], *one.get("also_ok", ()))
        sounds = [_merged(segment.phoneme) for segment in alignment]
        right += graphemes != one["graphemes"] or sounds == [_merged(sound) for sound in one["sounds"]]
    assert cut >= 0.97 * len(wanted)
    assert right >= 0.96 * len(wanted)


def _first(lexicon: Lexicon, word: str) -> tuple[Segment, ...]:
    entry = lexicon.get(word)
    if entry:
        return entry.alignments[0].segments
    owner = lexicon.get(word.removesuffix("'s"))  # the lexicon leaves possessives out
    assert owner
    sounds = owner.pronunciations[0]
    return align(word, (*sounds, "S" if sounds[-1] in ("T", "K", "P", "F", "TH") else "Z"))[0].segments
