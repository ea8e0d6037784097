"""Where a sentence may be breathed: the author's own " / ", else after a comma; and phrases cut from sentences."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

MOST_LETTERS = 22  # of a phrase, spaces counted


def _all(words: str) -> frozenset[str]:
    return frozenset(words.split())


# our own lists of common English function words: where a phrase may well begin, where none can end, what alone is none
_OPENS = _all("in on at to of off up down by for from into with and but or so if as when than till then")
_ENTERS = _all("a an the my his her this that no not")
_HANGS = _all("a an the and but or if as is was of to for from with into his her my no not than so i")
_SMALL = _OPENS | _ENTERS | _HANGS | _all("am are be can did do had has have he it she they us we you")
_MARKS = re.compile(r"[^\w’'\s-]+")

_OWN = re.compile(r"\s+/\s+")
_COMMA = re.compile(r"[,;:][”’\"']?(?=\s)")


def phrased(text: str) -> tuple[str, tuple[int, ...]]:
    """Return the sentence without its slashes, and the places of the spaces where a phrase ends."""
    parts = _OWN.split(" ".join(text.split()))
    clean = " ".join(parts)
    if len(parts) > 1:
        ends: list[int] = []
        for part in parts[:-1]:
            ends.append((ends[-1] + 1 if ends else 0) + len(part))
        return clean, tuple(ends)
    return clean, tuple(match.end() for match in _COMMA.finditer(clean))


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
