"""Who gets what: one job for each kind, unit and (for what is used up) learner."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from kitbuilder.compose.options import read_options
from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Size
from kitbuilder.model.learners import Learner
from kitbuilder.model.templates import KindTemplate
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Material, Unit

# kind, the size a unit asks for, the learner, the line that asks, whether for wide items -> the format to compose to
FormatOf = Callable[[KindTemplate, Size | None, Learner | None, Location | None, bool], Format]


@dataclass(frozen=True, slots=True)
class Job:
    """One set to compose. `learner` is None for what the family keeps, or when no child was named.

    `pages` are formats of booklet pages by what was asked for: (page, making).
    """

    unit: Unit
    kind: KindTemplate
    learner: Learner | None
    format: Format
    wide_format: Format
    stock: str
    options: Mapping[str, Any]
    seed: int
    forms: int
    count: int | None
    asked_at: Location | None
    pages: Mapping[tuple[str, str], Format] = field(default_factory=dict)

    @property
    def set_id(self) -> str:
        who = f"-{self.learner.code}" if self.learner else ""
        return f"{self.unit.unit:02d}-{self.kind.code}{who}"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a run is asked for: units with their learners, and which kinds."""

    units: tuple[tuple[Unit, tuple[Learner, ...]], ...]
    only: tuple[str, ...] = ()
    durable: bool = True
    consumable: bool = True


def make_jobs(
    wanted: Wanted,
    kinds: Mapping[str, KindTemplate],
    default_kinds: Sequence[str],
    seed: int,
    format_of: FormatOf,
    log: ProblemLog,
) -> tuple[Job, ...]:
    """Return the jobs in the order of units, then of kinds, then of learners."""
    jobs: list[Job] = []
    for unit, learners in wanted.units:
        for name, material in _kinds_of(unit, default_kinds, wanted.only, kinds, log):
            kind = kinds[name]
            if not (wanted.durable if kind.durable else wanted.consumable):
                continue
            # what is used up is made for a child; where no child is, only what is kept is made
            everyone = (None,) if kind.durable else learners
            jobs += (_job(unit, kind, learner, material, seed, format_of, log) for learner in everyone)
    return tuple(jobs)


def _kinds_of(
    unit: Unit, default_kinds: Sequence[str], only: tuple[str, ...], kinds: Mapping[str, KindTemplate], log: ProblemLog
) -> list[tuple[str, Material | None]]:
    asked: dict[str, Material | None] = {str(name): None for name in default_kinds}
    for name, material in unit.materials:
        if str(name) not in kinds:
            unknown_kind(name, kinds, log)
        elif material.none:
            asked.pop(str(name), None)
        else:
            asked[str(name)] = material
    if only:
        given = {str(name): material for name, material in unit.materials if not material.none}
        asked = {name: given.get(name) for name in only}
    order = {name: i for i, name in enumerate(kinds)}
    return sorted(((n, m) for n, m in asked.items() if n in kinds), key=lambda pair: order[pair[0]])


def unknown_kind(name: str, kinds: Mapping[str, KindTemplate], log: ProblemLog) -> None:
    """Note an unknown kind with the nearest known ones."""
    from difflib import get_close_matches

    near = get_close_matches(str(name), list(kinds), n=3)
    hint = f"did you mean {' or '.join(repr(n) for n in near)}? " if near else ""
    log.add(
        f"there is no kind called {str(name)!r}",
        "unknown-kind",
        hint + "'kitbuilder kinds' lists what can be made",
        getattr(name, "location", None),
    )


def _job(
    unit: Unit,
    kind: KindTemplate,
    learner: Learner | None,
    material: Material | None,
    seed: int,
    format_of: FormatOf,
    log: ProblemLog,
) -> Job:
    place = material.location if material else unit.location
    stock: Placed | str = material.stock if material and material.stock else kind.stock
    options = read_options(kind, material, log)
    size = material.size if material else None
    fmt = format_of(kind, size, learner, place, False)
    wide = format_of(kind, size, learner, place, True) if kind.wide else fmt
    return Job(
        unit,
        kind,
        learner,
        fmt,
        wide,
        str(stock),
        options,
        seed,
        learner.forms if learner else 1,
        material.count if material else None,
        place,
    )
