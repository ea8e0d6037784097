"""The family's press in the plain numbers that layouts and backs need."""

from __future__ import annotations

from kitbuilder.diagnostics import stop
from kitbuilder.imposition.by_hand import ByHandProfile, backs_two_sided
from kitbuilder.imposition.labels import label_places
from kitbuilder.imposition.place import StockPlan, Workplace
from kitbuilder.imposition.print_files import BackRules
from kitbuilder.imposition.registration import BackOffset
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.model.press import Press
from kitbuilder.model.stock import Stock

_SIDES = {"long": TwoSided.LONG, "short": TwoSided.SHORT, "by-hand": TwoSided.BY_HAND, "no": TwoSided.NO}


def workplace_of(press: Press, seed: int) -> Workplace:
    """Return sheet, printer edges, blade and stocks; thin stocks first, since they are printed first."""
    stocks = sorted(press.stocks, key=lambda s: (s.weight_gsm, str(s.name)))
    return Workplace(
        paper=press.paper.strip().lower(),  # a name has one spelling in what is written
        width_um=press.size.width.um,
        height_um=press.size.height.um,
        edges=press.printer.edges,
        blade_um=press.trimmer.blade.um,
        stocks={str(s.name): _stock_plan(s, press) for s in stocks},
        spares=press.spare_slots == "spares",
        few_strokes=press.prefer == "few-strokes",
        seed=seed,
        by_hand_axis=backs_two_sided(profile_of(press)),
    )


def _stock_plan(stock: Stock, press: Press) -> StockPlan:
    labels = label_places(stock.labels) if stock.labels else ()
    return StockPlan(str(stock.name), _SIDES[press.two_sided(stock)], press.stack(stock), labels)


def profile_of(press: Press) -> ByHandProfile:
    """Return how this printer treats a pile that is put back."""
    hand = press.printer.by_hand
    return ByHandProfile(hand.face, hand.reversed_order, hand.turned, hand.flip, hand.tray_face)


def back_rules(press: Press) -> BackRules:
    """Return how backs come to lie behind fronts; an offset too large to be one is a problem."""
    right, down = press.printer.back_offset_um
    try:
        return BackRules(BackOffset(right, down), profile_of(press))
    except ValueError as error:
        raise stop(str(error), "back-offset", "measure again with: kitbuilder calibrate") from None


def print_scale_ppm(press: Press) -> int:
    """Return how much to stretch the drawing so that a printer which shrinks it prints true size."""
    return round(1_000_000 * 1_000_000 / press.printer.scale_ppm)
