"""The page is for everyone: axe-core's rules (WCAG 2.2 AA and best practices) hold in every state and size."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

LOOKS = {
    "light": {},
    "dark": {"dark": True},
    "phone": {"width": 390, "height": 844},
    "dark phone": {"width": 390, "height": 844, "dark": True},
}


@pytest.mark.parametrize("look", LOOKS)
def test_nothing_is_in_the_way_of_anyone(reader: Any, shown: Any, look: str) -> None:
    reader.open(shown.page, calm=True, **LOOKS[look])
    assert reader.violations() == []


@pytest.mark.parametrize("look", ["light", "dark phone"])
def test_nor_when_everything_is_open_and_ticked(reader: Any, shown: Any, look: str) -> None:
    reader.open(shown.page, calm=True, **LOOKS[look])
    reader.run(
        """
        for (const details of document.querySelectorAll('details:not(#layers)')) details.open = true;
        const slider = [...document.querySelectorAll('.player input')].at(-1);
        slider.value = 3;
        slider.dispatchEvent(new Event('input'));
        document.querySelector('[data-set]').click();
        document.querySelector('.play').click();
        """
    )
    reader.until("document.querySelector('.tick input') !== null")
    assert reader.violations() == []


@pytest.mark.parametrize("look", ["dark", "phone"])
def test_nor_while_searching_or_choosing_layers(reader: Any, shown: Any, look: str) -> None:
    reader.open(shown.page, calm=True, **LOOKS[look])
    reader.one("#search").send_keys("g")
    assert reader.one("#results").is_displayed()
    assert reader.violations() == []
    reader.one("#layers summary").click()
    assert reader.violations() == []


def test_axe_is_awake(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    reader.run("document.querySelector('#search').labels[0].remove(); document.body.style.color = '#bbb'")
    found = " ".join(reader.violations())
    assert "color-contrast" in found


def test_every_control_has_a_name_and_sheets_tell_what_they_hold(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    nameless = reader.run(
        """
        return [...document.querySelectorAll('button, input, textarea, summary')]
          .filter((e) => !(e.getAttribute('aria-label') || e.textContent.trim() || e.labels?.[0]?.textContent.trim()))
          .map((e) => e.outerHTML.slice(0, 80));
        """
    )
    assert nameless == []
    strip = shown.pieces("sentence-strip")[0]
    told = [paper.get_attribute("aria-label") for paper in reader.all(".front .paper")]
    assert any(strip["text"]["front"][0] in label for label in told)


def test_headings_go_down_one_step_at_a_time(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    levels = [
        int(tag[1])
        for tag in reader.run("return [...document.querySelectorAll('h1,h2,h3,h4,h5')].map((h) => h.tagName)")
    ]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
