"""What all models of definition files share: frozen, hyphens in keys, a place, and unknown keys noticed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any

from pydantic import AliasGenerator, BaseModel, ConfigDict, Field, ValidationInfo, model_validator
from pydantic.json_schema import SkipJsonSchema

from kitbuilder.diagnostics import Location
from kitbuilder.model.text import place_of

# Keys that no file can hold (YAML refuses the character): what a validator adds to a mapping for the model to keep.
HIDDEN = "\0"
PLACE = f"{HIDDEN}place"
NAME = f"{HIDDEN}name"


@dataclass(frozen=True, slots=True)
class UnknownKey:
    """A key that a model does not know, beside those it does."""

    key: str
    known: tuple[str, ...]


@dataclass(slots=True)
class Reading:
    """What a reading notices besides errors; handed to pydantic as its context."""

    unknown_keys: list[UnknownKey] = field(default_factory=list)


class Given(dict[str, Any]):
    """A mapping with hidden keys added, which still knows its place."""

    location: Location | None = None


def given(mapping: Mapping[str, Any], hidden: Mapping[str, Any]) -> Given:
    """Return a copy of the mapping with the hidden keys added."""
    made = Given(mapping)
    made.update(hidden)
    made.location = place_of(mapping)
    return made


class Defined(BaseModel):
    """A frozen piece of a definition file. Python names use `_`, keys in files use `-`."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        validate_by_name=True,
        validate_by_alias=True,
        alias_generator=AliasGenerator(validation_alias=lambda name: name.replace("_", "-")),
        arbitrary_types_allowed=True,
    )

    location: Annotated[SkipJsonSchema[Location | None], Field(validation_alias=PLACE, repr=False)] = None

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """Return the keys a file may use, in order of declaration."""
        aliases = (str(info.validation_alias or name) for name, info in cls.model_fields.items())
        return tuple(alias for alias in aliases if not alias.startswith(HIDDEN))

    @classmethod
    def place(cls, value: Mapping[str, Any]) -> Location | None:
        """Return the place kept as `location`: that of the mapping."""
        return place_of(value)

    @model_validator(mode="before")
    @classmethod
    def _noticed(cls, value: Any, info: ValidationInfo) -> Any:
        if not isinstance(value, dict) or not isinstance(info.context, Reading):
            return value
        known = cls.keys()
        unknown = [key for key in value if key not in known and not key.startswith(HIDDEN)]
        info.context.unknown_keys.extend(UnknownKey(key, known) for key in unknown)
        kept = given({key: item for key, item in value.items() if key not in unknown}, {PLACE: cls.place(value)})
        kept.location = place_of(value)
        return kept
