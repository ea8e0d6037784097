"""Weights of paper, thickness, and how many sheets a trimmer takes.

Sources: basis weight factors and sizes from printwiki.org, Grammage; 110 lb index is 199 g/m2 in a US print shop's
table; caliper of 75 and 90 g/m2 bond from a US paper merchant's table. Ranges for card are from memory.
"""

from __future__ import annotations

import pytest

from kitbuilder.model.press import Press
from kitbuilder.model.stock import (
    CAUTIONS,
    DEFAULT_STOCKS,
    Stock,
    StockWeight,
    grams_per_lb,
    sheets_in_one_cut,
    usual_caliper_um,
)
from kitbuilder.model.text import Placed


@pytest.mark.parametrize(("basis", "factor"), [("bond", 3.760), ("cover", 2.704), ("text", 1.480), ("index", 1.808)])
def test_pounds_are_turned_into_grams_as_published(basis, factor):
    assert float(grams_per_lb(basis)) == pytest.approx(factor, abs=0.0015)


@pytest.mark.parametrize(
    ("text", "gsm"),
    [
        ("110 lb index", 199),
        ("90lb Index", 163),
        ("20 lb bond", 75),
        ("24 lbs bond", 90),
        ("28 lb bond", 105),
        ("65 # cover", 176),
        ("80 lb cover", 216),
        ("160 g", 160),
        ("160 gsm", 160),
        ("80 g/m2", 80),
        ("80g/m²", 80),
        ("162,6 g", 163),
    ],
)
def test_a_weight_is_read_as_the_packet_says_it(text, gsm):
    assert StockWeight().read(text) == gsm


@pytest.mark.parametrize(
    ("gsm", "least", "most"), [(75, 87, 107), (80, 95, 105), (90, 108, 132), (160, 170, 210), (250, 260, 320)]
)
def test_the_usual_thickness_is_near_the_published_one(gsm, least, most):
    assert least <= usual_caliper_um(gsm) <= most


def test_the_usual_cards_are_the_index_cards_of_letter_countries():
    """90 lb index is 163 g/m2, 110 lb index 199 g/m2 (formula; a US print shop's table for the second)."""
    weights = {stock.name: stock.weight_gsm for stock in DEFAULT_STOCKS}
    assert weights == {"plain": 80, "card": 160, "heavy-card": 200}
    assert abs(StockWeight().read("90 lb index") - weights["card"]) <= 3
    assert abs(StockWeight().read("110 lb index") - weights["heavy-card"]) <= 1
    assert all(stock.two_sided == "by-hand" for stock in DEFAULT_STOCKS if stock.kind == "card")
    assert not CAUTIONS.keys() - {"label", "magnetic"}


def test_a_trimmer_takes_fewer_sheets_of_card():
    assert sheets_in_one_cut(10, 100) == 10
    assert sheets_in_one_cut(10, 290) == 3, "10 * 0.10 / 0.29"
    assert sheets_in_one_cut(3, 400) == 1


def test_a_stock_knows_its_sides_and_kind_by_its_weight():
    def stock(weight: str, **more: str) -> Stock:
        return Stock.model_validate({"name": "x", "weight": weight, **more})

    assert (stock("80 g").kind, stock("80 g").two_sided, stock("105 g").two_sided) == ("paper", "auto", "auto")
    assert (stock("160 g").kind, stock("160 g").two_sided) == ("card", "by-hand")
    assert stock("120 g", kind="label").two_sided == "no"
    assert stock("160 g", **{"two-sided": "auto"}).two_sided == "auto"
    assert stock("160 g", caliper="0.2 mm").caliper_um == 200


def test_written_stocks_stand_beside_the_usual_ones():
    press = Press.model_validate({"stocks": {"card": {"weight": "200 g"}, "thick": {"weight": "250 g"}}})
    assert [stock.name for stock in press.stocks] == ["card", "thick", "plain", "heavy-card"]
    assert press.stock("card").weight_gsm == 200
    assert press.stock("none") is None
    assert Press().stocks == DEFAULT_STOCKS


def test_the_press_says_how_a_stock_is_printed_and_cut():
    press = Press()
    plain, card = (press.stock(name) for name in ("plain", "card"))
    assert (press.two_sided(plain), press.two_sided(card)) == ("long", "by-hand")
    assert (press.stack(plain), press.stack(card)) == (10, 5)
    by_hand = Press.model_validate({"printer": {"two-sided": "by-hand"}})
    assert by_hand.two_sided(plain) == "by-hand"
    assert press.two_sided(Stock(name=Placed("l"), weight_gsm=120, two_sided="no")) == "no"
    assert press.stack(Stock(name=Placed("c"), weight_gsm=160, stack=2)) == 2
