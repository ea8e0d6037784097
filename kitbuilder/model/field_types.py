"""How single values are written: whole numbers, choices, lengths, spans of time, lists by key. Each with its schema."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from typing import Any, get_args

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import Length, parse_length
from kitbuilder.model.defined import NAME, given
from kitbuilder.model.text import Placed, refuse

YES = ("yes", "true", "on")
NO = ("no", "false", "off")
LENGTH_PATTERN = r"^\s*\d+([.,]\d+)?\s*(mm|cm|in|inch|pt|\")\s*$"


class Written(ABC):
    """A value read from one text by `read`; `schema` tells an editor what may stand there."""

    @abstractmethod
    def read(self, value: object) -> object:
        """Return the value; refuses what is not one."""

    @abstractmethod
    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the text."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return self.schema()


def _text(value: object, wanted: str) -> str:
    if not isinstance(value, str):
        raise refuse(
            "value-expected", f"{wanted} is expected here", "write one value on the line of its name, without [ ] or -"
        )
    return str(value).strip()


@dataclass(frozen=True, slots=True)
class Whole(Written):
    """A whole number from `least` to `most`. Digits only: `1_0`, `3.0` and `1e3` are not numbers here."""

    least: int
    most: int

    def read(self, value: object) -> int:
        if isinstance(value, int) and not isinstance(value, bool):
            number = value
        else:
            text = _text(value, "a whole number")
            if not re.fullmatch(r"-?[0-9]{1,12}", text):
                raise refuse(
                    "not-a-whole-number", f"{shown(text)} is not a whole number", "write digits only, such as 3"
                )
            number = int(text)
        if not self.least <= number <= self.most:
            raise out_of_range(str(number), number > self.most, f"a number from {self.least} to {self.most}")
        return number

    def schema(self) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


@dataclass(frozen=True, slots=True)
class YesNo(Written):
    """A yes or a no."""

    def read(self, value: object) -> bool:
        if isinstance(value, bool):
            return value
        text = _text(value, "yes or no")
        if text.lower() in YES:
            return True
        if text.lower() in NO:
            return False
        raise refuse("not-yes-or-no", f"{shown(text)} is neither yes nor no", "write yes or no")

    def schema(self) -> dict[str, Any]:
        return {"enum": [True, False, *YES, *NO]}


@dataclass(frozen=True, slots=True)
class Choice(Written):
    """One of a few words; capitals do not matter. `placed` keeps the place of the word."""

    words: tuple[str, ...]
    what: str
    placed: bool = False

    def read(self, value: object) -> str:
        text = _text(value, self.what)
        found = {word.lower(): word for word in self.words}.get(text.lower())
        if found is None:
            raise refuse(
                "unknown-choice",
                f"{shown(text)} is not {self.what}",
                f"write one of: {', '.join(self.words)}" + nearest(text, self.words),
            )
        if self.placed and isinstance(value, Placed):
            return Placed(found, value.location, value.plain, value.comment)
        return Placed(found) if self.placed else found

    def schema(self) -> dict[str, Any]:
        # An editor that reads YAML 1.1 takes the words yes, no, on and off for truths.
        truths = [word.lower() in YES for word in self.words if word.lower() in (*YES, *NO)]
        return {"enum": [*self.words, *truths]}


@dataclass(frozen=True, slots=True)
class LengthText(Written):
    """A length with its unit, from `least` to `most` micrometres."""

    least: int
    most: int

    def read(self, value: object) -> Length:
        if isinstance(value, Length):
            length = value
        else:
            length = parsed_length(_text(value, "a length such as 5 mm"))
        return checked_length(length, self.least, self.most)

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": LENGTH_PATTERN}


@dataclass(frozen=True, slots=True)
class MicrometresText(Written):
    """A length with its unit as whole micrometres; a minus sign is allowed when `least` is negative."""

    least: int
    most: int

    def read(self, value: object) -> int:
        if isinstance(value, int) and not isinstance(value, bool):
            um = value
        else:
            text = _text(value, "a length such as 0.2 mm").replace("\u2212", "-")
            back = self.least < 0 and text.startswith("-")
            um = parsed_length(text[1:].strip() if back else text).um * (-1 if back else 1)
        checked_length(Length(um), self.least, self.most)
        return um

    def schema(self) -> dict[str, Any]:
        sign = r"^\s*-?" if self.least < 0 else r"^\s*"
        return {"type": "string", "pattern": LENGTH_PATTERN.replace(r"^\s*", sign, 1)}


_SIDES = re.compile(r"\s*(?P<width>[^x×X]+?)\s*[x×X]\s*(?P<height>[^x×X]+?)\s*")
_UNIT = re.compile(r"(mm|cm|inch|in|\"|pt)\s*$")


@dataclass(frozen=True, slots=True)
class SizeText(Written):
    """Width x height, such as `70 mm x 100 mm` or `70 x 100 mm`; each side from `least` to `most` micrometres."""

    least: int
    most: int

    def read(self, value: object) -> Size:
        if isinstance(value, Size):
            return value
        text = _text(value, "a size such as 70 mm x 100 mm")
        sides = _SIDES.fullmatch(text)
        if not sides:
            raise refuse("not-a-size", f"{shown(text)} is not a size", "write width x height, such as 70 mm x 100 mm")
        unit = _UNIT.search(sides["height"])
        if not unit and not _UNIT.search(sides["width"]):
            hint = f"write for example '{sides['width']} mm x {sides['height']} mm'"
            raise refuse("not-a-length", f"{shown(text)} has no unit", hint)
        width = sides["width"] if not unit or _UNIT.search(sides["width"]) else f"{sides['width']} {unit[1]}"
        return Size(
            checked_length(parsed_length(width), self.least, self.most),
            checked_length(parsed_length(sides["height"]), self.least, self.most),
        )

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": r"\d.*[x×X].*\d"}


@dataclass(frozen=True, slots=True)
class MinutesText(Written):
    """A span of time with its unit (`12 s`, `1.5 min`), in minutes."""

    def read(self, value: object) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool):
            return float(value)
        text = _text(value, "a span of time such as 12 s")
        found = re.fullmatch(r"([0-9]{1,5}(?:[.,][0-9]{1,3})?)\s*(s|sec|seconds?|min|minutes?)", text)
        if not found:
            raise refuse(
                "not-a-time", f"{shown(text)} is not a span of time", "write it with its unit: 12 s, or 1.5 min"
            )
        number = Decimal(found[1].replace(",", "."))
        return float(number / 60 if found[2].startswith("s") else number)

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": r"^\d+([.,]\d+)?\s*(s|sec|seconds?|min|minutes?)$"}


@dataclass(frozen=True, slots=True)
class Percent(Written):
    """A percentage from `least` to `most`, as whole millionths of one."""

    least: int
    most: int

    def read(self, value: object) -> int:
        if isinstance(value, int) and not isinstance(value, bool):
            return value
        text = _text(value, "a percentage such as 100 %")
        found = re.fullmatch(r"([0-9]{1,3}(?:[.,][0-9]{1,4})?)\s*%", text)
        if not found:
            raise refuse("not-a-percentage", f"{shown(text)} is not a percentage", "write it with its sign: 100 %")
        millionths = int(Decimal(found[1].replace(",", ".")) * 10_000)
        if not self.least * 10_000 <= millionths <= self.most * 10_000:
            high = millionths > self.most * 10_000
            raise out_of_range(text, high, f"a percentage from {self.least} % to {self.most} %")
        return millionths

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": r"^\s*\d+([.,]\d+)?\s*%\s*$"}


class Entries:
    """Reads a mapping as a tuple of (key, value) pairs, in the order of the file."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        key, value = get_args(get_args(source)[0])
        pairs = core_schema.dict_schema(handler.generate_schema(key), handler.generate_schema(value))
        before = core_schema.no_info_before_validator_function(_pairs_to_dict, pairs)
        return core_schema.no_info_after_validator_function(lambda made: tuple(made.items()), before)


class Named:
    """Reads a mapping from names to models as a tuple of models; each keeps its key as `name`."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        pairs = core_schema.dict_schema(handler.generate_schema(Placed), handler.generate_schema(get_args(source)[0]))
        before = core_schema.no_info_before_validator_function(_with_names, pairs)
        named = core_schema.no_info_after_validator_function(lambda made: tuple(made.values()), before)
        return core_schema.no_info_wrap_validator_function(_tuple_passes, named)


@dataclass(frozen=True, slots=True)
class Via:
    """Reads a value through another model and makes it by `make`; a ready value of type `done` passes."""

    model: type[Any]
    done: type[Any]
    make: Callable[[Any], Any]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def read(value: Any, inner: core_schema.ValidatorFunctionWrapHandler) -> Any:
            return value if isinstance(value, self.done) else self.make(inner(value))

        return core_schema.no_info_wrap_validator_function(read, handler.generate_schema(self.model))


def parsed_length(text: str) -> Length:
    """Return the length; what is no length is refused with a parent's sentence."""
    try:
        return parse_length(text)
    except ValueError as error:
        message, _, hint = str(error).partition("; ")
        raise refuse("not-a-length", message, hint or "write a shorter one, such as 63 mm") from error


def checked_length(length: Length, least: int, most: int) -> Length:
    """Return the length when it lies between the limits (micrometres)."""
    if not least <= length.um <= most:
        wanted = f"a length from {Length(least)} to {Length(most)}"
        raise out_of_range(str(length), length.um > most, wanted, "length-out-of-range")
    return length


def out_of_range(text: str, high: bool, wanted: str, code: str = "number-out-of-range") -> PydanticCustomError:
    """Return the refusal of a value that is too large or too small."""
    return refuse(code, f"{text} is too {'large' if high else 'small'}", f"write {wanted}")


def shown(text: str) -> str:
    """Return a text in quotes, cut when it is long."""
    flat = " ".join(text.split())
    return f"'{flat if len(flat) <= 60 else flat[:57] + '...'}'"


def nearest(text: str, words: tuple[str, ...]) -> str:
    """Return `; did you mean 'x'?` when a word is near, else nothing."""
    near = get_close_matches(text.lower(), words, n=1, cutoff=0.6)
    return f"; did you mean '{near[0]}'?" if near else ""


def _pairs_to_dict(value: object) -> object:
    return dict(value) if isinstance(value, tuple) else value


def _with_names(value: object) -> object:
    if not isinstance(value, dict):
        return value
    named = {key: given(item, {NAME: key}) if isinstance(item, dict) else item for key, item in value.items()}
    return given(named, {})


def _tuple_passes(value: Any, inner: core_schema.ValidatorFunctionWrapHandler) -> Any:
    return value if isinstance(value, tuple) else inner(value)
