"""What the family owns: a pure fold over the sequence from the earliest learner's first unit, corrected by box.yaml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kitbuilder.compose.palette import GROUPS
from kitbuilder.compose.tile_groups import group_of
from kitbuilder.model.home import Home
from kitbuilder.model.unit import Unit

COMMON_CONSONANTS = frozenset("bdfglmnprst")  # two of each are worth having at once (common practice, no source)


@dataclass(frozen=True, slots=True)
class TileNeed:
    """How many tiles of one grapheme are to be made."""

    text: str
    group: str
    count: int


def tiles_needed(unit: Unit, least: int) -> Mapping[str, int]:
    """Return how many tiles of each grapheme must lie in the box once this unit is taught."""
    needed: dict[str, int] = {}
    for teach in unit.teach:
        text = str(teach.grapheme)
        group = group_of(text)
        several = group == "vowel" or text in COMMON_CONSONANTS
        needed[text] = max(needed.get(text, 0), least if several else 1)
    for suffix in unit.suffixes:
        needed[str(suffix)] = 1
    return needed


def missing_tiles(home: Home, unit_number: int, least: int) -> tuple[TileNeed, ...]:
    """Return the tiles to make for a unit: what it needs, less what the units before it put into the box."""
    owned: dict[str, int] = {}
    for earlier in home.units:
        if earlier.unit >= unit_number:
            break
        for text, count in tiles_needed(earlier, least).items():
            owned[text] = max(owned.get(text, 0), count)
    needed = tiles_needed(home.unit(unit_number), least)
    rank = {group: i for i, group in enumerate(GROUPS)}
    found = [
        TileNeed(text, group_of(text), count - owned.get(text, 0))
        for text, count in needed.items()
        if count > owned.get(text, 0)
    ]
    return tuple(sorted(found, key=lambda need: (rank[need.group], need.text)))
