"""What a run is asked for: which units, for whom, and what the pack is called."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

from kitbuilder.compose.jobs import Wanted
from kitbuilder.model.home import Home, number_ranges
from kitbuilder.model.learners import Learner
from kitbuilder.model.unit import Unit


@dataclass(frozen=True, slots=True)
class Request:
    """What the command line asks for. `first` None: each learner's unit now."""

    root: Path
    first: int | None = None
    last: int | None = None
    learners: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    durable: bool = True
    consumable: bool = True
    paper: str | None = None
    seed: int | None = None
    weeks: int | None = None
    trial: bool = False


def wanted_units(home: Home, request: Request) -> Wanted:
    """Return the units of the request, each with the learners it is made for."""
    learners = tuple(home.learner(code) for code in request.learners) or home.learners
    units: list[tuple[Unit, tuple[Learner, ...]]] = []
    if request.weeks is not None:
        return Wanted(_next_units(home, learners, request.weeks), request.only, request.durable, request.consumable)
    if request.first is None:
        numbers = sorted({learner.at for learner in learners})
        units += ((home.unit(n), tuple(x for x in learners if x.at == n)) for n in numbers)
    elif request.last is None:
        here = tuple(x for x in learners if x.at == request.first)
        coming = tuple(x for x in learners if x.at < request.first)
        # whoever is named gets it; else the children at this unit, or those who will come to it
        units.append((home.unit(request.first), learners if request.learners else here or coming or learners))
    else:
        inside = [unit for unit in home.units if request.first <= unit.unit <= request.last]
        units += ((unit, tuple(x for x in learners if x.at <= unit.unit)) for unit in inside)
        home.unit(request.first)
        home.unit(request.last)
    return Wanted(tuple(units), request.only, request.durable, request.consumable)


def _next_units(home: Home, learners: Sequence[Learner], weeks: int) -> tuple[tuple[Unit, tuple[Learner, ...]], ...]:
    """Return the next `weeks` units of each learner, from the unit each is at."""
    who: dict[int, list[Learner]] = {}
    for learner in learners:
        ahead = [unit.unit for unit in home.units if unit.unit >= learner.at]
        for number in ahead[:weeks]:
            who.setdefault(number, []).append(learner)
    return tuple((home.unit(number), tuple(who[number])) for number in sorted(who))


def units_for_nobody(wanted: Wanted) -> str:
    """Return a note about units that no child is at any more; empty when there are none or nothing is used up."""
    empty = tuple(unit.unit for unit, learners in wanted.units if not learners)
    if not empty or not wanted.consumable:
        return ""
    what = "unit" if len(empty) == 1 else "units"
    return (
        f"{what} {number_ranges(empty)}: only what is kept is made, since every child is past "
        f"{'it' if len(empty) == 1 else 'them'}; kitbuilder week N --learner CODE makes pages all the same"
    )


def pack_name(request: Request, units: tuple[int, ...]) -> str:
    """Return the folder name: week-03, term-01-12; partial runs say what they are part of."""
    if request.weeks is not None:
        name = f"term-next-{request.weeks}-weeks-{_span(units)}"
    elif request.last is not None and request.first is not None:
        name = f"term-{request.first:02d}-{request.last:02d}"
    elif request.first is None:
        name = f"week-now-{_span(units)}" if len(units) != 1 else f"week-{units[0]:02d}"
    else:
        name = f"week-{request.first:02d}"
    parts = [*_named(request.learners, "children"), *_named(request.only, "kinds")]
    if not request.durable:
        parts.append("consumable")
    if not request.consumable:
        parts.append("durable")
    if request.paper:
        parts.append(request.paper.lower().replace(" ", ""))
    return "-".join([name, *parts])


def _span(units: tuple[int, ...]) -> str:
    return "-".join(f"{unit:02d}" for unit in dict.fromkeys((units[0], units[-1])))


def _named(words: Sequence[str], what: str) -> tuple[str, ...]:
    """Return the words, or how many there are and a digest of them: file systems end names at 255 bytes."""
    if len(words) <= 3:
        return tuple(words)
    digest = blake2b("/".join(sorted(words)).encode(), digest_size=3).hexdigest()
    return (f"{len(words)}-{what}-{digest}",)
