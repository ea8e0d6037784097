"""One teaching unit as its file says it: what is taught, what is read, what is made."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, GetCoreSchemaHandler, GetJsonSchemaHandler, PlainValidator
from pydantic.json_schema import WithJsonSchema
from pydantic_core import CoreSchema, core_schema

from kitbuilder.diagnostics import Location
from kitbuilder.measure.geometry import Size
from kitbuilder.model.defined import HIDDEN, Defined, given
from kitbuilder.model.field_types import Choice, Entries, SizeText, Whole
from kitbuilder.model.text import NOT_BLANK, ONE_LINE, TEXT_SCHEMA, Placed, place_of, placed, refuse

SHAPES = ("VC", "CV", "CVC", "CVCC", "CCVC", "CCVCC", "CVCCC", "CCCVC", "CCCVCC", "two-syllable", "compound")
SPELLING_RULES = ("doubling", "drop-e", "y-to-i")
MAKINGS = ("saddle", "side", "slit")
NONE = f"{HIDDEN}none"
OPTIONS = f"{HIDDEN}options"
LARGEST_UM = 2_000_000  # two metres: longer than any sheet a home printer takes
MOST_PIECES = 10_000

_TEACH = re.compile(r"(?P<grapheme>\S+)\s+as\s+in\s+(?P<keyword>\S+)")
_SUFFIX = re.compile(r"-'?[^\W\d_]+")


def _word(text: Placed) -> Placed:
    if len(text.split()) != 1:
        raise refuse(
            "more-than-one-word",
            f"'{text}' is more than one word; one word is expected",
            "put a comma between two words: [dot, nod]",
        )
    return text


def _suffix(text: Placed) -> Placed:
    if not _SUFFIX.fullmatch(text.replace("’", "'")):
        raise refuse("not-a-suffix", f"'{text}' is not a suffix", "write a suffix with its hyphen, such as -s or -ing")
    return text


Line = Annotated[Placed, NOT_BLANK, ONE_LINE]
Word = Annotated[Placed, NOT_BLANK, AfterValidator(_word)]
Suffix = Annotated[Placed, NOT_BLANK, AfterValidator(_suffix)]
Text = Annotated[Placed, NOT_BLANK]


class Teach(Defined):
    """A correspondence by its keyword, from `d as in desk`. The sound is found later, by aligning the keyword."""

    grapheme: Placed
    keyword: Placed


def _teach(value: object) -> object:
    if not isinstance(value, str):
        return value
    text = value if isinstance(value, Placed) else Placed(value)
    found = _TEACH.fullmatch(text.strip())
    if not found:
        raise refuse(
            "not-a-correspondence",
            f"'{text}' does not say what is taught",
            "write the letters and a word that holds them: d as in desk",
        )
    inset = len(text) - len(text.lstrip())
    parts = (text.part(start + inset, stop + inset) for start, stop in (found.span("grapheme"), found.span("keyword")))
    made = given(dict(zip(("grapheme", "keyword"), parts, strict=True)), {})
    made.location = text.location
    return made


TeachText = Annotated[
    Teach,
    BeforeValidator(_teach),
    WithJsonSchema({"type": "string", "pattern": r"^\s*\S+\s+as\s+in\s+\S+\s*$", "examples": ["d as in desk"]}),
]


class BookletPage(Defined):
    """One page of a booklet: what the child reads, a picture's name, and a line that an adult reads aloud."""

    text: Text | None = None
    picture: Line | None = None
    adult_reads: Text | None = None


class PageText:
    """Reads a text alone as a page without a picture."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def read(value: object) -> object:
            return {"text": value} if isinstance(value, str) else value

        return core_schema.no_info_before_validator_function(read, handler(source))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"anyOf": [TEXT_SCHEMA, handler(core)]}


Page = Annotated[BookletPage, PageText()]


class Booklet(Defined):
    """A little book. `page` is a size or a format's name, `picture` the cover's; `making` how it is held together.

    Page and making are the kind's, where the booklet says nothing.
    """

    title: Line
    pages: Annotated[tuple[Page, ...], Field(min_length=1)]
    picture: Line | None = None
    making: Annotated[Literal["saddle", "side", "slit"], Choice(MAKINGS, "a way of making a booklet")] | None = None
    page: Line | None = None
    questions: tuple[Line, ...] = ()


Option = Placed | tuple[Placed, ...]  # as written: one text, or a list of texts


class Material(Defined):
    """What a unit asks of a kind: nothing (`none`), another size, count or stock, or the kind's own options.

    `options` are as written; the kind's template knows which there are. A value is one text or a tuple of texts.
    """

    none: Annotated[bool, Field(validation_alias=NONE)] = False
    size: Annotated[Size, SizeText(1_000, LARGEST_UM)] | None = None
    count: Annotated[int, Whole(0, MOST_PIECES)] | None = None
    stock: Line | None = None
    options: Annotated[tuple[tuple[Placed, Option], ...], Field(validation_alias=OPTIONS), PlainValidator(tuple)] = ()

    def option(self, name: str) -> Option | None:
        """Return the option as written, or None."""
        return next((value for key, value in self.options if key == name), None)


def _material(value: object) -> object:
    if isinstance(value, str):
        if value.strip().lower() == "none":
            return given({}, {NONE: True})
        raise refuse("not-a-material", f"'{value}' is not expected here", "write none, or settings below the kind")
    if not isinstance(value, Mapping) or any(key.startswith(HIDDEN) for key in value):
        return value
    known = Material.keys()
    own = {key: item for key, item in value.items() if key in known}
    options = tuple((key, _option(item)) for key, item in value.items() if key not in known)
    made = given(own, {OPTIONS: options})
    made.location = place_of(value)
    return made


def _option(value: Any) -> Option:
    texts = tuple(value) if isinstance(value, list) else (value,)
    for text in texts:
        if not isinstance(text, str):
            raise refuse(
                "text-expected",
                "a text or a list of texts is expected here",
                "write a value, or [a, b]",
                place_of(text),
            )
    found = tuple(placed(text) for text in texts)
    return found if isinstance(value, list) else found[0]


_MATERIAL_SCHEMA = {
    "anyOf": [
        {"const": "none"},
        {
            "type": "object",
            "properties": {
                "size": {"type": "string", "pattern": r"\d.*[x×X].*\d", "examples": ["70 mm x 100 mm"]},
                "count": {"type": "integer", "minimum": 0, "maximum": MOST_PIECES},
                "stock": TEXT_SCHEMA,
            },
            "additionalProperties": {"anyOf": [TEXT_SCHEMA, {"type": "array", "items": TEXT_SCHEMA}]},
        },
    ]
}
KindMaterial = Annotated[Material, BeforeValidator(_material), WithJsonSchema(_MATERIAL_SCHEMA)]


class Unit(Defined):
    """A teaching unit. Only its number must be written."""

    unit: Annotated[int, Whole(1, 999)]
    title: Line = Field(default_factory=lambda data: Placed(f"Unit {data.get('unit', '')}".strip()))
    teach: tuple[TeachText, ...] = ()
    shapes: tuple[Annotated[Placed, Choice(SHAPES, "a word shape", placed=True)], ...] = ()
    suffixes: tuple[Suffix, ...] = ()
    spelling_rules: tuple[Annotated[Placed, Choice(SPELLING_RULES, "a spelling rule", placed=True)], ...] = ()
    irregular: tuple[Word, ...] = ()
    names: tuple[Line, ...] = ()
    adult_reads: tuple[Line, ...] = ()
    words: tuple[Word, ...] = ()
    nonsense: tuple[Word, ...] = ()
    sentences: tuple[Line, ...] = ()
    booklets: tuple[Booklet, ...] = ()
    copywork: tuple[Line, ...] = ()
    notes: Text | None = None
    materials: Annotated[tuple[tuple[Placed, KindMaterial], ...], Entries()] = ()

    @property
    def file(self) -> str:
        """The file the unit stands in, or nothing for a unit made by a programme."""
        return self.location.file if self.location else ""

    @classmethod
    def place(cls, value: Mapping[str, Any]) -> Location | None:
        """Return the place of the key `unit`, else that of the file's first line."""
        return next((place_of(key) for key in value if key == "unit"), place_of(value))
