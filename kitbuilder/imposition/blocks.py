"""Flats that shall share sheets, packed as blocks: blocks into the problem, slots and cuts out of its solution."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from kitbuilder.packing.problem import Cut, Layout, Part, Problem, Slot, Solution


@dataclass(frozen=True, slots=True)
class Block:
    """`across` x `down` flats of one size without room between them, wanted `demand` times."""

    across: int
    down: int
    demand: int

    @property
    def holds(self) -> int:
        """Flats in one block."""
        return self.across * self.down


def blocks_for(count: int, part: Part, width_um: int, height_um: int) -> Iterator[tuple[Block, ...]]:
    """Yield ways to hold so many flats in blocks that fit the area: whole sheets of them, and what is left over.

    The leftover block comes in all its shapes, compact ones first; none has room for a whole row more than it needs.
    """
    full = max(_grids(part, width_um, height_um), key=lambda grid: (grid[0] * grid[1], grid), default=(0, 0))
    if not full[0] * full[1]:
        return
    sheets, rest = divmod(count, full[0] * full[1])
    whole = (Block(*full, sheets),) if sheets else ()
    if not rest:
        yield whole
        return
    shapes = {(-(-rest // down), down) for down in range(1, rest + 1)}
    shapes = {(across, -(-rest // across)) for across, _ in shapes}
    for across, down in sorted(shapes, key=lambda s: (s[0] * s[1], _girth(part, *s), s)):
        if _fits(part, across, down, width_um, height_um):
            yield (*whole, Block(across, down, 1))


def _grids(part: Part, width_um: int, height_um: int) -> Iterator[tuple[int, int]]:
    yield width_um // part.width_um, height_um // part.height_um
    if part.may_turn:
        yield height_um // part.width_um, width_um // part.height_um


def _girth(part: Part, across: int, down: int) -> int:
    return across * part.width_um + down * part.height_um


def _fits(part: Part, across: int, down: int, width_um: int, height_um: int) -> bool:
    wide, high = across * part.width_um, down * part.height_um
    return (wide <= width_um and high <= height_um) or (part.may_turn and high <= width_um and wide <= height_um)


def with_blocks(problem: Problem, index: int, blocks: Sequence[Block]) -> Problem:
    """Return the problem with blocks, as parts behind the others, in place of that many flats of part `index`."""
    part = problem.parts[index]
    left = max(0, part.demand - sum(block.holds * block.demand for block in blocks))
    parts = [*problem.parts[:index], replace(part, demand=left), *problem.parts[index + 1 :]]
    parts += [Part(b.across * part.width_um, b.down * part.height_um, b.demand, part.may_turn) for b in blocks]
    return replace(problem, parts=tuple(parts))


def without_blocks(solution: Solution, index: int, blocks: Sequence[Block], parts: int) -> Solution:
    """Return the solution with every block cut into its flats; blocks are the parts from number `parts` on.

    The strokes it tells are those up to the blocks.
    """
    known = {parts + number: block for number, block in enumerate(blocks)}
    return replace(solution, layouts=tuple(_opened(layout, index, known) for layout in solution.layouts))


def _opened(layout: Layout, index: int, blocks: dict[int, Block]) -> Layout:
    stage = max((cut.stage for cut in layout.cuts), default=0)
    slots: list[Slot] = []
    cuts: list[Cut] = []
    for slot in layout.slots:
        block = blocks.get(slot.part)
        if block is None:
            slots.append(slot)
            continue
        across, down = (block.down, block.across) if slot.turned else (block.across, block.down)
        wide, high = slot.width_um // across, slot.height_um // down
        for row in range(down):
            for column in range(across):
                x, y = slot.x_um + column * wide, slot.y_um + row * high
                slots.append(Slot(index, x, y, wide, high, slot.turned))
        bottom = slot.y_um + slot.height_um
        cuts += [Cut("x", slot.x_um + i * wide, slot.y_um, bottom, stage + 1) for i in range(1, across)]
        for start in range(slot.x_um, slot.x_um + slot.width_um, wide):
            cuts += [Cut("y", slot.y_um + i * high, start, start + wide, stage + 2) for i in range(1, down)]
    return Layout(layout.copies, tuple(slots), (*layout.cuts, *sorted(cuts, key=lambda cut: cut.stage)))
