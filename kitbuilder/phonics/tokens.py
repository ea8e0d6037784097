"""The words of a text, with their places in it."""

from __future__ import annotations

import re
from dataclasses import dataclass

_TOKEN = re.compile(
    r"\d+(?:[.,:]\d+)*(?:st|nd|rd|th|s)?"  # numerals: 7, 3.5, 2nd
    r"|[^\W\d_]+(?:\.[^\W\d_]+)+\.?"  # letters with dots between them: e.g.
    r"|[^\W\d_]+(?:['\u2019\u02bc][^\W\d_]+|[-\u2010\u2011\u00ad](?:\r?\n[ \t]*)?[^\W\d_]+)*"  # words, joined parts
    r"|[&@%+=$\u00a3\u20ac#]"  # signs that are read as words
)
_SOFT = "\u00ad"


@dataclass(frozen=True, slots=True)
class Token:
    """A word as it stands in a text: `start` and `end` are offsets in the text as given.

    `text` has a plain apostrophe and plain hyphens; a break of a line at a hyphen is taken out.
    """

    text: str
    start: int
    end: int


def words_in(text: str) -> tuple[Token, ...]:
    """The words of a text in order: quotes and stops left off, numerals and signs that are read aloud kept."""
    return tuple(Token(plain(match.group()), match.start(), match.end()) for match in _TOKEN.finditer(text))


def plain(word: str) -> str:
    """The word with plain apostrophes and hyphens, without soft hyphens and breaks of lines."""
    word = re.sub(r"\r?\n[ \t]*", "", word).replace(_SOFT, "")
    return word.replace("\u2019", "'").replace("\u02bc", "'").replace("\u2010", "-").replace("\u2011", "-")
