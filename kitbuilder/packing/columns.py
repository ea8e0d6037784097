"""The pool filled by column generation: a linear program asks, pricing answers until nothing pays."""

from dataclasses import dataclass

from kitbuilder.packing.master import SheetProgram
from kitbuilder.packing.pool import Pool
from kitbuilder.packing.pricing import Pricer

ANSWERS = 3  # patterns taken from one pricing: more fill the pool faster, beyond three the program only grows
ROUNDS = 400


@dataclass(frozen=True, slots=True)
class Relaxed:
    """Outcome of column generation: a proved bound, the program's value, its duals, whether it finished, its copies."""

    bound: int
    value: float
    duals: tuple[float, ...]
    finished: bool
    copies: dict[tuple[int, ...], float]


def scale_of(sizes: int) -> int:
    """What one sheet is worth in whole numbers: as fine as 32 bits allow when every size is worth up to a sheet."""
    return min(10_000_000, 2**30 // (sizes + 4))


def generate(pool: Pool, stages: int, rounds: int = ROUNDS) -> Relaxed:
    """Fills the pool with patterns of so many stages and returns what that proves.

    The bound is Farley's (1990): total value of all demands over the value of the best pattern, at any values; here it
    is computed in whole numbers, so no rounding of the linear program enters it. It is 1 where pricing is not exact.
    Stops when the bound has reached the program's value rounded up, or no pattern is worth more than a sheet, or after
    so many rounds.
    """
    job = pool.job
    demands, one = job.demands, scale_of(len(job.demands))
    pricers = [Pricer(frame, stages) for frame in job.frames]
    program = SheetProgram(demands)
    order = list(pool.entries)
    for counts in order:
        program.add(counts)
    bound, exact = 1, all(pricer.exact for pricer in pricers)
    for _ in range(rounds if exact else rounds // 10):
        value, duals, copies = program.solved()
        worth = [max(0, int(dual * one)) for dual in duals]
        answers = [(pricer, priced) for pricer in pricers for priced in pricer.best(worth, ANSWERS)]
        most = max((priced.worth for _, priced in answers), default=one)
        total = sum(demand * each for demand, each in zip(demands, worth, strict=True))
        if exact:
            bound = max(bound, -(-total // max(most, 1)))
        fresh = [pool.add(pricer.frame, priced.pattern) for pricer, priced in answers if priced.worth > one]
        added = [entry for entry in fresh if entry is not None]
        finished = not added
        if finished or bound >= value - 1e-6:
            break
        for entry in added:
            order.append(entry.counts)
            program.add(entry.counts)
    return Relaxed(bound, value, tuple(duals), finished, dict(zip(order, copies, strict=False)))
