"""Models made by programmes, as tests and other rooms make them: by their Python names."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.measure.geometry import Insets
from kitbuilder.measure.length import mm
from kitbuilder.model.box import Box, BoxItem
from kitbuilder.model.home import Home, number_ranges
from kitbuilder.model.learners import Learner
from kitbuilder.model.press import Press, Printer
from kitbuilder.model.sequence import Sequence
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Booklet, BookletPage, Material, Unit


def test_a_unit_can_be_made_from_plain_texts():
    unit = Unit(
        unit=1,
        teach=("d as in desk",),
        booklets=(Booklet(title="Dot", pages=("Dot can nod.", BookletPage(text="Nod.", picture="otter"))),),
        materials=(("letter-card", Material(count=2)), ("booklet", Material(none=True))),
        spelling_rules=("doubling",),
    )
    assert unit.teach[0].grapheme == "d"
    assert isinstance(unit.teach[0].grapheme, Placed)
    assert [page.text for page in unit.booklets[0].pages] == ["Dot can nod.", "Nod."]
    assert [(kind, material.none, material.count) for kind, material in unit.materials] == [
        ("letter-card", False, 2),
        ("booklet", True, None),
    ]


def test_models_do_not_change():
    with pytest.raises(ValidationError):
        Unit(unit=1).unit = 2


def test_a_name_that_no_model_knows_is_refused():
    with pytest.raises(ValidationError):
        Unit(unit=1, colour="red")


def test_a_press_can_be_made_from_ready_values():
    press = Press(paper="letter", printer=Printer(edges=Insets.even(mm(4)), back_offset_um=(100, -200)))
    assert press.printer.edges == Insets.even(mm(4))
    assert press.printer.back_offset_um == (100, -200)
    assert (press.size.width.um, press.size.height.um) == (215_900, 279_400), "ANSI/ASME Y14.1, size A: 8.5 x 11 in"
    assert Press(paper="210 mm x 297 mm").size == Press().size, "ISO 216, A4"


def test_what_the_box_holds_is_counted():
    box = Box.model_validate({"extra": {"letter-card": ["d", "a x 2", "x", "x × 3"]}})
    assert box.extra == (
        BoxItem("letter-card", "d", 1),
        BoxItem("letter-card", "a", 2),
        BoxItem("letter-card", "x", 1),
        BoxItem("letter-card", "x", 3),
    )
    assert Box(lost=(BoxItem(Placed("letter-tile"), Placed("s"), 1),)).lost[0].copies == 1


def test_a_home_finds_its_units_and_learners():
    home = Home("x", Sequence(), (Unit(unit=1), Unit(unit=3)), (Learner(code="wren", at=1),))
    assert home.unit(3).unit == 3
    assert home.learner("wren").at == 1
    with pytest.raises(ProblemsFound, match="no unit 2"):
        home.unit(2)


def test_numbers_are_told_as_runs():
    assert number_ranges((1, 2, 3, 5, 9, 8)) == "1 to 3, 5, 8 to 9"
    assert number_ranges(()) == ""
