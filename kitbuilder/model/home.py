"""A family's definitions, whole and checked."""

from __future__ import annotations

from dataclasses import dataclass, field

from kitbuilder.diagnostics import Location, stop
from kitbuilder.model.box import Box
from kitbuilder.model.learners import Learner
from kitbuilder.model.press import Press
from kitbuilder.model.sequence import Sequence
from kitbuilder.model.unit import Unit


@dataclass(frozen=True, slots=True)
class Home:
    """Everything in a family's folder. `root` is the folder as written, `units` are sorted by number."""

    root: str
    sequence: Sequence
    units: tuple[Unit, ...]
    learners: tuple[Learner, ...] = ()
    press: Press = field(default_factory=Press)
    box: Box = field(default_factory=Box)

    def unit(self, number: int, location: Location | None = None) -> Unit:
        """Return the unit of that number.

        Raises:
            ProblemsFound: when there is none; `location` is the line that asked for it.
        """
        for unit in self.units:
            if unit.unit == number:
                return unit
        there = number_ranges(tuple(unit.unit for unit in self.units))
        raise stop(f"there is no unit {number}", "no-such-unit", f"the units here are {there}", location)

    def learner(self, code: str) -> Learner:
        """Return the learner of that code.

        Raises:
            ProblemsFound: when there is none.
        """
        for learner in self.learners:
            if learner.code == code:
                return learner
        codes = ", ".join(learner.code for learner in self.learners)
        raise stop(f"there is no learner '{code}'", "no-such-learner", f"the learners here are {codes}")


def number_ranges(numbers: tuple[int, ...]) -> str:
    """Return sorted numbers as `1 to 4, 6`."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(first) if first == last else f"{first} to {last}" for first, last in runs)
