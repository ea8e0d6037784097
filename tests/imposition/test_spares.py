"""Room left on a sheet is filled with spares: taken in turn, with ids of their own, never in a piece's place."""

from __future__ import annotations

from dataclasses import replace

from kitbuilder.artwork.frame import Frame
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.stacking import SheetPlan, with_spares
from kitbuilder.packing.problem import Layout, Slot


def card(name: str) -> Flat:
    frame = Frame(10_000, 10_000, ())
    return Flat(name, name, "01-LC", "letter-card", 1, None, (0, 1), 1, "card", True, 10_000, 10_000, frame, None)


def test_blank_places_take_spares_in_turn_through_all_layouts() -> None:
    a, b = card("01-LC-1K"), card("01-LC-2M")
    slots = tuple(Slot(0, 10_000 * i, 0, 10_000, 10_000, False) for i in range(3))
    layout = Layout(2, slots, ())
    names = ("1", "2", "3")
    first = SheetPlan(layout, (), {(0, 0): a, (0, 1): b, (0, 2): None, (1, 0): None, (1, 1): None, (1, 2): None}, names)
    second = SheetPlan(Layout(1, slots[:1], ()), (), {(0, 0): None}, names[:1])
    filled = with_spares((first, second), [(a, b)])
    found = [flat for plan in filled for _, flat in sorted(plan.filled.items())]
    assert [f.id for f in found if f] == [
        "01-LC-1K", "01-LC-2M", "01-LC-1Ks1", "01-LC-2Ms1", "01-LC-1Ks2", "01-LC-2Ms2", "01-LC-1Ks3",
    ]  # fmt: skip
    assert [f.role for f in found if f] == ["piece"] * 2 + ["spare"] * 5
    assert {f.piece_id for f in found if f} == {"01-LC-1K", "01-LC-2M"}


def test_a_counted_set_gets_no_spares_and_its_places_stay_blank_where_nobody_else_wants_them() -> None:
    counted, card_beside = replace(card("01-PR-1K"), spares=False), card("01-LC-1K")
    alone = replace(counted, id="01-PR-2M", width_um=20_000)
    slots = (
        *(Slot(0, 10_000 * i, 0, 10_000, 10_000, False) for i in range(4)),
        Slot(1, 0, 10_000, 20_000, 10_000, False),
    )
    plan = SheetPlan(
        Layout(1, slots, ()),
        (),
        {(0, 0): counted, (0, 1): None, (0, 2): card_beside, (0, 3): None, (0, 4): None},
        tuple("12345"),
    )
    (filled,) = with_spares((plan,), [(counted, card_beside), (alone,)])
    found = [flat.id if flat else None for _, flat in sorted(filled.filled.items())]
    assert found == ["01-PR-1K", "01-LC-1Ks1", "01-LC-1K", "01-LC-1Ks2", None]


def test_no_spare_puts_a_back_on_a_sheet_that_has_none() -> None:
    one_sided = card("01-LC-1K")
    two_sided = replace(card("01-LC-2M"), back=one_sided.front)
    slots = tuple(Slot(0, 10_000 * i, 0, 10_000, 10_000, False) for i in range(3))
    filled = {(0, 0): two_sided, (0, 1): None, (0, 2): None, (1, 0): one_sided, (1, 1): None, (1, 2): None}
    (plan,) = with_spares((SheetPlan(Layout(2, slots, ()), (), filled, ("1", "2", "3")),), [(one_sided, two_sided)])
    assert [flat.id for _, flat in sorted(plan.filled.items()) if flat] == [
        "01-LC-2M", "01-LC-1Ks1", "01-LC-2Ms1", "01-LC-1K", "01-LC-1Ks2", "01-LC-1Ks3",
    ]  # fmt: skip
