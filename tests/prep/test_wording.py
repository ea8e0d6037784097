"""Lengths, weights and counts as a parent reads them."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from kitbuilder.measure.length import inch, mm
from kitbuilder.model.stock import Stock
from kitbuilder.model.text import Placed
from kitbuilder.prep.wording import (
    joined,
    kind_title,
    many,
    measure,
    paper_words,
    shortened,
    span,
    titles_words,
    units_words,
    weight_words,
    whole_minutes,
)


@pytest.mark.parametrize(
    ("length_um", "text"),
    [
        (mm("62").um, "2 7/16 in"),  # 62 / 25.4 = 2.4409: 39.06 sixteenths
        (mm("148.5").um, "5 7/8 in"),  # 93.54 sixteenths: 94/16
        (inch("0.5").um, "1/2 in"),
        (inch("8.5").um, "8 1/2 in"),
        (inch("3").um, "3 in"),
        (0, "0 in"),
        (75_407, "3 in"),  # 2 31/32 in is 75,406.25: half-way, and a little more
        (inch("0.0625").um, "1/16 in"),
    ],
)
def test_inches_are_read_to_the_nearest_sixteenth(length_um: int, text: str) -> None:
    assert measure(length_um, inches=True) == text


def test_no_sixteenth_is_more_than_a_thirty_second_off() -> None:
    for length_um in range(0, 300_000, 777):
        text = measure(length_um, inches=True).removesuffix(" in")
        inches = sum(Fraction(part) for part in text.split(" "))
        assert abs(inches * 25_400 - length_um) <= Fraction(25_400, 32)


@pytest.mark.parametrize(
    ("length", "text"), [("62", "62 mm"), ("148.5", "148.5 mm"), ("139.7", "139.5 mm"), ("62.8", "63 mm")]
)
def test_millimetres_are_read_to_the_half(length: str, text: str) -> None:
    assert measure(mm(length).um, inches=False) == text


@pytest.mark.parametrize(
    ("weight", "kind", "text"),
    [
        (80, "paper", "20 lb bond (80 g/m²)"),
        (199, "card", "110 lb index (199 g/m²)"),  # a US print shop's table: 110 lb index is 199 g/m2
        (163, "card", "90 lb index (163 g/m²)"),
        (300, "card", "300 g/m²"),  # no shop's weight is near
    ],
)
def test_weights_are_told_in_pounds_where_those_are_sold(weight: int, kind: Any, text: str) -> None:
    stock = Stock(name=Placed("x"), weight_gsm=weight, kind=kind)
    assert weight_words(stock, inches=True) == text
    assert weight_words(stock, inches=False) == f"{weight} g/m²"


def test_counts_lists_and_names_are_plain_english() -> None:
    assert [many(1, "sheet"), many(1200, "sheet"), many(2, "leaf", "leaves")] == ["1 sheet", "1,200 sheets", "2 leaves"]
    assert [joined(["a"]), joined(["a", "b", "c"])] == ["a", "a, b and c"]
    assert [span(3, 3), span(3, 4), span(3, 9)] == ["3", "3 and 4", "3 to 9"]
    assert [units_words(u) for u in ((3,), (1, 2), (1, 2, 3), (1, 4, 9), ())] == [
        "Week 3",
        "Weeks 1 and 2",
        "Weeks 1 to 3",
        "Weeks 1, 4 and 9",
        "Pack",
    ]
    assert [kind_title("letter-card"), kind_title("sound-box"), kind_title("story"), kind_title("x", {"x": "Xs"})] == [
        "Letter cards",
        "Sound boxes",
        "Stories",
        "Xs",
    ]
    assert [kind_title("copywork"), kind_title("handwriting")] == ["Copywork", "Handwriting"]
    assert [paper_words("a4"), paper_words("letter"), paper_words("210 x 120 mm")] == ["A4", "Letter", "210 x 120 mm"]


def test_long_lists_are_cut_and_say_how_many_are_left() -> None:
    assert shortened("abcdefgh", 4) == "a, b, c and 5 more"
    assert shortened(["a", "a", "", "b"]) == "a, b"
    assert titles_words(["Gub is big, but not bad.", "Go!"]) == "“Gub is big, but not bad.” and 1 more"


def test_a_step_is_never_told_as_no_minutes() -> None:
    assert [whole_minutes(m) for m in (0.0, 0.4, 1.5, 2.49)] == [1, 1, 2, 2]
