"""A layout's cuts as numbered strokes a person can follow: which strip, which way round, where the edge stop stands.

The stop stands on the left of the blade. A strip lies with its straight edge against the stop and is cut from the far
end towards it, so every cut is measured from the same edge and errors do not add up. Strips of one size with the same
cuts are laid side by side under the blade as far as it reaches. Common practice at a trimmer, no source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from kitbuilder.imposition.sheets import Stroke
from kitbuilder.packing.problem import Layout
from kitbuilder.packing.strokes import Strip, side_by_side, strip_tree, strips_with_cuts


def plan_cuts(
    layout: Layout, sheet_width_um: int, sheet_height_um: int, blade_um: int | None = None
) -> tuple[Stroke, ...]:
    """Return the strokes in cutting order, numbered from 1; lines cut in one stroke share its number.

    The layout lies on the whole paper (0, 0) to (width, height). Each stage is finished before the next and is one
    sweep of the stop from far to near. A strip that begins with waste is first cut at that end, turned half round:
    that gives the straight edge everything else is measured from; elsewhere the paper's own edge serves. `turn`
    counts quarter turns counter-clockwise since the strip came off the blade. `blade_um` None: as long as the paper.
    """
    blade = max(sheet_width_um, sheet_height_um) if blade_um is None else blade_um
    root = strip_tree(layout.cuts, (0, sheet_width_um), (0, sheet_height_um))
    names = strip_names(root)
    passes = [move for batch in batches(root, layout, blade) for move in batch.moves()]
    passes.sort(key=lambda move: (move.batch.depth, not move.trims, -move.fence_um, move.batch.place))
    lies = lie_of(root, layout)
    lines: list[Stroke] = []
    for number, move in enumerate(passes, 1):
        strips = move.batch.strips
        text = joined([names[strip] for strip in strips])
        turn = (move.lie - lies[strips[0]]) % 4
        for strip in strips:
            lies[strip] = move.lie
            at = strip.along[0] + move.at_um
            low, high = strip.y if strip.axis == "x" else strip.x
            line = (strip.axis or "x", at, low, high, strip.depth + 1, move.fence_um, turn, text, len(strips))
            lines.append(Stroke(number, *line))
    return tuple(lines)


@dataclass(frozen=True, slots=True)
class Batch:
    """Equal strips side by side under the blade; `lead`: they begin with waste, which is cut off first."""

    strips: tuple[Strip, ...]
    lead: bool

    @property
    def depth(self) -> int:
        """Stage less one."""
        return self.strips[0].depth

    @property
    def place(self) -> tuple[int, int]:
        """Where the first strip lies, to order batches by."""
        return self.strips[0].y[0], self.strips[0].x[0]

    def moves(self) -> Iterator[Move]:
        """The strokes of the batch, waste at the near end first, then from far to near."""
        strip = self.strips[0]
        start, end = strip.along
        forward = 0 if strip.axis == "x" else 1
        straight = strip.at[0] if self.lead else start
        if self.lead:
            yield Move(self, True, straight - start, end - straight, forward + 2)
        for at in reversed(strip.at):
            if at != straight:
                yield Move(self, False, at - start, at - straight, forward)


@dataclass(frozen=True, slots=True)
class Move:
    """One stroke of a batch: where from the strip's start, what the stop is set to, how the strip lies."""

    batch: Batch
    trims: bool
    at_um: int
    fence_um: int
    lie: int


def batches(root: Strip, layout: Layout, blade_um: int) -> Iterator[Batch]:
    """Strips with cuts, those of one depth and shape together, as many at once as the blade takes."""
    alike: dict[tuple[object, ...], list[Strip]] = defaultdict(list)
    for strip in strips_with_cuts(root):
        alike[strip.depth, strip.shape, begins_with_waste(strip, layout)].append(strip)
    for (_, _, lead), strips in alike.items():
        many = side_by_side(strips[0], blade_um)
        for start in range(0, len(strips), many):
            yield Batch(tuple(strips[start : start + many]), bool(lead))


def begins_with_waste(strip: Strip, layout: Layout) -> bool:
    """Whether no flat lies in the strip before its first cut."""
    first = strip.strips[0]
    return not any(
        first.x[0] <= slot.x_um < first.x[1] and first.y[0] <= slot.y_um < first.y[1] for slot in layout.slots
    )


def lie_of(root: Strip, layout: Layout) -> dict[Strip, int]:
    """Quarter turns with which each strip comes off the blade: as its parent last lay; the sheet starts unturned."""
    lies = {root: 0}
    for strip in strips_with_cuts(root):
        turned = 0 if strip.axis == "x" else 1
        last = turned + 2 if len(strip.at) == 1 and begins_with_waste(strip, layout) else turned
        for part in strip.strips:
            lies[part] = last
    return lies


def strip_names(root: Strip) -> dict[Strip, str]:
    """ "whole sheet", then "strip A", "strip B", ... for every strip that is cut further, stage by stage."""
    later = sorted(strips_with_cuts(root), key=lambda strip: (strip.depth, strip.y[0], strip.x[0]))
    names = {later[0]: "whole sheet"} if later else {}
    return names | {strip: f"strip {letters(number)}" for number, strip in enumerate(later[1:])}


def letters(number: int) -> str:
    """A to Z, then AA, AB, ...; number from 0."""
    text = ""
    while number >= 0:
        text = chr(ord("A") + number % 26) + text
        number = number // 26 - 1
    return text


def joined(names: Iterable[str]) -> str:
    """One name, or "strips A, B and C"."""
    known = list(names)
    if len(known) == 1:
        return known[0]
    short = [name.removeprefix("strip ") for name in known]
    return f"strips {', '.join(short[:-1])} and {short[-1]}"
