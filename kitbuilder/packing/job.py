"""Problem to Job: size classes on a coarser exact grid, seen in the two directions of the first cut."""

from dataclasses import dataclass
from math import gcd
from typing import Literal

from kitbuilder.packing.problem import (
    BladeTooShortError,
    Part,
    PartTooLargeError,
    Problem,
    StackError,
    ZeroSizeError,
    size_text,
)

First = Literal["h", "v"]


@dataclass(frozen=True, slots=True)
class Item:
    """One way a size class may lie; lengths in grid steps, gutter included, in the frame's own directions."""

    size: int
    width: int
    height: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Frame:
    """The sheet seen so that first cuts run along `width`: "h" as it lies, "v" with x and y exchanged.

    `tallest` is the height up to which a band may be cut into columns (the blade's limit); a taller band holds one
    column as wide as the sheet. Items that no blade could free in this direction are left out (`usable`).
    """

    first: First
    width: int
    height: int
    tallest: int
    items: tuple[Item, ...]
    usable: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Job:
    """Size classes (first part of each class, parts of each class, demand) and the frames they may be packed in."""

    problem: Problem
    parts_of: tuple[tuple[int, ...], ...]
    demands: tuple[int, ...]
    grid_x: int
    grid_y: int
    frames: tuple[Frame, ...]


def job_of(problem: Problem) -> Job:
    """The checked problem as size classes; parts of demand 0 are left out.

    Raises: the PackingError that says what is wrong with the first wrong part, or with the sheet, gutter or stack.
    """
    check_numbers(problem)
    groups: dict[tuple[int, int, bool], list[int]] = {}
    for index, part in enumerate(problem.parts):
        check_fits(problem, index, part)
        if part.demand:
            groups.setdefault(size_key(part), []).append(index)
    keys = sorted(groups, key=lambda key: (-key[0] * key[1], key))
    gutter = problem.gutter_um
    grid_x, grid_y = grids(keys, gutter)
    items: list[Item] = []
    for size, (width, height, may_turn) in enumerate(keys):
        items.append(Item(size, (width + gutter) // grid_x, (height + gutter) // grid_y, False))
        if may_turn and width != height:
            items.append(Item(size, (height + gutter) // grid_x, (width + gutter) // grid_y, True))
    parts_of = tuple(tuple(groups[key]) for key in keys)
    demands = tuple(sum(problem.parts[i].demand for i in group) for group in parts_of)
    frames = tuple(frame_of(problem, items, first, grid_x, grid_y) for first in ("h", "v"))
    job = Job(problem, parts_of, demands, grid_x, grid_y, tuple(frame for frame in frames if frame.usable))
    check_blade(job)
    return job


def size_key(part: Part) -> tuple[int, int, bool]:
    """Width, height and may-turn; a part that may turn is taken with its longer side first, a square never turns."""
    if part.may_turn and part.width_um < part.height_um:
        return part.height_um, part.width_um, True
    return part.width_um, part.height_um, part.may_turn and part.width_um != part.height_um


def grids(keys: list[tuple[int, int, bool]], gutter: int) -> tuple[int, int]:
    """The coarsest grid of either axis on which every inflated size lies exactly; the sheet need not lie on it."""
    across, down = 0, 0
    for width, height, may_turn in keys:
        across, down = gcd(across, width + gutter), gcd(down, height + gutter)
        if may_turn:
            across, down = gcd(across, height + gutter), gcd(down, width + gutter)
    return max(across, 1), max(down, 1)


def check_numbers(problem: Problem) -> None:
    """Nothing; raises when sheet, gutter, blade, stack, demand or size is not a number to work with."""
    if problem.sheet_width_um <= 0 or problem.sheet_height_um <= 0:
        raise ZeroSizeError(
            f"the sheet is {size_text(problem.sheet_width_um, problem.sheet_height_um)}: it has no area"
        )
    if problem.gutter_um < 0 or problem.extra_sheets < 0:
        raise ZeroSizeError("the gutter and the number of extra sheets must not be negative")
    waste = problem.waste
    if min(waste.left_um, waste.top_um, waste.right_um, waste.bottom_um) < 0:
        raise ZeroSizeError("the waste around the sheet must not be negative")
    if problem.stack < 1:
        raise StackError(f"a stack of {problem.stack} sheets cannot be cut: it needs at least 1")
    if problem.blade_um is not None and problem.blade_um <= 0:
        raise ZeroSizeError(f"a blade of {problem.blade_um / 1000:.7g} mm cuts nothing")


def check_fits(problem: Problem, index: int, part: Part) -> None:
    """Nothing; raises when the part has no area or is larger than the sheet."""
    if part.width_um <= 0 or part.height_um <= 0:
        raise ZeroSizeError(f"part {index} is {size_text(part.width_um, part.height_um)}: it has no area", index)
    if part.demand < 0:
        raise ZeroSizeError(f"part {index} is wanted {part.demand} times", index)
    ways = [(part.width_um, part.height_um)]
    if part.may_turn:
        ways.append((part.height_um, part.width_um))
    over = [(max(0, w - problem.sheet_width_um), max(0, h - problem.sheet_height_um)) for w, h in ways]
    width, height = min(over, key=sum)
    if width or height:
        raise PartTooLargeError(
            f"part {index} ({size_text(part.width_um, part.height_um)}) is larger than the sheet "
            f"({size_text(problem.sheet_width_um, problem.sheet_height_um)}) by {size_text(width, height)}",
            index,
            width,
            height,
        )


def blade_of(problem: Problem) -> int:
    """The longest cut in micrometres: the given blade, else the longer side of the paper."""
    return problem.blade_um if problem.blade_um is not None else max(paper_of(problem))


def paper_of(problem: Problem) -> tuple[int, int]:
    """Width and height of the sheet with the waste around it."""
    waste = problem.waste
    return (
        problem.sheet_width_um + waste.left_um + waste.right_um,
        problem.sheet_height_um + waste.top_um + waste.bottom_um,
    )


def frame_of(problem: Problem, items: list[Item], first: First, grid_x: int, grid_y: int) -> Frame:
    """The frame for one direction of the first cut, with the items the blade can free in it."""
    gutter, waste = problem.gutter_um, problem.waste
    width, height = (problem.sheet_width_um + gutter) // grid_x, (problem.sheet_height_um + gutter) // grid_y
    paper, wasted = paper_of(problem)[0], bool(waste.left_um or waste.right_um)
    step, whole = grid_y, problem.sheet_width_um
    own = list(items)
    if first == "v":
        own = [Item(item.size, item.height, item.width, item.turned) for item in items]
        width, height = height, width
        paper, wasted = paper_of(problem)[1], bool(waste.top_um or waste.bottom_um)
        step, whole = grid_x, problem.sheet_height_um
    unit = grid_x if first == "h" else grid_y
    blade = blade_of(problem)
    tallest = min(height, (blade + gutter) // step)
    crossable = paper <= blade
    sheet_tall = problem.sheet_height_um if first == "h" else problem.sheet_width_um
    uncut = paper_of(problem) == (problem.sheet_width_um, problem.sheet_height_um)
    usable = []
    for index, item in enumerate(own):
        if item.width > width or item.height > height:
            continue
        full = item.width * unit - gutter == whole and not wasted
        covers = full and uncut and item.height * step - gutter == sheet_tall
        if covers or (crossable and (item.height <= tallest or full)):
            usable.append(index)
    return Frame(first, width, height, tallest if crossable else 0, tuple(own), tuple(usable))


def check_blade(job: Job) -> None:
    """Nothing; raises when some size can be freed in no frame."""
    reached = {frame.items[i].size for frame in job.frames for i in frame.usable}
    for size, group in enumerate(job.parts_of):
        if size not in reached:
            blade = blade_of(job.problem)
            short = min(paper_of(job.problem)) - blade
            part = job.problem.parts[group[0]]
            if short <= 0:
                short = min(part.width_um, part.height_um) - blade
            raise BladeTooShortError(
                f"a blade of {blade / 1000:.7g} mm is too short to free part {group[0]} "
                f"({size_text(part.width_um, part.height_um)})",
                group[0],
                max(short, 1),
            )
