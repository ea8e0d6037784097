"""The two programs HiGHS solves over a pool of patterns: sheets as a linear program, and as an integer program."""

from collections.abc import Sequence

import highspy
import numpy as np

Counts = tuple[int, ...]
NODES = 2_000  # branch-and-bound nodes at most: a limit that is the same on every machine, unlike seconds


def quiet_highs() -> highspy.Highs:
    """A HiGHS that says nothing, uses one thread and stops at no gap: same input, same answer."""
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
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


def fewest_sheets(
    pool: Sequence[Counts], demands: Sequence[int], target: int, start: dict[int, int] | None = None, nodes: int = NODES
) -> dict[int, int]:
    """Copies by index into the pool, on the fewest sheets found; looks no farther once `target` is reached.

    `start` is a known answer; empty when none was found within the node limit.
    """
    highs = quiet_highs()
    highs.setOptionValue("mip_max_nodes", nodes)
    highs.setOptionValue("objective_target", target + 0.5)
    highs.setOptionValue("objective_bound", float("inf"))
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(pool), len(demands)
    lp.col_cost_ = np.ones(len(pool))
    lp.col_lower_ = np.zeros(len(pool))
    lp.col_upper_ = np.array([float(max_copies(counts, demands)) for counts in pool])
    lp.row_lower_ = np.array(demands, dtype=np.float64)
    lp.row_upper_ = np.full(len(demands), highspy.kHighsInf)
    starts, index, value = [0], [], []
    for counts in pool:
        for size, count in enumerate(counts):
            if count:
                index.append(size)
                value.append(float(count))
        starts.append(len(index))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(index, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(value)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(pool)
    highs.passModel(lp)
    if start:
        known = highspy.HighsSolution()
        known.col_value = [float(start.get(column, 0)) for column in range(len(pool))]
        highs.setSolution(known)
    highs.run()
    if highs.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return {}
    chosen = {column: round(copies) for column, copies in enumerate(highs.getSolution().col_value)}
    return {column: copies for column, copies in chosen.items() if copies}


def max_copies(counts: Counts, demands: Sequence[int]) -> int:
    """Copies beyond which no demand is left for the pattern."""
    return max(-(-demand // count) for count, demand in zip(counts, demands, strict=True) if count)
