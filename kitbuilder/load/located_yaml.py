"""YAML text as values that keep their places: mappings, lists and texts, nothing else.

YAML's own guesses are not used: a scalar is the text that was written, so the words no, on, null, 012 and 1e3 stay
words. What YAML offers beyond lists, mappings and texts (tags, aliases, several documents) is refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Union

import yaml

from kitbuilder.diagnostics import Location, Problem, ProblemLog
from kitbuilder.load.file_text import text_of_bytes, text_of_file
from kitbuilder.load.yaml_mistakes import DEEPEST, TOO_DEEP, explain
from kitbuilder.model.text import Placed

_ONE_DOCUMENT = "delete the line ---, or make two files"
_COMMENT = re.compile(r"\s+#(.*)")
MOST_NODES = 200_000

# The parser in C is ten times as fast; a Python without it reads the same values.
PARSER: Any = getattr(yaml, "CLoader", yaml.Loader)


class Mapping(dict[str, Any]):
    """Keys with their values, in the order of the file. Every key is a `Placed`; any equal text finds it."""

    __slots__ = ("location",)

    def __init__(self, location: Location) -> None:
        super().__init__()
        self.location = location

    @property
    def entries(self) -> tuple[tuple[Placed, Value], ...]:
        return tuple((key, value) for key, value in self.items() if isinstance(key, Placed))


class Listing(list[Any]):
    """A list; `in_brackets` tells `[a, b]` from one item a line."""

    __slots__ = ("in_brackets", "location")

    def __init__(self, location: Location, in_brackets: bool) -> None:
        super().__init__()
        self.location = location
        self.in_brackets = in_brackets

    @property
    def items(self) -> tuple[Value, ...]:
        return tuple(self)


@dataclass(frozen=True, slots=True)
class Empty:
    """Nothing written where a value belongs; `comment` is what follows a `#` there."""

    location: Location
    comment: str | None = None


Value = Union[Placed, Mapping, Listing, Empty]  # noqa: UP007  # used before its parts are defined


def read_yaml(source: Path | str | bytes, name: str, log: ProblemLog) -> Value | None:
    """Return the one document of a file (a Path) or of text, or None when it is not YAML that we take.

    Problems go to the log, located in `name`; a value that is given back may still have some (a key written twice).
    """
    if isinstance(source, Path):
        text = text_of_file(source, name, log)
    elif isinstance(source, bytes):
        text = text_of_bytes(source, name, log)
    else:
        text = text_of_bytes(source.encode("utf-8", "surrogatepass"), name, log)
    if text is None:
        return None
    reading = _Reading(name, text.split("\n"), log)
    try:
        value = reading.document(yaml.parse(text, Loader=PARSER))
        log.extend(reading.swallowed)
    except _Refused:
        return None
    except yaml.YAMLError as error:
        log.add(*explain(error, reading.lines, name))
        return None
    if value is None or isinstance(value, Empty):
        log.add("this file is empty", "empty-file", "write something in it, or delete it", Location(name, 1, 1))
        return None
    return value


class _Refused(Exception):
    """The document goes no further; its problem is in the log."""


@dataclass(slots=True)
class _Reading:
    """Turns events into values without recursion, so that depth and number are counted before memory is used."""

    name: str
    lines: list[str]
    log: ProblemLog
    nodes: int = 0
    open: list[Mapping | Listing] = field(default_factory=list)
    keys: list[Placed | None] = field(default_factory=list)  # of each open mapping: the key that waits for its value
    swallowed: list[Problem] = field(default_factory=list)  # told only when nothing worse stopped the reading

    def document(self, events: Iterator[Any]) -> Value | None:
        root: Value | None = None
        documents = 0
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._refuse(
                        event,
                        "a second document starts here; one is expected",
                        "second-document",
                        "delete the line ---",
                    )
            elif isinstance(event, yaml.AliasEvent):
                self._refuse(
                    event,
                    f"'*{event.anchor}' points to another place; write the text itself",
                    "alias",
                    "a text that starts with * needs quotes round it",
                )
            elif isinstance(event, yaml.NodeEvent):
                value = self._value(event)
                if self.open:
                    self._put(value, event)
                else:
                    root = value
                if isinstance(value, Mapping | Listing):
                    self._descend(value, event)
            elif isinstance(event, yaml.CollectionEndEvent):
                self.open.pop()
                self.keys.pop()
        return root

    def _value(self, event: Any) -> Value:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self._refuse(event, f"there are more than {MOST_NODES} values in this file", "too-many-values", "split it")
        if event.tag is not None:
            self._refuse(event, "'!' marks a type, which is not needed here", "tag", "put quotes round a text with !")
        if event.anchor is not None:
            self._refuse(
                event,
                f"'&{event.anchor}' names a place, which is not used here",
                "alias",
                "a text that starts with & needs quotes round it",
            )
        if isinstance(event, yaml.MappingStartEvent):
            return Mapping(self._place(event))
        if isinstance(event, yaml.SequenceStartEvent):
            return Listing(self._place(event), bool(event.flow_style))
        return self._scalar(event)

    def _scalar(self, event: Any) -> Placed | Empty:
        plain = event.style in (None, "")
        place = self._place(event)
        comment = self._comment(event)
        if plain and not event.value:
            return Empty(place, comment)
        if plain or event.style in "|>":
            text = Placed(event.value.rstrip("\n"), place, plain, comment if plain else None)
        else:
            text = Placed(event.value, Location(place.file, place.line, place.column + 1), False, None)
        if event.end_mark.line > event.start_mark.line and event.style not in ("|", ">"):
            self._watch_lines(event, text)
        if plain and comment is not None and comment[:1].strip():
            self._hash(event, text, comment)
        return text

    def _hash(self, event: Any, text: Placed, comment: str) -> None:
        """Tell of a text that ends at a `#` with no space behind it: hardly a note."""
        line = self._line(event.end_mark.line)
        self.log.add(
            f"the text ends at '#': '{cut(text)}'; '#{cut(comment)}' is left out",
            "hash-in-text",
            "put quotes round the whole text; for a note, write a space after the #",
            Location(self.name, event.end_mark.line + 1, line.index("#", event.end_mark.column) + 1),
        )

    def _watch_lines(self, event: Any, text: Placed) -> None:
        """Note a text that took in the next item of its list."""
        for number in range(event.start_mark.line + 1, event.end_mark.line + 1):
            line = self._line(number)
            if re.match(r"\s*-\s", line):
                hint = "start it in the same column as the '-' above it"
                late = "the quote above is closed too late; close it on its own line"
                place = Location(self.name, number + 1, len(line) - len(line.lstrip()) + 1)
                message = f"'{cut(line.strip())}' is read as part of the text above it"
                self.swallowed.append(Problem(message, "swallowed-line", hint if text.plain else late, place))
                return

    def _comment(self, event: Any) -> str | None:
        found = _COMMENT.match(self._line(event.end_mark.line), event.end_mark.column)
        return found[1].rstrip() if found else None

    def _put(self, value: Value, event: Any) -> None:
        parent = self.open[-1]
        if isinstance(parent, Listing):
            parent.append(value)
            return
        key = self.keys[-1]
        if key is not None:
            parent[key] = value
            self.keys[-1] = None
        elif isinstance(value, Placed):
            self.keys[-1] = self._new_key(parent, value)
        else:
            self._refuse(event, "a name is expected here, before the ':'", "not-a-key", "write name: value")

    def _new_key(self, parent: Mapping, key: Placed) -> Placed:
        earlier = next((known for known, _ in parent.entries if known == key), None) if key in parent else None
        if earlier is not None and earlier.location is not None:
            self.log.add(
                f"'{cut(key)}' is written twice; the first is in line {earlier.location.line}",
                "duplicate-key",
                "keep one of them, and put both texts there",
                key.location,
            )
        return key

    def _descend(self, value: Mapping | Listing, event: Any) -> None:
        self.open.append(value)
        self.keys.append(None)
        if len(self.open) > DEEPEST:
            self._refuse(event, TOO_DEEP, "too-deep", "close some brackets")

    def _place(self, event: Any) -> Location:
        return Location(self.name, event.start_mark.line + 1, event.start_mark.column + 1)

    def _line(self, number: int) -> str:
        return self.lines[number] if number < len(self.lines) else ""

    def _refuse(self, event: Any, message: str, code: str, hint: str) -> None:
        self.log.add(message, code, hint, self._place(event))
        raise _Refused


def cut(text: str) -> str:
    """Return a text on one line, cut when it is long."""
    flat = " ".join(text.split())
    return flat if len(flat) <= 50 else flat[:47] + "..."
