"""What HiGHS solves over a pool of patterns: sheets as a linear program, sheets and strokes as integer programs.

Limits are branch-and-bound nodes, not seconds: they are the same on every machine.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np

Counts = tuple[int, ...]


class QuietHighs(highspy.Highs):
    """HiGHS without its callbacks: setting them up prints a banner to stdout, where answers in JSON are expected."""

    def enableCallbacks(self) -> None:  # noqa: N802 - the library's own name
        """Nothing; called by the library while it starts."""
        self.setOptionValue("output_flag", False)


def quiet_highs() -> highspy.Highs:
    """A HiGHS that says nothing, uses one thread and stops at no gap: same input, same answer."""
    highs = QuietHighs()  # type: ignore[no-untyped-call]  # the library's constructor has no types
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("random_seed", 0)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", 0.0)
    return highs


class SheetProgram:
    """Fewest sheets, fractions allowed: min sum z_p with sum_p counts_p z_p >= demand; columns can be added."""

    def __init__(self, demands: Sequence[int]) -> None:
        self.highs = quiet_highs()
        self.sizes = np.arange(len(demands), dtype=np.int32)
        for demand in demands:
            self.highs.addRow(float(demand), highspy.kHighsInf, 0, np.empty(0, np.int32), np.empty(0))

    def add(self, counts: Counts) -> None:
        """Nothing; one more pattern to choose from."""
        used = [size for size, count in enumerate(counts) if count]
        values = np.array([counts[size] for size in used], dtype=np.float64)
        self.highs.addCol(1.0, 0.0, highspy.kHighsInf, len(used), np.array(used, dtype=np.int32), values)

    def solved(self) -> tuple[float, list[float], list[float]]:
        """Sheets, dual value of each size, and copies of each pattern."""
        self.highs.run()
        solution = self.highs.getSolution()
        return self.highs.getObjectiveValue(), list(solution.row_dual), list(solution.col_value)


@dataclass(frozen=True, slots=True)
class Rows:
    """An integer program's rows by column: (row, factor) pairs, and the rows' limits."""

    columns: Sequence[Sequence[tuple[int, float]]]
    lower: Sequence[float]
    upper: Sequence[float]


def model(costs: Sequence[float], most: Sequence[float], rows: Rows, kind: highspy.HighsVarType) -> highspy.HighsLp:
    """The program in HiGHS's own form."""
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(costs), len(rows.lower)
    lp.col_cost_ = np.array(costs, dtype=np.float64)
    lp.col_lower_ = np.zeros(len(costs))
    lp.col_upper_ = np.array(most, dtype=np.float64)
    lp.row_lower_ = np.array(rows.lower, dtype=np.float64)
    lp.row_upper_ = np.array(rows.upper, dtype=np.float64)
    ends = np.cumsum([0, *(len(column) for column in rows.columns)])
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = ends.astype(np.int32)
    lp.a_matrix_.index_ = np.array([row for column in rows.columns for row, _ in column], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([factor for column in rows.columns for _, factor in column], dtype=np.float64)
    lp.integrality_ = [kind] * len(costs)
    return lp


def smallest(
    costs: Sequence[float],
    most: Sequence[float],
    rows: Rows,
    start: Sequence[float] | None,
    nodes: int,
) -> list[int]:
    """Whole numbers from 0 to `most` with the smallest cost found in so many nodes; empty when none was found.

    `start` is a known answer.
    """
    highs = quiet_highs()
    highs.setOptionValue("mip_max_nodes", nodes)
    highs.passModel(model(costs, most, rows, highspy.HighsVarType.kInteger))
    # With presolve, HiGHS 1.16 measures a known answer without the cost presolve has fixed: it then stops at an answer
    # that is not the best (seen: 6 sheets called optimal where 5 do). Without it, kit jobs are a quarter faster, too.
    highs.setOptionValue("presolve", "off")
    if start is not None:
        known = highspy.HighsSolution()
        known.col_value = [float(value) for value in start]
        highs.setSolution(known)
    highs.run()
    if highs.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return []
    return [round(value) for value in highs.getSolution().col_value]


def fewest_sheets(
    pool: Sequence[Counts], demands: Sequence[int], target: int, start: dict[int, int], nodes: int
) -> dict[int, int]:
    """Copies by index into the pool, on the fewest sheets found; looks no farther once `target` is reached.

    The target is a proved bound, so it may stand as a row: the search then ends by itself.
    """
    sizes = len(demands)
    columns = [[(size, float(count)) for size, count in enumerate(counts) if count] + [(sizes, 1.0)] for counts in pool]
    rows = Rows(columns, [*demands, target], [highspy.kHighsInf] * (sizes + 1))
    known = [float(start.get(index, 0)) for index in range(len(pool))] if start else None
    most = [float(max_copies(counts, demands)) for counts in pool]
    found = smallest([1.0] * len(pool), most, rows, known, nodes)
    return {index: copies for index, copies in enumerate(found) if copies}


def reduced_costs(pool: Sequence[Counts], costs: Sequence[float], demands: Sequence[int], sheets: int) -> list[float]:
    """What each pattern costs beyond its use when fractions of patterns may be mixed on at most so many sheets."""
    sizes = len(demands)
    columns = [[(size, float(n)) for size, n in enumerate(counts) if n] + [(sizes, 1.0)] for counts in pool]
    rows = Rows(columns, [*demands, -highspy.kHighsInf], [*([highspy.kHighsInf] * sizes), sheets])
    highs = quiet_highs()
    most = [float(max_copies(counts, demands)) for counts in pool]
    highs.passModel(model(costs, most, rows, highspy.HighsVarType.kContinuous))
    highs.run()
    return list(highs.getSolution().col_dual)


def fewest_strokes(
    pool: Sequence[Counts],
    weights: Sequence[tuple[int, int]],
    demands: Sequence[int],
    stack: int,
    sheets: int,
    start: dict[int, int],
    nodes: int,
) -> dict[int, int]:
    """Copies by index, on at most so many sheets, with the smallest sum of weights (per stack, per layout) found.

    Columns: copies of each pattern, then its stacks, then whether it is used at all.
    """
    count, sizes = len(pool), len(demands)
    copies = [[(size, float(n)) for size, n in enumerate(counts) if n] for counts in pool]
    for index, column in enumerate(copies):
        column += [(sizes, 1.0), (sizes + 1 + index, 1.0)]
    stacks = [[(sizes + 1 + index, -float(stack)), (sizes + 1 + count + index, 1.0)] for index in range(count)]
    most = [min(sheets, max_copies(counts, demands)) for counts in pool]
    most_stacks = [-(-n // stack) for n in most]
    used = [[(sizes + 1 + count + index, -float(n))] for index, n in enumerate(most_stacks)]
    rows = Rows(
        [*copies, *stacks, *used],
        [*demands, *([-highspy.kHighsInf] * (2 * count + 1))],
        [*([highspy.kHighsInf] * sizes), sheets, *([0.0] * (2 * count))],
    )
    costs = [*([0.0] * count), *(float(a) for a, _ in weights), *(float(b) for _, b in weights)]
    known = [start.get(index, 0) for index in range(count)]
    begin = [*known, *(-(-n // stack) for n in known), *(int(n > 0) for n in known)]
    most_of = [*most, *most_stacks, *([1] * count)]
    found = smallest(costs, most_of, rows, begin if start else None, nodes)
    return {index: n for index, n in enumerate(found[:count]) if n}


def max_copies(counts: Counts, demands: Sequence[int]) -> int:
    """Copies beyond which no demand is left for the pattern."""
    return max(-(-demand // count) for count, demand in zip(counts, demands, strict=True) if count)
