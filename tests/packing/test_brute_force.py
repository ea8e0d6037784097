"""On sheets of a few cells every three-stage layout can be listed: pricing, bounds and answers are held against it."""

from functools import cache
from random import Random

import pytest

from kitbuilder.packing.bounds import any_layout_bound
from kitbuilder.packing.columns import generate
from kitbuilder.packing.job import Frame, Job, job_of
from kitbuilder.packing.pool import Pool
from kitbuilder.packing.pricing import Pricer, normal_positions
from kitbuilder.packing.problem import Part, Problem
from kitbuilder.packing.sheets import add_single_sizes
from kitbuilder.packing.solve import solve

Counts = tuple[int, ...]


def tiny(seed: int) -> Problem:
    """A sheet of at most 7 by 7 and two or three sizes, some of which may turn."""
    chance = Random(seed)
    width, height = chance.randint(3, 7), chance.randint(3, 7)
    side = min(width, height)
    parts = tuple(
        Part(chance.randint(1, side), chance.randint(1, side), chance.randint(1, 3), chance.random() < 0.5)
        for _ in range(chance.randint(2, 3))
    )
    return Problem(width, height, parts)


def sums(options: list[tuple[int, Counts]], room: int, most: Counts) -> set[Counts]:
    """Every yield of options (length, yield) laid one after the other in so much room, no more than `most`."""

    @cache
    def fill(left: int) -> frozenset[Counts]:
        found = {tuple(0 for _ in most)}
        for length, gain in options:
            if length <= left:
                found |= {tuple(a + b for a, b in zip(gain, rest, strict=True)) for rest in fill(left - length)}
        return frozenset(counts for counts in found if all(a <= b for a, b in zip(counts, most, strict=True)))

    return set(fill(room))


def every_yield(frame: Frame, most: Counts) -> set[Counts]:
    """What every three-stage pattern of the frame yields, listed without dynamic programming on values."""
    unit = [tuple(int(s == size) for s in range(len(most))) for size in range(len(most))]
    bands: list[tuple[int, Counts]] = []
    for height in range(1, frame.height + 1):
        columns: list[tuple[int, Counts]] = []
        for width in sorted({item.width for item in frame.items}):
            inside = [(item.height, unit[item.size]) for item in frame.items if item.width <= width]
            columns += [(width, gain) for gain in sums(inside, height, most) if any(gain)]
        bands += [(height, gain) for gain in sums(columns, frame.width, most) if any(gain)]
    return sums(bands, frame.height, most)


def fewest_by_listing(job: Job) -> int:
    """The fewest three-stage sheets, by breadth-first search over what is left."""
    yields = set().union(*(every_yield(frame, job.demands) for frame in job.frames))
    left, sheets = {job.demands}, 0
    while tuple(0 for _ in job.demands) not in left:
        left = {tuple(max(0, a - b) for a, b in zip(have, gain, strict=True)) for have in left for gain in yields}
        sheets += 1
    return sheets


@pytest.mark.parametrize("seed", range(30))
def test_answer_is_the_fewest_sheets_and_no_bound_is_above_it(seed: int) -> None:
    problem = tiny(seed)
    job = job_of(problem)
    fewest = fewest_by_listing(job)
    pool = Pool(job)
    add_single_sizes(pool)
    assert generate(pool, 3).bound <= fewest
    assert any_layout_bound(job) <= fewest
    solution = solve(problem)
    assert solution.lower_bound <= fewest
    assert solution.sheets == fewest


@pytest.mark.parametrize("seed", range(12))
def test_pricing_finds_the_pattern_worth_most(seed: int) -> None:
    job = job_of(tiny(seed))
    chance = Random(seed)
    values = [chance.randint(0, 50) for _ in job.demands]
    area = job.problem.sheet_width_um * job.problem.sheet_height_um
    for frame in job.frames:
        listed = every_yield(frame, tuple(min(area, 6) for _ in job.demands))
        worth = max(sum(n * v for n, v in zip(counts, values, strict=True)) for counts in listed)
        found = Pricer(frame, 3).best(values, 3)
        assert (found[0].worth if found else 0) >= worth
        assert len({priced.pattern for priced in found}) == len(found)


@pytest.mark.parametrize(("lengths", "room"), [((3, 5), 17), ((4,), 3), ((2, 7, 9), 40), ((620, 870, 380), 2870)])
def test_normal_positions_are_the_sums_of_lengths(lengths: tuple[int, ...], room: int) -> None:
    reach = {0}
    for at in range(room + 1):
        reach |= {at + length for length in lengths if at in reach and at + length <= room}
    assert normal_positions(lengths, room).tolist() == sorted(reach)


def test_bound_by_halves_sees_what_area_does_not() -> None:
    """Pieces just over half as wide and high as the sheet: one to a sheet, though four sheets' area would hold more."""
    job = job_of(Problem(100, 100, (Part(51, 51, 8),)))
    assert any_layout_bound(job) == 8
