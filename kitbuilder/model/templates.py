"""Kind and face templates as people wrote them: raw located values, and a kind's settings once they are checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Union

from kitbuilder.diagnostics import Location
from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import Length
from kitbuilder.model.text import Placed


@dataclass(frozen=True, slots=True)
class RawList:
    """A YAML list whose items keep their places."""

    items: tuple[RawValue, ...]
    location: Location | None = None


@dataclass(frozen=True, slots=True)
class RawMap:
    """A YAML mapping, in the order it was written."""

    entries: tuple[tuple[Placed, RawValue], ...]
    location: Location | None = None

    def get(self, key: str) -> RawValue | None:
        for name, value in self.entries:
            if name == key:
                return value
        return None


CAUTIONS = ("small-parts", "staples", "scissors", "magnets")  # the usual ones a kind may ask for by name

RawValue = Union[Placed, RawList, RawMap]  # noqa: UP007  # a recursive alias needs the spelled-out form before 3.12


@dataclass(frozen=True, slots=True)
class FaceTemplate:
    """One face: named values computed first, in order, then what is drawn, back to front."""

    name: str
    let: tuple[tuple[Placed, RawValue], ...]
    draw: RawList
    location: Location | None = None


@dataclass(frozen=True, slots=True)
class KindOption:
    """One setting of a kind that a unit may change. type: flag, number, length, text, texts (a list) or choice."""

    name: str
    type: str
    default: str
    choices: tuple[str, ...] = ()
    about: str = ""
    least: int = 0
    most: int = 10_000


@dataclass(frozen=True, slots=True)
class KindSize:
    """A fixed size, or a part of the sheet: page, half page, quarter page, wide page (turned)."""

    size: Size | None
    part: str = ""


@dataclass(frozen=True, slots=True)
class KindTemplate:
    """A kind of material. `made_for` names the list it is made from, one piece an item; empty with a module.

    `copies`, `colour`, `name` and `make` are expressions; `faces` pairs a role (front, back) with a face's name.
    """

    name: str
    code: str
    title: str
    about: str
    stock: str
    sizes: tuple[tuple[str, KindSize], ...]  # paper world ("a4", "letter" or "any") and the size there
    wide: KindSize | None  # for items that say they are wide
    keep_clear: Length
    durable: bool
    made_for: str
    faces: tuple[tuple[str, str], ...]
    copies: str = "1"
    colour: str = ""
    piece_name: str = ""
    panels: str = "1"  # an expression: how many times as wide as its size the flat is cut, to be folded upon itself
    picked: str = ""  # an expression: which items of the list are wanted; empty for all
    may_turn: bool = True
    binding: str = "none"
    module: str = ""
    options: tuple[KindOption, ...] = ()
    cautions: tuple[str, ...] = ()
    make: str = ""  # a sentence for the guide: what is done after cutting; may depend on options
    spares: bool = True  # False: a counted set, which one piece more would spoil
    checked: bool = True  # False: its type shrinks until it fits, so nothing a unit says can be wrong on it
    place: int = 50  # in the list of kinds
    location: Location | None = None

    def option(self, name: str) -> KindOption | None:
        return next((o for o in self.options if o.name == name), None)
