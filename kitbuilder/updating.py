"""`reprint --updated`: the pieces that were picked, as today's units draw them, and what differs."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from kitbuilder.artwork.frame import ReadBy, texts_of
from kitbuilder.build import Family, flats_of, pieces_of
from kitbuilder.compose.jobs import Wanted
from kitbuilder.diagnostics import stop
from kitbuilder.imposition.flats import Flat
from kitbuilder.load.pack import Pack
from kitbuilder.measure.geometry import Size
from kitbuilder.model.learners import Learner
from kitbuilder.pick import Choice, Row, pick_rows
from kitbuilder.reprint import Reprint, plan_of_flats

Key = tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Updated:
    """The plan of a reprint from today's units, and a line for each picked piece: the same, changed or gone."""

    reprint: Reprint
    differences: tuple[str, ...]


def plan_updated(
    pack: Pack,
    choice: Choice,
    family: Family,
    tell: Callable[[str], None],
    offcuts: Sequence[Size] = (),
    *,
    trial: bool = False,
) -> Updated:
    """Return today's version of the picked pieces.

    Raises:
        ProblemsFound: when none of them is made any more, or today's units have problems.
    """
    rows = pick_rows(pack, choice)
    today = _todays_flats(rows, family, tell)
    flats: list[Flat] = []
    lines: list[str] = []
    for row in rows:
        flat = today.get(_exact(row)) or today.get(_by_order(row))
        lines.append(_difference(row, flat, pack))
        if flat is not None:
            flats.append(flat)
    if not flats:
        raise stop(
            "none of these pieces is made from today's units",
            "nothing-picked",
            "leave --updated out to print them as they were",
        )
    plan = plan_of_flats(flats, pack, family.home.press, offcuts, trial=trial)
    plan = replace(plan, definitions_sha256=family.digest)
    return Updated(Reprint(plan, tuple(row["id"] for row in rows)), tuple(lines))


def _todays_flats(rows: Sequence[Row], family: Family, tell: Callable[[str], None]) -> Mapping[Key, Flat]:
    there = {unit.unit: unit for unit in family.home.units}
    codes = {str(row["learner"]) for row in rows if row["learner"]}
    learners: tuple[Learner, ...] = tuple(x for x in family.home.learners if x.code in codes)
    numbers = sorted({int(row["unit"]) for row in rows} & set(there))
    kinds = tuple(k for k in dict.fromkeys(str(row["kind"]) for row in rows) if k in family.templates.kinds)
    if not numbers or not kinds:
        return {}
    wanted = Wanted(tuple((there[n], learners) for n in numbers), kinds)
    flats = flats_of(pieces_of(family, wanted, tell), family.home.press)
    found: dict[Key, Flat] = {}
    for flat in flats:
        part = flat.id.removeprefix(flat.piece_id)
        found.setdefault(("order", flat.unit, flat.kind, flat.learner, flat.order, part), flat)
        found.setdefault(("title", flat.unit, flat.kind, flat.learner, flat.title, flat.copy, part), flat)
    return found


def _part(row: Row) -> str:
    return str(row["id"]).removeprefix(str(row["piece"]))


def _exact(row: Row) -> Key:
    return ("title", row["unit"], row["kind"], row["learner"], row.get("title", ""), row["copy"], _part(row))


def _by_order(row: Row) -> Key:
    return ("order", row["unit"], row["kind"], row["learner"], tuple(row.get("order", ())), _part(row))


def _difference(row: Row, flat: Flat | None, pack: Pack) -> str:
    if flat is None:
        return f"{row['id']} is not made any more"
    front, back = pack.drawings.flats[row["id"]]
    was = [t for frame in (front, back) if frame for t in texts_of(frame, ReadBy.CHILD, ReadBy.ADULT)]
    now = [t for frame in (flat.front, flat.back) if frame for t in texts_of(frame, ReadBy.CHILD, ReadBy.ADULT)]
    if flat.id == row["id"] and (front, back) == (flat.front, flat.back):
        return f"{row['id']} is the same"
    gone, new = [t for t in was if t not in now], [t for t in now if t not in was]
    parts = [f"{row['id']} is now {flat.id}"]
    if gone:
        parts.append("it said " + ", ".join(repr(t) for t in gone[:6]))
    if new:
        parts.append("it says " + ", ".join(repr(t) for t in new[:6]))
    if not gone and not new:
        parts.append("the words are the same, the drawing differs")
    return "; ".join(parts)
