"""Prints the bench table: python tests/bench/packing/measure.py [kit] [random] [stock] [bin] [beside]; all by default.

`beside` runs the other packer on kit and random jobs in the same process (needs the bench extra). Seconds are of the
processor, so that other work on the machine does not count.
"""

import sys
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parent))

from instances import Instance, from_file, random_kit_jobs

from kitbuilder.packing.check import faults
from kitbuilder.packing.solve import solve

SETS = {"kit": "kit-jobs", "stock": "cutting-stock", "bin": "bin-packing"}


def main(chosen: list[str]) -> None:
    """Nothing; prints a line for each job and a summary for each set."""
    wanted = chosen or ["kit", "random", "stock", "bin"]
    beside = "beside" in wanted
    for name in [entry for entry in wanted if entry != "beside"]:
        measure(
            name, random_kit_jobs() if name == "random" else from_file(SETS[name]), beside and name in ("kit", "random")
        )


def measure(name: str, jobs: list[Instance], beside: bool) -> None:
    """Nothing; prints one set."""
    gaps, to_known, ratios, others, own, times, other_times = [], [], [], [], [], [], []
    for job in jobs:
        start = time.process_time()
        solution = solve(job.problem)
        times.append(time.process_time() - start)
        wrong = faults(job.problem, solution)
        assert not wrong, (job.name, wrong[:3])
        own.append(solution.sheets)
        gaps.append(solution.sheets - solution.lower_bound)
        line = f"{job.name:22s} {solution.sheets:4d} bound {solution.lower_bound:4d} gap {gaps[-1]}"
        if job.best_known is not None:
            to_known.append(solution.sheets - job.best_known)
            line += f" best known {job.best_known:4d} ({to_known[-1]:+d})"
        if solution.first_strokes:
            ratios.append(solution.strokes / solution.first_strokes)
            line += f" strokes {solution.strokes:4d} / {solution.first_strokes:4d} = {ratios[-1]:.2f}"
        line += f" trade {solution.trade} {times[-1]:.2f} s"
        if beside:
            from other_packer import fewest_sheets_of_sweep

            start = time.process_time()
            others.append(fewest_sheets_of_sweep(job.problem))
            other_times.append(time.process_time() - start)
            line += f" other {others[-1]} {other_times[-1]:.2f} s"
        print(line, flush=True)
    print(f"{name}: gap 0 in {gaps.count(0)} of {len(gaps)}, at most {max(gaps)}; strokes median {median(ratios):.2f}")
    print(f"  seconds median {median(times):.2f}, most {max(times):.2f}")
    if to_known:
        print(
            f"  best known or better in {sum(gap <= 0 for gap in to_known)} of {len(to_known)}, most +{max(to_known)}"
        )
    if others:
        worse = sum(mine > other for mine, other in zip(own, others, strict=True))
        print(f"  beside the other packer: more sheets on {worse} jobs, sum {sum(own)} / {sum(others)}")
        print(
            f"  = {sum(own) / sum(others):.3f}; seconds median {median(other_times):.2f}, most {max(other_times):.2f}"
        )


if __name__ == "__main__":
    main(sys.argv[1:])
