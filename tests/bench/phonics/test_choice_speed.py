"""How long the choices for one unit take after the lexicon is loaded, in a process of its own (CPU time).

Run `pytest -m bench -s tests/bench/phonics/test_choice_speed.py` in the checkout: the shipped units are measured.
"""

from __future__ import annotations

import subprocess
import sys

import pytest

JOB = """
import time
from pathlib import Path
from kitbuilder.compose.choices import Choices
from kitbuilder.compose.reading import family_reader
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.definitions import load_home
home = load_home(Path("."), ProblemLog())
reader = family_reader(home, ProblemLog()).reader
reader.lexicon.get("cat")
for number in ({first}, {second}):
    start = time.process_time()
    choices, unit = Choices(home, reader), home.unit(number)
    choices.words(unit, 20), choices.chain(number, 8), choices.nonsense(unit, 10)
    print(time.process_time() - start)
"""
ROUNDS = 3
FIRST_SECONDS = 0.5  # the first unit of a run reads all words of the lexicon once
LATER_SECONDS = 0.15


@pytest.mark.bench
@pytest.mark.parametrize(("first", "second"), [(3, 4), (11, 12)])
def test_words_chain_and_made_up_words_of_a_unit(first: int, second: int) -> None:
    rounds = []
    for _ in range(ROUNDS):
        job = JOB.format(first=first, second=second)
        done = subprocess.run([sys.executable, "-c", job], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr[-500:]
        rounds.append([float(line) for line in done.stdout.split()])
    at_first, later = (min(times) for times in zip(*rounds, strict=True))
    print(f"unit {first}: {at_first * 1000:.0f} ms, then unit {second}: {later * 1000:.0f} ms")
    assert at_first < FIRST_SECONDS
    assert later < LATER_SECONDS
