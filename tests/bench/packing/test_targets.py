"""The targets of the bench table; asked for with -m bench (minutes). Seconds are of the processor."""

import importlib.util
import sys
import time
from pathlib import Path
from statistics import median
from types import ModuleType

import pytest

from kitbuilder.packing.check import faults
from kitbuilder.packing.problem import Problem, Solution
from kitbuilder.packing.solve import solve

pytestmark = pytest.mark.bench


def beside(name: str) -> ModuleType:
    """The module NAME.py of this folder."""
    spec = importlib.util.spec_from_file_location(f"bench_packing_{name}", Path(__file__).parent / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


instances = beside("instances")


def judged(problem: Problem) -> Solution:
    """The solution, with nothing wrong in it."""
    solution = solve(problem)
    assert faults(problem, solution) == ()
    return solution


@pytest.mark.parametrize("job", instances.from_file("kit-jobs"), ids=lambda job: job.name)
def test_kit_job_reaches_its_bound_in_time(job: "instances.Instance") -> None:
    start = time.process_time()
    solution = judged(job.problem)
    assert time.process_time() - start < 10
    assert solution.sheets == job.best_known
    assert solution.sheets == solution.lower_bound


def test_random_kit_jobs_reach_their_bound_nine_times_in_ten() -> None:
    solutions = [judged(job.problem) for job in instances.random_kit_jobs()]
    gaps = [solution.sheets - solution.lower_bound for solution in solutions]
    assert max(gaps) <= 1
    assert gaps.count(0) >= 36


def test_strokes_are_three_quarters_of_those_of_the_first_answer() -> None:
    """Median over kit and random jobs; the first answer is the one on the same sheets before strokes were looked at."""
    jobs = [*instances.from_file("kit-jobs"), *instances.random_kit_jobs()]
    solutions = [judged(job.problem) for job in jobs]
    assert median(solution.strokes / max(1, solution.first_strokes) for solution in solutions) <= 0.75


@pytest.mark.parametrize(("name", "share"), [("cutting-stock", 0.85), ("bin-packing", 0.90)])
def test_literature_instances_equal_the_best_known(name: str, share: float) -> None:
    jobs = instances.from_file(name)
    over = [judged(job.problem).sheets - job.best_known for job in jobs]
    assert max(over) <= 1
    assert sum(gap <= 0 for gap in over) >= share * len(jobs)


def test_other_packer_never_needs_fewer_sheets() -> None:
    pytest.importorskip("rectpack", reason="the bench extra is not installed")
    other = beside("other_packer")
    jobs = [*instances.from_file("kit-jobs"), *instances.random_kit_jobs()]
    own = [judged(job.problem).sheets for job in jobs]
    theirs = [other.fewest_sheets_of_sweep(job.problem) for job in jobs]
    assert all(mine <= their for mine, their in zip(own, theirs, strict=True))
    assert sum(own) <= 0.96 * sum(theirs)
