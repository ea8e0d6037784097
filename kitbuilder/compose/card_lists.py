"""Lists whose items are cards of one set: pairs to match, dividers, slips. Plain items in, one item a card out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

Item = Mapping[str, Any]


def pair_cards(items: Iterable[Item], of: str, wanted: int) -> tuple[Item, ...]:
    """Return two cards an item, side by side in the list, `wanted` pairs at most, and a card with the rules.

    `of` is words (the same word twice), letters (small and capital) or pictures (a word and its picture).
    """
    cards: list[Item] = []
    for item in items:
        if len(cards) >= 2 * wanted:
            break
        first = {**item, "show": item["text"], "picture": "", "rules": False}
        second = {**first, "counted": False}  # a pair is one thing to count
        if of == "letters":
            if item["upper"] == item["lower"]:
                continue
            second["show"] = item["upper"]
        elif of == "pictures":
            if not item["prompt"]:
                continue
            second |= {"show": "", "picture": item["prompt"]}
        cards += (first, second)
    if len(cards) < 4:  # one pair is no game
        return ()
    rules = {
        "text": "rules",
        "show": "",
        "picture": "",
        "rules": True,
        "counted": False,
        "of": of,
        "pairs": len(cards) // 2,
    }
    return (*cards, {**rules, "place": None})


def dividers(labels: Sequence[str], about: Mapping[str, str]) -> tuple[Item, ...]:
    """Return one divider a label, with what an adult should know of it."""
    return tuple(
        {"text": str(label), "about": about.get(str(label).lower(), ""), "at": number, "of": len(labels), "place": None}
        for number, label in enumerate(labels)
    )


def slips(texts: Sequence[str]) -> tuple[Item, ...]:
    """Return one slip a text; one with lines to write on when there is no text."""
    return tuple({"text": str(text), "place": getattr(text, "location", None)} for text in texts or ("",))


def sentence_pages(sentences: Sequence[Item], on_a_page: int, forms: int) -> tuple[Item, ...]:
    """Return a page a form, each with the next sentences of the unit; after the last comes the first again.

    A question cannot be drawn: questions are left out where the others fill a page.
    """
    told = [item for item in sentences if not str(item["text"]).rstrip("”’\"' ").endswith("?")]
    sentences = told if len(told) >= on_a_page else sentences
    count = min(on_a_page, len(sentences))
    if not count:
        return ()
    pages = []
    for form in range(forms):
        chosen = tuple(sentences[(form * count + i) % len(sentences)] for i in range(count))
        texts = tuple(str(item["text"]) for item in chosen)
        pages.append({"text": f"page {form + 1}", "sentences": chosen, "texts": texts, "place": chosen[0]["place"]})
    return tuple(pages)
