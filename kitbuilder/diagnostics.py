"""Problems a user can fix: what was found where, what was expected, and what to do about it.

Two families only. A `Problem` is the user's to mend: it is printed without a traceback and the run ends with exit
code 1. Any other exception is a bug of ours and keeps its traceback.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, order=True)
class Location:
    """A place in a file: lines and columns count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing the user can fix. `code` never changes its meaning; `hint` says what to do."""

    message: str
    code: str
    hint: str = ""
    location: Location | None = None

    @property
    def data(self) -> dict[str, str | None]:
        """The problem as --json tells it."""
        place = str(self.location) if self.location else None
        return {"place": place, "message": self.message, "code": self.code, "hint": self.hint}

    def __str__(self) -> str:
        place = f"{self.location}: " if self.location else ""
        hint = f"\nhint: {self.hint}" if self.hint else ""
        return f"{place}{self.message} [{self.code}]{hint}"


class ProblemsFound(Exception):
    """Stops the run; carries all problems of a stage, sorted by place."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems, key=_by_place))
        super().__init__("\n".join(str(p) for p in self.problems))


def _by_place(problem: Problem) -> tuple[str, int, int, str, str]:
    place = problem.location or Location("", 0, 0)
    return (place.file, place.line, place.column, problem.code, problem.message)


def stop(message: str, code: str, hint: str = "", location: Location | None = None) -> ProblemsFound:
    """Return the exception for a single problem, to be raised by the caller."""
    return ProblemsFound([Problem(message, code, hint, location)])


@dataclass(slots=True)
class ProblemLog:
    """Collects the problems of a stage, so that one run shows every mistake."""

    problems: list[Problem] = field(default_factory=list)

    def add(self, message: str, code: str, hint: str = "", location: Location | None = None) -> None:
        problem = Problem(message, code, hint, location)
        if problem not in self.problems:
            self.problems.append(problem)

    def extend(self, problems: Iterable[Problem]) -> None:
        self.problems.extend(p for p in problems if p not in self.problems)

    def stop_if_any(self) -> None:
        """Raise `ProblemsFound` when something was collected."""
        if self.problems:
            raise ProblemsFound(self.problems)
