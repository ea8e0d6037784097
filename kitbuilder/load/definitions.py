"""A family's folder as a `Home`, or all problems of its files at once."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from pathlib import Path
from typing import TypeVar

from kitbuilder.diagnostics import Location, ProblemLog, ProblemsFound
from kitbuilder.load.cross_checks import check_learners, check_press, check_sizes, check_unit_numbers
from kitbuilder.load.located_yaml import Mapping, read_yaml
from kitbuilder.load.traps import watch_sentences
from kitbuilder.load.unit_files import BOX, FOLDER, LEARNERS, NAMED, PRESS, SEQUENCE, UnitFiles, shown_name, unit_files
from kitbuilder.load.validation import validated
from kitbuilder.model.box import Box
from kitbuilder.model.defined import Defined
from kitbuilder.model.home import Home
from kitbuilder.model.learners import Learner, Learners
from kitbuilder.model.press import Press
from kitbuilder.model.sequence import Sequence
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Unit

T = TypeVar("T", bound=Defined)
ONLY_LEARNER = Placed("reader")  # the child of a family that wrote no learners.yaml


def load_home(root: Path, log: ProblemLog | None = None) -> Home:
    """Return the definitions in `root`/units.

    Raises:
        ProblemsFound: with every problem of the folder, and those the log held before.
    """
    log = log if log is not None else ProblemLog()
    reading = _Reading(unit_files(root, log), log)
    sequence = reading.named(SEQUENCE, Sequence)
    learners = reading.named(LEARNERS, Learners)
    press = reading.named(PRESS, Press) or Press()
    box = reading.named(BOX, Box) or Box()
    units = reading.units()
    if not log.problems:
        reading.what_is_missing()
    check_unit_numbers(units, log)
    check_press(press, log)
    check_sizes(units, press, reading.nodes, log)
    if learners and units and not reading.units_failed:
        check_learners(learners.learners, units, log)
    log.stop_if_any()
    ordered = tuple(sorted(units, key=lambda unit: unit.unit))
    children = learners.learners if learners else ()
    return Home(
        root=str(root),
        sequence=sequence or Sequence(),
        units=ordered,
        learners=children or (Learner(code=ONLY_LEARNER, at=ordered[0].unit),),
        press=press,
        box=box,
    )


def load_press(root: Path, paper: str | None = None) -> Press:
    """Return the press alone, for a reprint: the units may be gone or broken by then.

    `paper` is used where the folder has no press.yaml.

    Raises:
        ProblemsFound: with the problems of press.yaml.
    """
    log = ProblemLog()
    path = next((p for p in (root / FOLDER / f"{PRESS}{end}" for end in (".yaml", ".yml")) if p.is_file()), None)
    if path is None:
        return with_paper(Press(), paper) if paper else Press()
    press = _Reading(UnitFiles(), log)._read(path, Press)
    if press is not None:
        check_press(press, log)
    log.stop_if_any()
    return press or Press()


def with_paper(press: Press, paper: str) -> Press:
    """Return the press with another paper loaded, as the command line names it.

    Raises:
        ProblemsFound: when there is no such paper, or the printer does not have it.
    """
    log = ProblemLog()
    written = Mapping(Location("--paper", 1, 1))
    written[Placed("paper")] = Placed(paper)
    other = validated(Press, written, log)
    if other is None:
        raise ProblemsFound(replace(problem, location=None) for problem in log.problems)
    changed = press.model_copy(update={"paper": other.paper})
    check_press(changed, log)
    if log.problems:
        raise ProblemsFound(replace(problem, location=None) for problem in log.problems)
    return changed


@dataclass(slots=True)
class _Reading:
    """The files of one folder while they are read; `nodes` keeps what stood in each, by its name."""

    files: UnitFiles
    log: ProblemLog
    nodes: dict[str, Mapping] = field(default_factory=dict)
    units_failed: bool = False

    def named(self, stem: str, model: type[T]) -> T | None:
        path = self.files.named.get(stem)
        return self._read(path, model) if path else None

    def units(self) -> list[Unit]:
        units: list[Unit] = []
        for path in self.files.units:
            unit = self._read(path, Unit)
            if unit:
                units.append(unit)
            else:
                self.units_failed = True
                self._near_name(path)
        return units

    def what_is_missing(self) -> None:
        if SEQUENCE not in self.files.named:
            self.log.add(
                "this file is missing",
                "missing-sequence",
                "make it with one line, such as title: Our year, or start with: kitbuilder new FOLDER",
                Location(f"{FOLDER}/{SEQUENCE}.yaml", 1, 1),
            )
        if not self.files.units:
            self.log.add(
                f"there is no unit in the folder '{FOLDER}'",
                "no-units",
                "make a file such as units/01-first.yaml with the line unit: 1",
                Location(f"{FOLDER}/", 1, 1),
            )

    def _read(self, path: Path, model: type[T]) -> T | None:
        name = shown_name(path)
        value = read_yaml(path, name, self.log)
        if value is None:
            return None
        if isinstance(value, Mapping):
            self.nodes[name] = value
            if model is Unit:
                watch_sentences(value, self.log)
        return validated(model, value, self.log)

    def _near_name(self, path: Path) -> None:
        """Say so when a file that is no unit has nearly the name of another file."""
        name = shown_name(path)
        near = get_close_matches(path.stem.casefold(), NAMED, n=1, cutoff=0.75)
        if near and "unit" not in self.nodes.get(name, {}):
            self.log.add(
                f"this file is read as a unit; is it meant to be {near[0]}.yaml?",
                "wrong-file-name",
                f"rename it to {near[0]}.yaml",
                Location(name, 1, 1),
            )
