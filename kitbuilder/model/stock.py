"""Paper, card, labels and magnetic sheets: weight, thickness, sides, and how many the trimmer takes at once."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Annotated, Any, Literal

from pydantic import Field

from kitbuilder.model.defined import NAME, Defined
from kitbuilder.model.field_types import Choice, MicrometresText, Whole, Written, out_of_range, shown
from kitbuilder.model.text import Placed, refuse

# Basic sizes in inches: 500 sheets of that size weigh the pounds on the packet (printwiki.org, Grammage; index: a
# paper merchant's table).
BASIC_SIZES_IN = {"bond": ("17", "22"), "cover": ("20", "26"), "text": ("25", "38"), "index": ("25.5", "30.5")}
GRAMS_PER_LB = Decimal("453.59237")  # exact, international pound (1959)
SQUARE_INCHES_PER_M2 = Decimal(1) / Decimal("0.0254") ** 2
PLAIN_CALIPER_UM = 100  # 80 g/m2 writing paper is 0.004 in (prepressure.com, printing dictionary)
BULK_PLAIN, BULK_CARD = (
    Decimal("1.25"),
    Decimal("1.17"),
)  # um per g/m2; common practice, no source: makers differ by 20 %
CARD_FROM_GSM = 121
BY_HAND_ABOVE_GSM = 105  # printers' manuals: most turn up to 104 or 105 g/m2 by themselves, a few up to 176
_WEIGHT = re.compile(
    r"(?P<number>[0-9]{1,4}(?:[.,][0-9]{1,2})?)\s*"
    r"(?:(?P<metric>g(?:sm|/m2|/m²|/qm)?)|(?:lb|lbs|#)\s*(?P<basis>[a-z]+)?)",
    re.IGNORECASE,
)


Sides = Literal["auto", "by-hand", "no"]


def grams_per_lb(basis: str) -> Decimal:
    """Return the g/m2 of one pound of basis weight."""
    width, height = (Decimal(side) for side in BASIC_SIZES_IN[basis])
    return GRAMS_PER_LB * SQUARE_INCHES_PER_M2 / (500 * width * height)


def usual_caliper_um(weight_gsm: int) -> int:
    """Return the thickness a stock of that weight usually has."""
    bulk = BULK_CARD if weight_gsm >= CARD_FROM_GSM else BULK_PLAIN
    return int((weight_gsm * bulk).quantize(Decimal(1), rounding=ROUND_HALF_EVEN))


def sheets_in_one_cut(rating: int, caliper_um: int) -> int:
    """Return how many sheets a trimmer rated for `rating` sheets of 80 g/m2 cuts; at least one."""
    return max(1, rating * PLAIN_CALIPER_UM // caliper_um)


@dataclass(frozen=True, slots=True)
class StockWeight(Written):
    """A weight in g/m2, or in pounds with their basis: `160 g`, `90 lb index`. Whole g/m2."""

    def read(self, value: object) -> int:
        if isinstance(value, int) and not isinstance(value, bool):
            return value
        text = str(value).strip() if isinstance(value, str) else ""
        found = _WEIGHT.fullmatch(text)
        if not found:
            raise refuse(
                "not-a-weight",
                f"{shown(text)} is not a weight of paper",
                "write it as the packet does: 160 g, or 90 lb index",
            )
        number = Decimal(found["number"].replace(",", "."))
        if not found["metric"]:
            number *= grams_per_lb(self._basis(found["basis"], text))
        weight = int(number.quantize(Decimal(1), rounding=ROUND_HALF_EVEN))
        if not 30 <= weight <= 1000:
            raise out_of_range(f"{weight} g/m2", weight > 1000, "a weight from 30 g to 1000 g", "weight-out-of-range")
        return weight

    @staticmethod
    def _basis(written: str | None, text: str) -> str:
        basis = (written or "").lower()
        if basis not in BASIC_SIZES_IN:
            raise refuse(
                "weight-without-basis",
                f"{shown(text)} does not say which pounds these are",
                f"write the word beside the number on the packet: {', '.join(BASIC_SIZES_IN)}; such as 90 lb index",
            )
        return basis

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": r"^\s*\d+([.,]\d+)?\s*(g|lb)", "examples": ["160 g", "90 lb index"]}


class LabelGrid(Defined):
    """How labels lie on a label sheet: `right` and `down` count them; lengths in micrometres from the upper left."""

    width_um: Annotated[int, MicrometresText(5_000, 500_000), Field(validation_alias="width")]
    height_um: Annotated[int, MicrometresText(5_000, 500_000), Field(validation_alias="height")]
    right: Annotated[int, Whole(1, 50)]
    down: Annotated[int, Whole(1, 50)]
    left_um: Annotated[int, MicrometresText(0, 200_000), Field(validation_alias="left")] = 0
    top_um: Annotated[int, MicrometresText(0, 200_000), Field(validation_alias="top")] = 0
    gap_right_um: Annotated[int, MicrometresText(0, 100_000), Field(validation_alias="gap-right")] = 0
    gap_down_um: Annotated[int, MicrometresText(0, 100_000), Field(validation_alias="gap-down")] = 0


def _usual_sides(data: dict[str, Any]) -> Sides:
    if data.get("kind") in ("label", "magnetic"):
        return "no"
    return "by-hand" if data.get("weight_gsm", 0) > BY_HAND_ABOVE_GSM else "auto"


class Stock(Defined):
    """What is loaded: `two_sided` says which way both sides can be printed, `stack` how many sheets are cut together.

    `stack` is None when the trimmer decides (see `Press.stack`). `buy` is what to ask for in a shop.
    """

    name: Annotated[Placed, Field(validation_alias=NAME)]
    weight_gsm: Annotated[int, StockWeight(), Field(validation_alias="weight")]
    kind: Annotated[
        Literal["paper", "card", "label", "magnetic"], Choice(("paper", "card", "label", "magnetic"), "a kind of stock")
    ] = Field(default_factory=lambda data: "card" if data.get("weight_gsm", 0) >= CARD_FROM_GSM else "paper")
    caliper_um: Annotated[int, MicrometresText(20, 2_000), Field(validation_alias="caliper")] = Field(
        default_factory=lambda data: usual_caliper_um(data.get("weight_gsm", 80)), validation_alias="caliper"
    )
    two_sided: Annotated[Sides, Choice(("auto", "by-hand", "no"), "a way")] = Field(default_factory=_usual_sides)
    stack: Annotated[int, Whole(1, 100)] | None = None
    labels: LabelGrid | None = None
    buy: Placed | None = None


def _usual(name: str, weight_gsm: int, buy: str) -> Stock:
    paper = weight_gsm < CARD_FROM_GSM
    caliper_um = PLAIN_CALIPER_UM if weight_gsm == 80 else usual_caliper_um(weight_gsm)
    return Stock(
        name=Placed(name),
        weight_gsm=weight_gsm,
        kind="paper" if paper else "card",
        caliper_um=caliper_um,
        two_sided="auto" if weight_gsm <= BY_HAND_ABOVE_GSM else "by-hand",
        buy=Placed(buy),
    )


DEFAULT_STOCKS = (
    _usual("plain", 80, "white paper, 80 g/m2 (20 lb bond)"),
    _usual("card", 160, "white card, 160 g/m2 (90 lb index)"),
    _usual("heavy-card", 200, "white card, 200 g/m2 (110 lb index)"),
)

# What goes with a kind of stock. Common practice, no source; magnets: 16 CFR 1262.3 limits loose ones.
CAUTIONS = {
    "label": (
        "Take label sheets made for your sort of printer: a laser printer melts the wrong ones.",
        "Never print on a sheet from which a label is missing: the others may come off inside the printer.",
    ),
    "magnetic": (
        "Magnetic sheet goes into an inkjet printer only, one sheet at a time by the straightest path; "
        "read its packet first.",
        "Keep magnetic pieces whole and away from children under three. A swallowed magnet is an emergency: "
        "get medical help at once.",
    ),
}
