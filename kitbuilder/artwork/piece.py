"""A Piece: a thing a child (or the adult) holds, as pages of frames; what composing hands to imposition."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from kitbuilder.artwork.frame import Frame
from kitbuilder.diagnostics import Location
from kitbuilder.measure.format import Format


class Making(Enum):
    """How a piece is made from flats."""

    FLAT = "flat"  # one flat, printed on one or two sides
    SADDLE = "saddle"  # folded sheets, nested, stapled in the fold
    SIDE = "side"  # single leaves, stapled along the binding edge
    SLIT = "slit"  # one sheet, one side, one slit, folded to eight pages


@dataclass(frozen=True, slots=True)
class Page:
    """One printed side of a piece: role is `front`, `back`, or for booklets `cover`, `page`, `words`, `blank`."""

    frame: Frame
    role: str


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing to hold. `format` is the size of one page; `pages` are in reading order (front, back for a flat).

    `id` ends in a check letter made from the drawing. `set_id` names the pieces of one kind for one unit (and learner,
    when consumable). `order` is the piece's place in its set; `colour` groups pieces that should lie together.
    """

    id: str
    kind: str
    unit: int
    set_id: str
    order: int
    pages: tuple[Page, ...]
    format: Format
    stock: str
    durable: bool
    making: Making = Making.FLAT
    learner: str | None = None
    copy: int = 1
    title: str = ""  # what an adult calls it: "d", "Tansy Nods", "strip 3"
    colour: str = ""
    may_turn: bool = True
    binding: str = "left"  # left | right | top: the edge that is bound, for booklets and binder pages
    cover_stock: str = ""  # empty: same as the rest
    laminate: bool = False  # to be laminated after cutting, with a rim of film round it
    spares: bool = True  # room left on a sheet may be filled with more of it
    make: str = ""  # a sentence for the adult: what is done to pieces of this kind after cutting
    cautions: tuple[str, ...] = ()  # names of the usual cautions that its kind asks for
    asked_at: Location | None = None  # the line that asked for it

    def __post_init__(self) -> None:
        if self.making is Making.FLAT and len(self.pages) not in (1, 2):
            raise ValueError(f"{self.id}: a flat piece has one or two pages, not {len(self.pages)}")
