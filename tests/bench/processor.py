"""Processor time of commands, each in a process of its own: neighbours on the machine disturb it least."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).parents[2]
COUNTING = "sum(i * i for i in range(5_000_000))"  # what other times are held against: 0.2 s on a quiet core


def seconds(command: Sequence[str], folder: Path, times: int = 5) -> float:
    """Return the least processor time of some runs of `python COMMAND`; modules are compiled beforehand."""
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(folder / "compiled"), "PYTHONPATH": str(ROOT)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    found = []
    for _ in range(times + 1):  # the first run compiles
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        done = subprocess.run([sys.executable, *command], cwd=folder, env=environment, capture_output=True, check=False)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        assert done.returncode == 0, done.stderr.decode()[-500:]
        found.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(found[1:])
