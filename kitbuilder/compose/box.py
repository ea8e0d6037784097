"""What the family owns: a pure fold over the sequence from its first unit, corrected by box.yaml.

Never over what was printed: a pack that is made twice is the same twice. A family that starts in the middle of the
sequence makes the earlier units' durable sets once (`--durable`), as if they had been there all along.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from kitbuilder.compose.choices import Choices
from kitbuilder.compose.jobs import unknown_kind
from kitbuilder.compose.palette import GROUPS
from kitbuilder.compose.tile_groups import group_of
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.model.home import Home
from kitbuilder.model.templates import KindTemplate

COMMON_CONSONANTS = frozenset("bdfglmnprst")  # two of each are worth having at once (common practice, no source)
TILE_KIND = "letter-tile"
Rule = tuple[int, int]  # at least so many of each vowel and common consonant; children building at once


@dataclass(frozen=True, slots=True)
class TileNeed:
    """How many tiles of one grapheme are to be made."""

    text: str
    group: str
    count: int


def owned_beside(home: Home) -> Counter[tuple[str, str]]:
    """Return what box.yaml calls extra, by kind and text, tiles left out: those are counted with what is needed."""
    found: Counter[tuple[str, str]] = Counter()
    for item in home.box.extra:
        if item.kind != TILE_KIND:
            found[str(item.kind), str(item.text)] += item.copies
    return found


def check_box(home: Home, kinds: Mapping[str, KindTemplate], log: ProblemLog) -> None:
    """Note entries of box.yaml that would change nothing: kinds not kept, tiles never taught, cards to print again."""
    tiles = tiles_taught(home, home.units[-1].unit) if home.units else frozenset()
    for gone, items in ((False, home.box.extra), (True, home.box.lost), (True, home.box.passed_on)):
        for item in items:
            kind = kinds.get(str(item.kind))
            if kind is None:
                unknown_kind(item.kind, kinds, log)
            elif not kind.durable:
                log.add(
                    f"a {kind.name} is used up, so it is not in the box",
                    "not-kept",
                    "box.yaml is for what is kept: cards, tiles, games",
                    item.kind.location,
                )
            elif item.kind == TILE_KIND and item.text not in tiles:
                log.add(
                    f"no unit teaches a tile {str(item.text)!r}",
                    "no-such-tile",
                    "write the letters as a unit teaches them",
                    item.text.location,
                )
            elif gone and item.kind != TILE_KIND:
                log.add(
                    f"a lost {kind.name} is printed again from its pack, not noted here",
                    "print-again",
                    f"kitbuilder reprint out/week-NN --only {kind.name} --saying {item.text}",
                    item.text.location,
                )


def tiles_needed(home: Home, choices: Choices, unit_number: int, rule: Rule) -> Mapping[str, int]:
    """Return how many tiles of each grapheme must lie in the box at a unit.

    Enough for every child at the table to build any word it can spell by now, and at least `rule[0]` of each vowel and
    common consonant. A suffix is a tile of its own.
    """
    least, builders = rule
    taught = tiles_taught(home, unit_number)
    needed = {t: least if group_of(t) == "vowel" or t in COMMON_CONSONANTS else 1 for t in taught}
    for tile, count in choices.repeats(unit_number, taught).items():
        needed[tile] = max(needed.get(tile, 0), count)
    return {tile: count * builders for tile, count in needed.items()}


def tiles_taught(home: Home, unit_number: int) -> frozenset[str]:
    """Return every tile that a unit up to this one brings; a split digraph brings its two letters."""
    found: set[str] = set()
    for unit in home.units:
        if unit.unit <= unit_number:
            for teach in unit.teach:
                found.update(part for part in str(teach.grapheme).split("_") if part)
            found.update(str(suffix) for suffix in unit.suffixes)
    return frozenset(found)


def missing_tiles(home: Home, choices: Choices, unit_number: int, rule: Rule) -> tuple[TileNeed, ...]:
    """Return the tiles to make for a unit: what it needs, less what the units before it put into the box.

    What box.yaml calls lost or passed on is made again, what it calls extra is not made, with the unit that needs it.
    """
    owned: dict[str, int] = {}
    earlier = [unit.unit for unit in home.units if unit.unit < unit_number]
    if earlier:
        # needs only grow: the last unit before this one needed everything the units before it had made
        owned = dict(tiles_needed(home, choices, earlier[-1], rule))
    for sign, items in ((1, home.box.extra), (-1, home.box.lost), (-1, home.box.passed_on)):
        for item in items:
            if item.kind == TILE_KIND:
                text = str(item.text)
                owned[text] = owned.get(text, 0) + sign * item.copies
    rank = {group: i for i, group in enumerate(GROUPS)}
    found = [
        TileNeed(text, group_of(text), count - owned.get(text, 0))
        for text, count in tiles_needed(home, choices, unit_number, rule).items()
        if count > owned.get(text, 0)
    ]
    return tuple(sorted(found, key=lambda need: (rank[need.group], need.text)))
