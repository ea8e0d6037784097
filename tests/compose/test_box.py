"""The box holds enough tiles: every word a child can spell can be built, by every child at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.artwork.shipped import shipped
from kitbuilder.build import pieces_of, read_family
from kitbuilder.compose.box import missing_tiles, tiles_taught
from kitbuilder.compose.choices import Choices
from kitbuilder.compose.jobs import Wanted
from kitbuilder.compose.reading import family_reader
from kitbuilder.compose.tile_groups import tiles_of
from kitbuilder.diagnostics import ProblemLog, ProblemsFound
from kitbuilder.load.definitions import load_home
from kitbuilder.model.home import Home
from kitbuilder.request import Request


@pytest.fixture(scope="module")
def starter() -> tuple[Home, Choices]:
    home = load_home(shipped("units").parent)
    return home, Choices(home, family_reader(home, ProblemLog()).reader)


@pytest.mark.parametrize("builders", [1, 3])
def test_every_spellable_word_of_every_unit_can_be_built_from_the_box(
    starter: tuple[Home, Choices], builders: int
) -> None:
    home, choices = starter
    box: Counter[str] = Counter()
    for unit in home.units:
        for need in missing_tiles(home, choices, unit.unit, (2, builders)):
            assert need.count > 0
            box[need.text] += need.count
        taught = tiles_taught(home, unit.unit)
        words = choices.spellable(unit.unit)
        assert words
        for word, graphemes in words.items():
            tiles = Counter(tile for grapheme in graphemes for tile in tiles_of(grapheme, taught))
            short = {tile for tile, count in tiles.items() if box[tile] < count * builders}
            assert not short, f"unit {unit.unit}: {word} lacks {short}"


def test_vowels_and_common_consonants_come_in_twos(starter: tuple[Home, Choices]) -> None:
    home, choices = starter
    first = {need.text: need.count for need in missing_tiles(home, choices, 1, (2, 1))}
    assert first == {"n": 2, "o": 2, "d": 2, "i": 2}


def test_what_was_lost_is_made_again_and_what_is_extra_is_not(starter: tuple[Home, Choices]) -> None:
    from dataclasses import replace

    from kitbuilder.model.box import Box, BoxItem
    from kitbuilder.model.text import Placed

    home, choices = starter
    tile = Placed("letter-tile")
    box = Box(extra=(BoxItem(tile, Placed("g"), 1),), lost=(BoxItem(tile, Placed("d"), 1),))
    changed = replace(home, box=box)
    before = {need.text: need.count for need in missing_tiles(home, choices, 3, (2, 1))}
    after = {need.text: need.count for need in missing_tiles(changed, choices, 3, (2, 1))}
    assert "d" not in before
    assert after["d"] == 1
    assert after["g"] == before["g"] - 1


class TestBoxFile:
    """box.yaml corrects what the family is thought to own, and says so where it cannot."""

    def kinds_made(self, root: Path) -> list[tuple[str, str]]:
        read = read_family(Request(root), ProblemLog())
        wanted = Wanted(((read.home.unit(1), read.home.learners),), ("letter-card", "letter-tile"))
        return [(p.kind, p.title) for p in pieces_of(read, wanted, lambda name: None)]

    def test_a_card_the_family_has_already_is_not_made(self, family: Callable[..., Path]) -> None:
        root = family(box="extra:\n  letter-card: [d]\n")
        cards = [title for kind, title in self.kinds_made(root) if kind == "letter-card"]
        assert cards == ["n", "o", "i"]

    @pytest.mark.parametrize(
        ("box", "code"),
        [
            ("extra:\n  leter-card: [d]\n", "unknown-kind"),
            ("lost:\n  fluency-grid: [x]\n", "not-kept"),
            ("lost:\n  letter-tile: [zz]\n", "no-such-tile"),
            ("lost:\n  letter-card: [d]\n", "print-again"),
        ],
    )
    def test_an_entry_that_would_change_nothing_is_a_problem(
        self, family: Callable[..., Path], box: str, code: str
    ) -> None:
        with pytest.raises(ProblemsFound) as caught:
            self.kinds_made(family(box=box))
        (problem,) = caught.value.problems
        assert problem.code == code
        assert problem.location is not None
        assert problem.location.file == "units/box.yaml"
