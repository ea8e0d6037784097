"""Counts, lengths, papers and kinds in the words a parent reads."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from kitbuilder.measure.length import UM_PER_INCH
from kitbuilder.model.press import Press
from kitbuilder.model.stock import Stock, grams_per_lb

_HALF_MM_UM = 500  # what an eye reads off a trimmer's scale
# Weights sold in US shops, in pounds; common practice, no source.
_POUNDS = {"bond": (16, 20, 24, 28, 32), "index": (90, 110, 140)}
_NEAR = Decimal("0.08")  # further from a shop's weight than this, the g/m2 alone are named
MOST_TITLES = 6
LONG_TITLE = 14  # characters


def many(count: int, thing: str, plural: str = "") -> str:
    """Return `1 sheet`, `3 sheets`."""
    return f"{count:,} {thing if count == 1 else plural or thing + 's'}"


def joined(words: Sequence[str]) -> str:
    """Return `a`, `a and b`, `a, b and c`."""
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def shortened(titles: Iterable[str], most: int = MOST_TITLES) -> str:
    """Return the titles, each once, with commas; after the first few how many more there are."""
    distinct = [t for t in dict.fromkeys(titles) if t]
    if len(distinct) <= most:
        return ", ".join(distinct)
    return f"{', '.join(distinct[: most - 1])} and {len(distinct) - most + 1} more"


def span(first: int, last: int) -> str:
    """Return `3`, `3 and 4` or `3 to 7`."""
    if last - first > 1:
        return f"{first} to {last}"
    return str(first) if first == last else f"{first} and {last}"


def titles_words(titles: Sequence[str]) -> str:
    """Return short titles in a row; of long ones the first, in quotes, and how many more there are."""
    distinct = [t for t in dict.fromkeys(titles) if t]
    if len(distinct) < 2 or max(map(len, distinct)) <= LONG_TITLE:
        return shortened(distinct)
    return f"“{distinct[0]}” and {len(distinct) - 1} more"


def measure(length_um: int, *, inches: bool) -> str:
    """Return a length as read off a scale: `62 mm` to the half millimetre, `2 7/16 in` to the sixteenth."""
    if not inches:
        halves = (2 * length_um + _HALF_MM_UM) // (2 * _HALF_MM_UM)
        return f"{halves // 2}.5 mm" if halves % 2 else f"{halves // 2} mm"
    sixteenths = (2 * 16 * length_um + UM_PER_INCH) // (2 * UM_PER_INCH)
    whole, over = divmod(sixteenths, 16)
    under = 16
    while over and over % 2 == 0:
        over, under = over // 2, under // 2
    part = f"{over}/{under}" if over else ""
    return f"{' '.join(filter(None, (str(whole) if whole or not part else '', part)))} in"


def in_inches(press: Press) -> bool:
    """Tell whether the family's paper comes in inches, and their envelopes with it."""
    return press.size.width.um % (UM_PER_INCH // 2) == 0


def paper_words(paper: str) -> str:
    """Return a paper's name as a packet says it: A4, Letter, or the size as written."""
    return paper if any(c.isspace() for c in paper) else paper.capitalize()


def weight_words(stock: Stock, *, inches: bool) -> str:
    """Return a stock's weight: `160 g/m²`, with pounds where those are sold."""
    basis = "bond" if stock.kind == "paper" else "index"
    exact = stock.weight_gsm / grams_per_lb(basis)
    near = min(_POUNDS[basis], key=lambda pounds: abs(pounds - exact))
    metric = f"{stock.weight_gsm} g/m²"
    if not inches or abs(near - exact) > _NEAR * near:
        return metric
    return f"{near} lb {basis} ({metric})"


def stock_words(name: str) -> str:
    """Return a stock's name as a thing: `plain paper`, `card`."""
    return "plain paper" if name == "plain" else name


def kind_title(kind: str, titles: Mapping[str, str] | None = None) -> str:
    """Return what a kind is called in a list: as its template says, else `letter-card` as `Letter cards`."""
    if titles and kind in titles:
        return titles[kind]
    words = kind.replace("-", " ").capitalize()
    if words.endswith(("work", "writing")):  # what cannot be counted
        return words
    if words.endswith(("s", "x", "ch", "sh")):
        return words + "es"
    return words[:-1] + "ies" if words.endswith("y") and words[-2:-1] not in "aeiou" else words + "s"


def units_words(units: Sequence[int]) -> str:
    """Return `Week 3`, `Weeks 1 to 12`, `Weeks 1, 3 and 4`."""
    numbers = sorted(set(units))
    if len(numbers) < 2:
        return f"Week {numbers[0]}" if numbers else "Pack"
    if numbers[-1] - numbers[0] == len(numbers) - 1 and len(numbers) > 2:
        return f"Weeks {numbers[0]} to {numbers[-1]}"
    return f"Weeks {joined([str(n) for n in numbers])}"


def whole_minutes(minutes: float) -> int:
    """Return whole minutes, at least one: what is printed adds up because steps are rounded before they are added."""
    return max(1, int(minutes + 0.5))
