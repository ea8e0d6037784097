"""Where a sentence may be breathed: the author's own " / ", else after a comma; and phrases cut from sentences.

Also what it costs a reader when a line ends after a word: lines are broken by it.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from functools import lru_cache
from itertools import pairwise

MOST_LETTERS = 22  # of a phrase, spaces counted


def _all(words: str) -> frozenset[str]:
    return frozenset(words.split())


# our own lists of common English function words: where a phrase may well begin, where none can end, what alone is none
_OPENS = _all("in on at to of off up down by for from into with and but or so if as when than till then")
_ENTERS = _all("a an the my his her this that no not")
_HANGS = _all("a an the and but or if as is was of to for from with into his her my no not than so i")
_SMALL = _OPENS | _ENTERS | _HANGS | _all("am are be can did do had has have he it she they us we you")
_SUBJECTS = _all("he she we they")  # what they do stands behind them
_MARKS = re.compile(r"[^\w’'\s-]+")

_OWN = re.compile(r"\s+/\s+")
_COMMA = re.compile(r"[,;:][”’\"']?(?=\s)")
_FULL_STOP = re.compile(r"[.!?…][”’\"')]*$")
_PAUSE = re.compile(r"[,;:.!?…][”’\"')]*$|^[–—-]+$")
_NAME = re.compile(r"[A-Z][a-z]")
_OPENING = re.compile(r"^[“‘\"(]+")

# What a line end costs, in squares of the room it leaves, in hundredths of the line: a line half empty costs 2,500.
# Set by reading the starter's booklets; below 0 it is a gain.
_OWN_END, _STOP_END, _PAUSE_END = -6_000, -2_400, -1_500
_BEFORE_OPENING = -500  # `he sat / on a log`; with a comma before it: `Tug, Nid, / and tug, Don!`
_BEFORE_REPEATING = -600  # `Tip, tap, / tip, tap, pop!`
_AFTER_HANGING, _AFTER_OPENING, _CUT_OFF = 3_500, 1_500, 600
_AFTER_SPEECH = 3_000  # `“I can,” said / Nid`
_AFTER_FIRST, _AFTER_SECOND, _BEFORE_LAST = 5_500, 900, 900  # words of a sentence


def without_slashes(text: str) -> tuple[str, tuple[int, ...]]:
    """Return the text without the author's slashes, and the places of the spaces where they stood; lines are kept."""
    lines, ends, at = [], list[int](), 0
    for line in text.split("\n"):
        parts = _OWN.split(" ".join(line.split()))
        for part in parts:
            at += len(part) + 1
            ends.append(at - 1)
        ends.pop()
        lines.append(" ".join(parts))
    return "\n".join(lines), tuple(ends)


def phrased(text: str) -> tuple[str, tuple[int, ...]]:
    """Return the sentence without its slashes, and the places of the spaces where a phrase ends."""
    clean, ends = without_slashes(" ".join(text.split()))
    return clean, ends or tuple(match.end() for match in _COMMA.finditer(clean))


@lru_cache(maxsize=256)  # a text is set in several sizes until it fits
def end_costs(words: tuple[str, ...], own: tuple[int, ...] = ()) -> tuple[int, ...]:
    """Return for each word but the last what it costs a reader when a line ends after it.

    `own` are the numbers of words after which the author has a slash. A cost is in squares of hundredths of a line left
    empty; negative where a line ends well.
    """
    begins = 0
    costs: list[int] = []
    for at, (word, after) in enumerate(pairwise(words)):
        if at and (_ends_sentence(words[at - 1], word) or _OPENING.match(word)):
            begins = at
        costs.append(_OWN_END if at in own else _end_cost(words, begins, at, after))
    return tuple(costs)


def _ends_sentence(word: str, after: str) -> bool:
    """Tell whether a sentence ends between two words: `“Help!” said Tam` is one."""
    return bool(_FULL_STOP.search(word)) and not _bare(after)[:1].islower()


def _bare(word: str) -> str:
    return _MARKS.sub("", word)


def _end_cost(words: Sequence[str], begins: int, at: int, after: str) -> int:
    word, following = _bare(words[at]).lower(), _bare(after).lower()
    opens = _BEFORE_OPENING * (following in _OPENS)
    if _ends_sentence(words[at], after):
        return _STOP_END
    cost = opens + _BEFORE_LAST * bool(_FULL_STOP.search(after))
    if _PAUSE.search(words[at]):
        if _NAME.match(after) or (at == begins and words[at][-1] == ","):  # `tug, Nid` is one breath, `Bump, bump` too
            return cost + _AFTER_SECOND
        return cost + _PAUSE_END + _BEFORE_REPEATING * (following == _bare(words[begins]).lower())
    if word in _HANGS:
        cost += _AFTER_HANGING
    elif word in _OPENS or word in _SUBJECTS:
        cost += _AFTER_OPENING
    elif at and _bare(words[at - 1]).lower() in _ENTERS and following not in _SMALL:
        cost += _CUT_OFF
    if at == begins:
        cost += _AFTER_FIRST
    elif at == begins + 1 and word in _SMALL:
        cost += _AFTER_SECOND
    elif words[at - 1][-1] in '”"' and words[at][0].islower():
        cost += _AFTER_SPEECH
    return cost


def cut_phrases(text: str, names: Collection[str]) -> tuple[str, ...]:
    """Return phrases of two or three words that stand side by side in the text, in its order, without its marks.

    No phrase goes over a mark, hangs in the air at its end (`in the`), is small words alone (`it is`), or shares a word
    with another. The capital a sentence begins with is taken back unless the word is one of the names.
    """
    found: list[str] = []
    for run in _MARKS.split(phrased(text)[0]):
        words = run.split()
        if words and words[0] not in names and words[0] != "I":
            words[0] = words[0][:1].lower() + words[0][1:]
        found += _best_parts(words)
    return tuple(found)


def _best_parts(words: Sequence[str]) -> tuple[str, ...]:
    """Return the phrases of the best way to cut the words: many words in phrases, phrases that begin well."""
    best: list[tuple[int, tuple[str, ...]]] = [(0, ())]  # of the first so many words
    for end in range(1, len(words) + 1):
        ways = [
            (best[start][0] + worth, (*best[start][1], " ".join(words[start:end])))
            for start in range(max(0, end - 3), end - 1)
            if (worth := _worth(words, start, end))
        ]
        best.append(max((best[end - 1], *ways), key=lambda way: way[0]))
    return best[-1][1]


def _worth(words: Sequence[str], start: int, end: int) -> int:
    """Return what a phrase is worth, 0 when it is none."""
    part = [word.lower() for word in words[start:end]]
    last_opens = part[-1] in _OPENS and end < len(words)  # `sat on` belongs to what follows
    cut_off = part[-2] in _ENTERS and end < len(words) and words[end].lower() not in _SMALL  # `on the big` of a tub
    hangs = last_opens or cut_off or part[-1] in _HANGS
    if hangs or all(word in _SMALL for word in part) or len(" ".join(part)) > MOST_LETTERS:
        return 0
    begins_well = start == 0 or part[0] in _OPENS or (part[0] in _ENTERS and words[start - 1].lower() not in _SMALL)
    return len(part) + 3 * begins_well
