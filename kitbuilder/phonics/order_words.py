"""The words that a letter order is computed from."""

from __future__ import annotations

from collections.abc import Collection
from functools import cache
from importlib.resources import files

from kitbuilder.phonics.letter_order import OrderOptions, OrderWord, Step, order, steps_of
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.made_up_parts import CONSONANTS, SHORT_VOWELS
from kitbuilder.phonics.word_pool import word_pool

_SOUNDS = CONSONANTS | SHORT_VOWELS
_UNKNOWN = 2.0  # Zipf scale: a word met once in ten million is worth nothing, one met ten times as often is worth 1


def letter_order(lexicon: Lexicon, options: OrderOptions | None = None) -> tuple[Step, ...]:
    """The letter order of the shipped units, or the best one under other options, with the words each step opens.

    The search runs on the list kept in data/order_words.txt; the words shown are those of the lexicon. Raises
    NoOrderError as `order` does.
    """
    found = order(kept_words(), options)
    return steps_of([step.grapheme for step in found], order_words(lexicon))


@cache
def kept_words() -> tuple[OrderWord, ...]:
    """The words that the shipped order was computed from."""
    text = (files("kitbuilder.phonics") / "data" / "order_words.txt").read_text(encoding="utf-8")
    rows = (line.split() for line in text.splitlines() if not line.startswith("#"))
    return tuple(OrderWord(word, tuple(graphemes.split("+")), float(worth)) for word, graphemes, worth in rows)


def order_words(lexicon: Lexicon, reject: Collection[str] = ()) -> tuple[OrderWord, ...]:
    """The words of a first course: one short vowel, at most one grapheme before and one after it, all with main sounds.

    They are the pool's (SCOWL size 35, Zipf frequency 2.5 or more, fit for children), in sorted order. A word is worth
    its Zipf frequency above 2.
    """
    pool = word_pool(lexicon)
    main = {code for code, link in pool.links.items() if link.phoneme in _SOUNDS.get(link.grapheme, ())}
    vowels = {code for code in main if pool.links[code].grapheme in SHORT_VOWELS}
    found = []
    for word, entry in sorted(pool.words.items()):
        for coded in entry.coded:
            place = next((at for at, code in enumerate(coded) if code in vowels), None)
            if place in (0, 1) and len(coded) == place + 2 and main.issuperset(coded) and word not in reject:
                graphemes = tuple(pool.links[code].grapheme for code in coded)
                if coded[-1] not in vowels:
                    found.append(OrderWord(word, graphemes, round(entry.frequency - _UNKNOWN, 2)))
                break
    return tuple(found)
