"""What a parent did when a file is not YAML: the mistake is looked for in the lines, not in the parser's words.

Two parsers (C and Python) name and place the same mistake differently; the lines are the same for both.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import yaml

from kitbuilder.diagnostics import Location

Finding = tuple[str, str, str, Location]  # message, code, hint, place

DEEPEST = 50
LONGEST = 2_000  # characters of a line that are looked at: a mistake in a longer one is told by its line alone
TOO_DEEP = f"lists lie more than {DEEPEST} deep in one another"

_START = r"^\s*(?:-\s+)*(?:[^\s'\"#\[\]{}:][^'\"#\[\]{}:]*:\s+)?(?:-\s+)*"
_QUOTED = re.compile(_START + r"(?P<quote>['\"])(?P<rest>.*)$")
_SIGN = re.compile(_START + r"(?P<sign>[@`%&*!|>{}\],?])")
_TWO_COLONS = re.compile(r"^\s*(?:-\s+)*[^\s'\"#\[\]{}][^#]*?:\s+[^'\"\[{#\s][^#]*?(?P<colon>:)(?:\s|$)")
_NO_SPACE_KEY = re.compile(r"^\s*(?:-\s+)*(?P<key>[A-Za-z-]+):[^\s/]")
_NO_SPACE_DASH = re.compile(r"^\s*-[^\s-]")


@dataclass(frozen=True, slots=True)
class _At:
    """The line where the parser gave up, counted from 0."""

    lines: list[str]
    name: str
    number: int
    column: int

    def line(self, number: int) -> str:
        return self.lines[number][:LONGEST] if 0 <= number < len(self.lines) else ""

    def place(self, number: int, column: int) -> Location:
        return Location(self.name, number + 1, column + 1)


def explain(error: yaml.YAMLError, lines: list[str], name: str) -> Finding:
    """Return message, code, hint and place for a text that YAML refuses."""
    mark: Any = getattr(error, "problem_mark", None)
    context: Any = getattr(error, "context_mark", None)
    at = _At(lines, name, mark.line if mark else 0, mark.column if mark else 0)
    opened = context.line if context else at.number
    if "escape" in str(getattr(error, "problem", "")):
        sign = at.line(at.number).find("\\")
        return (
            "a \\ in double quotes starts a special sign",
            "backslash",
            "use single quotes round the text, or write \\\\",
            at.place(at.number, max(sign, 0)),
        )
    for look in (_tab, _depth, _quote, _two_colons, _sign, _list_on_line, _missing_space):
        found = look(at)
        if found:
            return found
    return _bracket(at, error, opened, context.column if context else 0) or _column(at)


def _tab(at: _At) -> Finding | None:
    for number in range(at.number, max(at.number - 2, -1), -1):
        found = re.match(r" *\t", at.line(number))
        if found:
            return (
                "this line starts with a tab; only spaces are allowed there",
                "tab",
                "delete the space in front of the text and type spaces",
                at.place(number, found.end() - 1),
            )
    return None


def _depth(at: _At) -> Finding | None:
    """Find a line with so many open brackets that the parser looked too far ahead to count them."""
    brackets = [found.start() for found in re.finditer(r"[\[{]", at.line(at.number))]
    if len(brackets) < DEEPEST:
        return None
    return (TOO_DEEP, "too-deep", "close some brackets", at.place(at.number, brackets[DEEPEST - 1]))


def _quote(at: _At) -> Finding | None:
    """Find the nearest line above whose text starts with a quote that does not end with it."""
    for number in range(min(at.number, len(at.lines) - 1), -1, -1):
        found = _QUOTED.match(at.line(number))
        if not found:
            continue
        quote, rest = found["quote"], found["rest"]
        closed = re.match(r"(?:[^\"\\]|\\.)*\"" if quote == '"' else r"(?:[^']|'')*'", rest)
        after = rest[closed.end() :].strip() if closed else ""
        if closed and (not after or after[0] in "#,]}:"):
            continue
        message = (
            f"the quote {quote} opens a text that goes on after it" if closed else f"the quote {quote} is never closed"
        )
        return (
            f"{message}: {' '.join(at.line(number).split())[:60]}",
            "leading-quote",
            "put quotes round the whole text, of the other sort than those in it, or use curly quotes: “ ” ‘ ’",
            at.place(number, found.start("quote")),
        )
    return None


def _two_colons(at: _At) -> Finding | None:
    for number in (at.number, at.number - 1):
        found = _TWO_COLONS.match(at.line(number))
        if found:
            return (
                "there is a second ':' in this line, so it is not read as one text",
                "colon-in-text",
                "put quotes round the text that holds the ':'",
                at.place(number, found.start("colon")),
            )
    return None


def _sign(at: _At) -> Finding | None:
    found = _SIGN.match(at.line(at.number))
    if not found:
        return None
    return (
        f"a text cannot start with {found['sign']}",
        "leading-sign",
        "put quotes round the text",
        at.place(at.number, found.start("sign")),
    )


def _list_on_line(at: _At) -> Finding | None:
    found = re.match(r"^\s*[^\s'\"#]+:\s+(?P<dash>-)\s", at.line(at.number))
    if not found:
        return None
    return (
        "a list cannot start on the line of its name",
        "list-on-line",
        "put each item on a line of its own, starting with '- ', or write them in [ ]",
        at.place(at.number, found.start("dash")),
    )


def _missing_space(at: _At) -> Finding | None:
    for number in (at.number, at.number - 1):
        key = _NO_SPACE_KEY.match(at.line(number))
        if key:
            return (
                f"there is no space after '{key['key']}:'",
                "space-missing",
                "write a space after the ':'",
                at.place(number, key.end() - 1),
            )
        dash = _NO_SPACE_DASH.match(at.line(number))
        if dash and not at.line(number).startswith("---"):
            return (
                "there is no space after '-'",
                "space-missing",
                "write a space after the '-'",
                at.place(number, dash.end() - 1),
            )
    return None


def _bracket(at: _At, error: yaml.YAMLError, opened: int, column: int) -> Finding | None:
    if not re.search(r"flow (sequence|mapping)", str(getattr(error, "context", ""))):
        return None
    return (
        "the bracket that opens here is never closed",
        "open-bracket",
        "close it with ], with no # before that, or write one item a line, each starting with '- '",
        at.place(opened, column),
    )


def _column(at: _At) -> Finding:
    number = min(at.number, max(len(at.lines) - 1, 0))
    line = at.line(number)
    return (
        f"this line does not fit the lines above it: {' '.join(line.split())[:60]}",
        "does-not-fit",
        "start it in the same column as the others of its list, and write name: value or - item",
        at.place(number, len(line) - len(line.lstrip())),
    )
