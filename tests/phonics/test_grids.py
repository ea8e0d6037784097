from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.phonics.grids import Item, fluency_grid

WORDS = [
    "cat",
    "dog",
    "pin",
    "hub",
    "met",
    "rag",
    "fit",
    "wet",
    "lot",
    "sun",
    "van",
    "jam",
    "zip",
    "box",
    "yes",
    "quit",
    "king",
    "shop",
    "thin",
    "chat",
]


def items(count: int, new: int) -> tuple[Item, ...]:
    return tuple(Item(word, place < new, tuple(word)) for place, word in enumerate(WORDS[:count]))


@given(
    count=st.integers(2, 20),
    new=st.integers(0, 20),
    rows=st.integers(1, 9),
    columns=st.integers(2, 7),
    seed=st.integers(0, 5),
    form=st.integers(1, 4),
)
def test_no_item_stands_beside_above_or_below_itself(
    count: int, new: int, rows: int, columns: int, seed: int, form: int
) -> None:
    grid = fluency_grid(items(count, new), rows, columns, seed, form)
    assert [len(row) for row in grid] == [columns] * rows
    for row in grid:
        assert all(a != b for a, b in pairwise(row))
        if count >= columns:
            assert len(set(row)) == columns
    for above, below in pairwise(grid):
        assert all(a != b for a, b in zip(above, below, strict=True))
        if 3 <= columns <= count:  # of two columns one of the two must give way
            assert above[-1] != below[0]


@given(count=st.integers(5, 20), new=st.integers(0, 20), seed=st.integers(0, 5))
def test_all_forms_are_equally_difficult_and_differ(count: int, new: int, seed: int) -> None:
    """The same items equally often, so the same counts for every grapheme."""
    forms = [fluency_grid(items(count, new), 6, 5, seed, form) for form in range(1, 5)]
    counts = [Counter(text for row in form for text in row) for form in forms]
    assert all(one == counts[0] for one in counts)
    assert len(set(forms)) == 4


def test_the_share_of_new_items_is_kept() -> None:
    grid = fluency_grid(items(20, 10), 8, 5, seed=1, form=1, new_share=0.5)
    new = set(WORDS[:10])
    assert sum(text in new for row in grid for text in row) == 20


def test_a_few_review_items_do_not_fill_half_the_grid() -> None:
    counts = Counter(text for row in fluency_grid(items(16, 13), 8, 4, seed=1, form=1) for text in row)
    assert max(counts[word] for word in WORDS[13:16]) <= 2 * max(counts[word] for word in WORDS[:13])
    assert all(counts[word] for word in WORDS[:16])


def test_repeats_are_even_when_there_are_few_items() -> None:
    counts = Counter(text for row in fluency_grid(items(6, 6), 6, 5, seed=1, form=1) for text in row)
    assert set(counts.values()) == {5}


def test_every_grapheme_is_covered_even_where_the_items_do_not_all_fit() -> None:
    pool = items(20, 10)
    grid = fluency_grid(pool, 3, 5, seed=1, form=1)
    shown = {letter for row in grid for text in row for letter in text}
    assert shown == {letter for item in pool for letter in item.graphemes}


def test_too_few_items_are_refused() -> None:
    with pytest.raises(ValueError, match="two different items"):
        fluency_grid(items(1, 1), 4, 4, seed=1, form=1)
