"""Text that carries its place in a file, and the refusal that a rule about it raises."""

from __future__ import annotations

from typing import Any

from pydantic import AfterValidator, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from kitbuilder.diagnostics import Location

# What YAML calls a number, a truth or a null is a text here: the words 12, no and null stay words.
TEXT_SCHEMA = {"type": ["string", "number", "boolean", "null"]}


class Placed(str):
    """A text and where it stands. Compares, hashes and prints as the text alone.

    `location` is the first character inside quotes, None for a text that no file holds. `plain` says that the text
    stood without quotes; `comment` is what follows its `#` on the same line, None when there is none. Both are there
    for the traps of YAML only.
    """

    __slots__ = ("comment", "location", "plain")

    location: Location | None
    plain: bool
    comment: str | None

    def __new__(
        cls, text: str = "", location: Location | None = None, plain: bool = False, comment: str | None = None
    ) -> Placed:
        placed = super().__new__(cls, text)
        placed.location = location
        placed.plain = plain
        placed.comment = comment
        return placed

    def __reduce__(self) -> tuple[type[Placed], tuple[object, ...]]:
        return Placed, (str(self), self.location, self.plain, self.comment)

    def part(self, start: int, stop: int) -> Placed:
        """Return a slice with its own place; exact for a text on one line without escapes."""
        place = self.location
        moved = Location(place.file, place.line, place.column + start) if place else None
        return Placed(str(self)[start:stop], moved, self.plain, self.comment)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(placed)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return dict(TEXT_SCHEMA)


def refuse(code: str, message: str, hint: str = "", place: Location | None = None) -> PydanticCustomError:
    """Return the error a rule of the model raises; `load` prints it at `place`, else where the value stands."""
    facts = {"message": message, "hint": hint, "place": place}
    # The library wants literal strings for translations that we do not have.
    return PydanticCustomError(code, "{message}", facts)  # type: ignore[arg-type,unused-ignore]


def placed(value: object) -> Placed:
    """Return a text as `Placed`; anything else is refused."""
    if isinstance(value, Placed):
        return value
    if isinstance(value, str):
        return Placed(value)
    raise refuse("text-expected", "a text is expected here")


def place_of(value: object) -> Location | None:
    """Return the place of anything that carries one."""
    place = getattr(value, "location", None)
    return place if isinstance(place, Location) else None


def _not_blank(text: Placed) -> Placed:
    if not text.strip():
        raise refuse("empty-text", "this text is empty", "write something between the quotes, or delete the line")
    return text


def _one_line(text: Placed) -> Placed:
    if "\n" in text:
        return Placed(" ".join(text.split()), text.location, text.plain, text.comment)
    return text


NOT_BLANK = AfterValidator(_not_blank)
ONE_LINE = AfterValidator(_one_line)
