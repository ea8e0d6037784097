import math
from dataclasses import replace
from itertools import permutations

import pytest

from kitbuilder.phonics.letter_order import (
    STRETCHABLE,
    TEAMS,
    VOWELS,
    NoOrderError,
    OrderOptions,
    OrderWord,
    Step,
    order,
    steps_of,
    units_of,
)
from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.order_words import kept_words, letter_order

# What the shipped units teach, in this order. It may change only together with them.
SHIPPED = [
    "n",
    "o",
    "d",
    "i",
    "m",
    "a",
    "p",
    "t",
    "g",
    "u",
    "b",
    "s",
    "r",
    "e",
    "h",
    "sh",
    "l",
    "ll",
    "ng",
    "th",
    "c",
    "k",
    "ck",
    "w",
    "f",
    "ch",
    "ss",
    "x",
    "y",
    "j",
    "ff",
    "qu",
    "v",
    "z",
    "zz",
]


@pytest.fixture(scope="module")
def shipped() -> tuple[Step, ...]:
    return letter_order(load_lexicon())


def place(steps: tuple[Step, ...]) -> dict[str, int]:
    return {step.grapheme: step.position for step in steps}


def test_the_computation_gives_the_order_of_the_shipped_units(shipped: tuple[Step, ...]) -> None:
    assert [step.grapheme for step in shipped] == SHIPPED


@pytest.mark.parametrize("pair", ["b d", "p qu", "m n", "f v", "i e"])
def test_look_and_sound_alikes_are_at_least_three_steps_apart(shipped: tuple[Step, ...], pair: str) -> None:
    one, other = pair.split()
    assert abs(place(shipped)[one] - place(shipped)[other]) >= 3


def test_every_pair_called_alike_is_as_far_apart_as_the_options_say(shipped: tuple[Step, ...]) -> None:
    options, at = OrderOptions(), place(shipped)
    assert all(abs(at[one] - at[other]) >= options.apart for one, other in options.alike)


def test_a_vowel_and_consonants_that_can_be_held_come_early(shipped: tuple[Step, ...]) -> None:
    names = [step.grapheme for step in shipped]
    assert set(names[:2]) & set(VOWELS)
    assert len(set(names[:5]) & set(STRETCHABLE)) >= 2


def test_a_letter_team_comes_after_its_letters(shipped: tuple[Step, ...]) -> None:
    at = place(shipped)
    assert all(at[letter] < at[team] for team in TEAMS for letter in team)


def test_each_step_opens_exactly_the_words_that_lacked_its_grapheme(shipped: tuple[Step, ...]) -> None:
    assert shipped[0].unlocked == ()
    assert "nod" in shipped[2].unlocked
    assert "on" in shipped[1].unlocked
    readable = 0
    for step in shipped:
        readable += len(step.unlocked)
        assert step.readable == readable


WORDS = tuple(
    OrderWord(word, tuple(word), worth)
    for word, worth in (("at", 3.0), ("tap", 2.0), ("pat", 2.0), ("it", 3.0), ("pit", 1.0), ("tip", 2.0), ("sit", 1.5))
)
SMALL = OrderOptions(
    graphemes=("a", "i", "p", "s", "t"), alike=(("a", "i"),), apart=2, stretchable_first=(0, 5), after=()
)


def worth_of(graphemes: tuple[str, ...]) -> float:
    total, readable = 0.0, 0.0
    for count in range(1, len(graphemes) + 1):
        readable = sum(word.worth for word in WORDS if set(word.graphemes) <= set(graphemes[:count]))
        total += math.log1p(readable)
    return total


def test_no_other_order_of_a_small_alphabet_is_worth_more() -> None:
    """Brute force over all orders that respect the same constraints."""
    allowed = [
        names
        for names in permutations(SMALL.graphemes)
        if set(names[:2]) & set(VOWELS) and abs(names.index("a") - names.index("i")) >= 2
    ]
    found = tuple(step.grapheme for step in order(WORDS, SMALL))
    assert found in allowed
    assert worth_of(found) == pytest.approx(max(map(worth_of, allowed)))


def test_a_first_word_early_is_worth_more_than_a_heap_of_words_a_step_sooner() -> None:
    """By a plain sum i, p, t would come first, for the one word worth 30; no word could be read till then."""
    words = (
        OrderWord("pa", ("p", "a"), 9.0),
        OrderWord("as", ("a", "s"), 1.0),
        OrderWord("tip", ("t", "i", "p"), 30.0),
        OrderWord("sit", ("s", "i", "t"), 3.0),
    )
    steps = order(words, replace(SMALL, alike=()))
    assert [step.grapheme for step in steps] == ["a", "p", "i", "t", "s"]


def test_a_family_may_fix_the_beginning() -> None:
    steps = order(kept_words(), OrderOptions(start=("h", "u"), width=20))
    assert [step.grapheme for step in steps[:2]] == ["h", "u"]
    assert len({step.grapheme for step in steps}) == len(SHIPPED)


def test_constraints_that_leave_no_order_are_told() -> None:
    with pytest.raises(NoOrderError, match="2 graphemes"):
        order(WORDS, replace(SMALL, graphemes=("a", "i", "t"), apart=3))
    with pytest.raises(NoOrderError, match="beginning names zh"):
        order(WORDS, OrderOptions(start=("zh",)))


def test_units_share_the_new_words_out_and_hold_no_alike_pair(shipped: tuple[Step, ...]) -> None:
    units = units_of(shipped, 11, (3, 4))
    assert [step for unit in units for step in unit] == list(shipped)
    alike = {frozenset(pair) for pair in OrderOptions().alike}
    for unit in units:
        names = [step.grapheme for step in unit]
        assert 3 <= len(names) <= 4
        assert not any(frozenset((one, other)) in alike for one in names for other in names if one != other)
    assert sum(len(step.unlocked) for step in units[0]) >= 4


def test_a_given_order_can_be_looked_at() -> None:
    steps = steps_of(("t", "a", "p", "i"), WORDS)
    assert [step.unlocked for step in steps] == [(), ("at",), ("pat", "tap"), ("it", "tip", "pit")]
