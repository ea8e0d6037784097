from itertools import pairwise

import pytest

from kitbuilder.phonics.chains import ChainStep, chain, chain_of
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.spelling import spellable_words
from kitbuilder.phonics.teaching import Teaching
from kitbuilder.phonics.word_choice import new_words


def spelled(text: str) -> dict[str, tuple[Correspondence, ...]]:
    return {word: tuple(Correspondence(letter, letter.upper()) for letter in word) for word in text.split()}


def distance(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    """The least number of swaps, additions and removals between two words (Levenshtein, 1966)."""
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        last, row[0] = row[0], i
        for j, b in enumerate(other, 1):
            last, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, last + (a != b))
    return row[-1]


@pytest.mark.parametrize("unit", [2, 3, 5, 8, 11, 12, 14])
def test_each_step_is_one_change_of_one_grapheme_through_spellable_words(course_reader: Reader, unit: int) -> None:
    words = spellable_words(course_reader, unit)
    steps = chain(course_reader, unit, 8, seed=1)
    assert len(steps) == 8
    assert len({step.word for step in steps}) == 8
    for before, after in pairwise(steps):
        one, other = (tuple(link.grapheme for link in words[step.word]) for step in (before, after))
        assert distance(one, other) == 1
        assert after.position is not None
        changed = list(one)
        if after.change == "swap":
            assert changed[after.position] == after.old
            changed[after.position] = after.new
        elif after.change == "add":
            changed.insert(after.position, after.new)
        else:
            assert changed.pop(after.position) == after.old
        assert tuple(changed) == other


def test_a_chain_begins_with_a_word_of_the_unit(course_reader: Reader) -> None:
    assert chain(course_reader, 8, 8, seed=1)[0].word in new_words(course_reader, 8)


def test_no_place_changes_three_times_running(course_reader: Reader) -> None:
    places = [step.position for step in chain(course_reader, 11, 14, seed=2)[1:]]
    assert not any(a == b == c for a, b, c in zip(places, places[1:], places[2:], strict=False))


def test_the_longest_chain_is_found_where_one_way_only_goes_through_all_words() -> None:
    steps = chain_of(spelled("at cat cut cup up pat"), 10, seed=1, unit=1)
    assert {step.word for step in steps} == {"at", "cat", "cut", "cup", "up", "pat"}
    assert steps[0].word in ("up", "pat", "at")


def test_the_first_step_changes_nothing_and_later_ones_say_what_changes() -> None:
    steps = chain_of(spelled("at bat"), 2, seed=1, unit=1)
    assert steps[0] == ChainStep(steps[0].word, None, "", "", None)
    expected = (
        ChainStep("bat", "add", "", "b", 0) if steps[0].word == "at" else ChainStep("at", "take away", "b", "", 0)
    )
    assert steps[1] == expected


def test_words_without_a_neighbour_make_no_chain() -> None:
    assert chain_of(spelled("cat dog hut"), 5, seed=1, unit=1) == ()


def test_the_same_seed_gives_the_same_chain(course_reader: Reader) -> None:
    assert chain(course_reader, 8, 8, seed=1) == chain(course_reader, 8, 8, seed=1)
    assert chain(course_reader, 8, 8, seed=1) != chain(course_reader, 8, 8, seed=2)


def test_a_chain_does_not_become_a_list_of_rhymes() -> None:
    """Five rhymes: after two changes at the beginning only another place may change, and there is none."""
    assert len(chain_of(spelled("bat cat hat mat rat"), 5, seed=1, unit=1)) == 3


@pytest.mark.parametrize("unit", range(3, 13))
def test_a_chain_is_of_well_known_words_where_there_are_enough(course_reader: Reader, unit: int) -> None:
    """Zipf 3.2 is about sixteen uses in ten million words."""
    words = [step.word for seed in (1, 2, 3) for step in chain(course_reader, unit, 10, seed)]
    entries = [course_reader.lexicon.get(word) for word in words]
    assert [entry.word for entry in entries if entry and entry.frequency < 3.2] == []


def test_rare_words_come_where_too_few_are_well_known() -> None:
    """Mug, mum and gum are well known (mum in Britain), lug is not."""
    letters = tuple(Correspondence(*pair) for pair in (("u", "AH"), ("l", "L"), ("g", "G"), ("m", "M")))
    few = Reader(load_lexicon("uk"), [Teaching(1, letters, ("CVC",))])
    assert {"mug", "mum", "gum", "lug"} == {step.word for step in chain(few, 1, 10, seed=1)}


def test_most_steps_change_what_the_unit_taught(course_reader: Reader) -> None:
    for unit, own in ((3, {"g", "u", "b"}), (7, {"c", "k", "ck"}), (8, {"w", "f", "ch"})):
        steps = chain(course_reader, unit, 10, seed=1)[1:]
        assert sum(bool({step.old, step.new} & own) for step in steps) >= 5, unit


def test_an_own_letter_is_changed_before_others() -> None:
    own = frozenset({("c", "C")})
    for seed in range(6):
        steps = chain_of(spelled("cat bat bit hit"), 3, seed, 1, own=own)
        assert [step.word for step in steps][:2] in (["cat", "bat"], ["bit", "bat"])
        assert any("c" in (step.old, step.new) for step in steps)


def test_a_th_that_is_hard_to_hear_is_not_asked_for() -> None:
    """Six and sixth (a family's own word) are one change apart, and nothing else can be made of these letters."""
    letters = tuple(Correspondence(*pair) for pair in (("s", "S"), ("i", "IH"), ("x", "K.S"), ("th", "TH")))
    lexicon = load_lexicon("us", {"sixth": (("S", "IH", "K", "S", "TH"),)})
    few = Reader(lexicon, [Teaching(1, letters, ("CVCC",))])
    assert {"six", "sixth"} <= set(spellable_words(few, 1))
    assert chain(few, 1, 10, seed=1) == ()
