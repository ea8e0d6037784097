"""What stands on the family's table: printer, paper and card, trimmer, and how long each handling takes."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field
from pydantic.json_schema import WithJsonSchema

from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import Length, mm
from kitbuilder.measure.paper import PAPERS, paper_named
from kitbuilder.model.defined import Defined
from kitbuilder.model.field_types import (
    Choice,
    LengthText,
    MicrometresText,
    Named,
    Percent,
    SizeText,
    Via,
    Whole,
    YesNo,
    nearest,
)
from kitbuilder.model.minutes import Minutes
from kitbuilder.model.stock import DEFAULT_STOCKS, Stock, sheets_in_one_cut
from kitbuilder.model.text import NOT_BLANK, Placed, refuse

_PAPER_SIZE = SizeText(50_000, 1_500_000)
_EDGE = LengthText(0, 40_000)
_SHIFT = MicrometresText(-10_000, 10_000)


def _paper(text: Placed) -> Placed:
    if paper_named(text) is None:
        if not any(sign.isdigit() for sign in text) or text.strip().lower()[:1] == "a":
            names = ", ".join(PAPERS)
            raise refuse(
                "unknown-paper",
                f"'{text}' is not a paper kitbuilder knows",
                f"write one of {names}, or a size such as 210 mm x 297 mm{nearest(text, tuple(PAPERS))}",
            )
        _PAPER_SIZE.read(text)
    return text


PaperName = Annotated[
    Placed,
    NOT_BLANK,
    AfterValidator(_paper),
    WithJsonSchema({"type": "string", "examples": [*PAPERS, "210 mm x 297 mm"]}),
]


class Edges(Defined):
    """What the printer cannot reach, as the sheet leaves it: `bottom` is the trailing edge."""

    left: Annotated[Length, _EDGE] = mm(5)
    top: Annotated[Length, _EDGE] = mm(5)
    right: Annotated[Length, _EDGE] = mm(5)
    bottom: Annotated[Length, _EDGE] = mm(8)

    def insets(self) -> Insets:
        return Insets(self.left, self.top, self.right, self.bottom)


class BackOffset(Defined):
    """How far backs are moved to lie behind their fronts, on the back as it is read."""

    right: Annotated[int, _SHIFT] = 0
    down: Annotated[int, _SHIFT] = 0

    def shift(self) -> tuple[int, int]:
        return (self.right, self.down)


class ByHand(Defined):
    """What happens between printing fronts and backs by hand, as `imposition.by_hand.ByHandProfile` takes it.

    `face`: the printed side of the pile as it comes out. `tray_face`: the printed side as it goes back in. `turned`: it
    goes in with the bottom edge of the pages first. `flip`: `short` when backs come out head to foot with the top edge
    first. `reversed_order`: backs are printed last sheet first.
    """

    face: Annotated[Literal["down", "up"], Choice(("down", "up"), "a way sheets lie")] = "down"
    tray_face: Annotated[Literal["down", "up"], Choice(("down", "up"), "a way sheets lie")] = "down"
    turned: Annotated[bool, YesNo()] = False
    flip: Annotated[Literal["long", "short"], Choice(("long", "short"), "an edge to turn on")] = "long"
    reversed_order: Annotated[bool, YesNo()] = False


class Printer(Defined):
    """One printer. `back_offset_um` is (right, down); `scale_ppm` is what it makes of a true length, in millionths.

    `papers` are the papers it has; none written means the press's paper only.
    """

    edges: Annotated[Insets, Via(Edges, Insets, Edges.insets)] = Edges().insets()
    two_sided: Annotated[
        Literal["long", "short", "by-hand"], Choice(("long", "short", "by-hand"), "a way of printing both sides")
    ] = "long"
    back_offset_um: Annotated[
        tuple[int, int], Via(BackOffset, tuple, BackOffset.shift), Field(validation_alias="back-offset")
    ] = (0, 0)
    scale_ppm: Annotated[int, Percent(95, 105), Field(validation_alias="scale")] = 1_000_000
    by_hand: ByHand = ByHand()
    papers: tuple[PaperName, ...] = ()


class Trimmer(Defined):
    """The paper trimmer: how long its blade is, how many sheets of 80 g/m2 it cuts, whether its scale is in inches."""

    blade: Annotated[Length, LengthText(100_000, 1_500_000)] = mm(320)
    rating: Annotated[int, Whole(1, 500), Field(validation_alias="sheets")] = 10
    inches: Annotated[bool, YesNo()] = False


def _with_default_stocks(stocks: tuple[Stock, ...]) -> tuple[Stock, ...]:
    written = {stock.name for stock in stocks}
    return stocks + tuple(stock for stock in DEFAULT_STOCKS if stock.name not in written)


class Press(Defined):
    """Everything about printing and cutting at home."""

    paper: PaperName = Placed("a4")
    printer: Printer = Printer()
    stocks: Annotated[tuple[Stock, ...], Named(), AfterValidator(_with_default_stocks)] = DEFAULT_STOCKS
    trimmer: Trimmer = Trimmer()
    minutes: Minutes = Minutes()
    cut_lines: Annotated[
        Literal["printed", "ticks", "none"], Choice(("printed", "ticks", "none"), "a way of showing cuts")
    ] = "printed"
    spare_slots: Annotated[
        Literal["spares", "blank"], Choice(("spares", "blank"), "a use of the room left on a sheet")
    ] = "spares"
    prefer: Annotated[
        Literal["few-sheets", "few-strokes"], Choice(("few-sheets", "few-strokes"), "something to save")
    ] = "few-sheets"

    @property
    def size(self) -> Size:
        """The sheet as it is loaded: portrait for a named paper, as written for a size."""
        return paper_size(self.paper)

    def stock(self, name: str) -> Stock | None:
        """Return the stock of that name, or None."""
        return next((stock for stock in self.stocks if stock.name == name), None)

    def stack(self, stock: Stock) -> int:
        """Return how many sheets of a stock the trimmer cuts together, at least one."""
        return stock.stack or sheets_in_one_cut(self.trimmer.rating, stock.caliper_um)

    def two_sided(self, stock: Stock) -> Literal["long", "short", "by-hand", "no"]:
        """Return how a stock is printed on both sides by this printer."""
        if stock.two_sided == "no":
            return "no"
        return "by-hand" if stock.two_sided == "by-hand" else self.printer.two_sided


def paper_size(text: str) -> Size:
    """Return the size of a paper's name or of a written size; the text has been checked before."""
    return paper_named(text) or _PAPER_SIZE.read(text)
