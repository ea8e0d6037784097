"""Lengths as whole micrometres, so that sums are exact and every machine lays out the same sheet."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from functools import lru_cache

UM_PER_MM = 1_000
UM_PER_INCH = 25_400  # exact by definition of the international inch (1959)
POINTS_PER_INCH = 72  # PDF user space, ISO 32000-2, 8.3.2.3
MM_PER_POINT = 25.4 / 72  # for type placed in millimetres
LONGEST_UM = 10_000_000  # ten metres: longer is a slip of the pen, and keeps sums far inside 64 bits

_UNIT_UM = {
    "mm": Decimal(1_000),
    "cm": Decimal(10_000),
    "in": Decimal(25_400),
    "inch": Decimal(25_400),
    '"': Decimal(25_400),
    "pt": Decimal(25_400) / Decimal(72),
}
_TEXT = re.compile(r"^\s*(?P<sign>-?)(?P<number>\d{1,6}(?:[.,]\d{1,6})?)\s*(?P<unit>mm|cm|inch|in|\"|pt)\s*$")


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length in whole micrometres. Adds to lengths only; multiplies and divides by whole numbers."""

    um: int

    def __post_init__(self) -> None:
        if type(self.um) is not int:
            raise TypeError(f"a length is whole micrometres, not {self.um!r}")

    def __add__(self, other: Length) -> Length:
        return Length(self.um + other.um)

    def __sub__(self, other: Length) -> Length:
        return Length(self.um - other.um)

    def __mul__(self, times: int) -> Length:
        return Length(self.um * times)

    __rmul__ = __mul__

    def __neg__(self) -> Length:
        return Length(-self.um)

    def split(self, parts: int) -> tuple[Length, ...]:
        """Return `parts` lengths whose sum is exactly this one; the remainder goes to the first ones."""
        each, rest = divmod(self.um, parts)
        return tuple(Length(each + (1 if i < rest else 0)) for i in range(parts))

    def to_mm(self) -> float:
        return self.um / UM_PER_MM

    def to_pt(self) -> float:
        return self.um * POINTS_PER_INCH / UM_PER_INCH

    def __str__(self) -> str:
        return f"{Decimal(self.um) / UM_PER_MM:f} mm"


def mm(value: float | str) -> Length:
    """Return `value` millimetres, rounded to the micrometre."""
    return Length(_round(Decimal(str(value)) * UM_PER_MM))


def inch(value: float | str) -> Length:
    """Return `value` inches of 25.4 mm."""
    return Length(_round(Decimal(str(value)) * UM_PER_INCH))


def pt(value: float | str) -> Length:
    """Return `value` points of 1/72 inch, rounded to the micrometre."""
    return Length(_round(Decimal(str(value)) * UM_PER_INCH / POINTS_PER_INCH))


@lru_cache(maxsize=1024)  # a face asks for the same few lengths at every thing it draws
def parse_length(text: str) -> Length:
    """Return the length written as `63 mm`, `2.5 in` or `12 pt`.

    Raises:
        ValueError: with a sentence for the user, when there is no unit, no number, or a minus sign.
    """
    found = _TEXT.match(text)
    if not found:
        if re.fullmatch(r"\s*-?\d+(?:[.,]\d+)?\s*", text):
            raise ValueError(f"{text.strip()!r} has no unit; write for example '{text.strip()} mm' or '2.5 in'")
        raise ValueError(f"{text.strip()!r} is not a length; write a number and a unit, such as '63 mm' or '2.5 in'")
    if found["sign"]:
        raise ValueError(f"{text.strip()!r} is negative; a length is zero or more")
    um = _round(Decimal(found["number"].replace(",", ".")) * _UNIT_UM[found["unit"]])
    if um > LONGEST_UM:
        raise ValueError(f"{text.strip()!r} is longer than ten metres")
    return Length(um)


def _round(value: Decimal) -> int:
    return int(value.quantize(Decimal(1), rounding=ROUND_HALF_EVEN))
