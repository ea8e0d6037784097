"""How long the commands that are typed most take before they answer: `pytest -m bench -s tests/bench/test_startup.py`.

Processor time, the best of several processes; beside each the same in units of a fixed piece of counting, which a slow
or busy machine takes longer for too.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest


@pytest.mark.bench
def test_help_and_checking_a_year_are_quick(bench_tools: Any, tmp_path: Path) -> None:
    seconds: Callable[..., float] = bench_tools.processor.seconds
    year = bench_tools.year_home.write_year(tmp_path / "year")
    bare = seconds(["-c", "pass"], tmp_path)
    counting = seconds(["-c", bench_tools.processor.COUNTING], tmp_path)
    found = {
        "kitbuilder --help, over bare Python": seconds(["-m", "kitbuilder", "--help"], tmp_path) - bare,
        "kitbuilder kinds, over bare Python": seconds(["-m", "kitbuilder", "kinds"], tmp_path) - bare,
        "kitbuilder check, a year of 36 units": seconds(
            ["-m", "kitbuilder", "check", "--home", str(year)], tmp_path, 3
        ),
    }
    print(f"\n{'bare Python':40} {bare:6.3f} s\n{'counting':40} {counting:6.3f} s   1.0 x")
    for name, time in found.items():
        print(f"{name:40} {time:6.3f} s  {time / counting:4.1f} x counting")
    help_time, _, check = found.values()
    assert help_time < 0.15
    assert check < 16 * counting  # 1.5 s on a quiet core is about 8 x
