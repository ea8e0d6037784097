"""A planned pack to its prep: told in order, step by step, with the minutes of each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.press_notes import LAMINATING
from kitbuilder.model.press import Press
from kitbuilder.prep.cautions import FOOTING
from kitbuilder.prep.cutting import cut_steps
from kitbuilder.prep.folding import booklets_of, fold_steps
from kitbuilder.prep.ink_use import InkUse
from kitbuilder.prep.pouches import pouches_for
from kitbuilder.prep.printing import print_steps
from kitbuilder.prep.shopping import shopping
from kitbuilder.prep.sorting import sort_step, store_step
from kitbuilder.prep.steps import FoldPicture, Prep, Step, StepKind, Totals
from kitbuilder.prep.wording import in_inches, kind_title, many, shortened, units_words, whole_minutes

SHORT_TITLE = 4  # letters and short words are named on the first page, sentences are not


def prepare(
    plan: PackPlan,
    press: Press,
    ink: Mapping[str, InkUse] | None = None,
    *,
    kinds: Mapping[str, str] | None = None,
    laminate: bool = False,
) -> Prep:
    """Return the prep of a pack.

    Args:
        ink: what each print file takes, by file name; without it the shopping list leaves ink out.
        kinds: titles of kinds from their templates; without it they are made from the kinds' names.
        laminate: the family laminates all it keeps; kinds that ask for it are laminated anyway.
    """
    film = laminated(plan, everything=laminate)
    steps = tuple(replace(step, number=n) for n, step in enumerate(_steps(plan, press, kinds, film), 1))
    return Prep(
        pack=plan.name,
        title=_title(plan),
        subtitle=plan.title,
        contents=tuple(_contents(plan, kinds)),
        totals=_totals(plan, steps),
        shopping=shopping(plan, press, ink, film),
        tools=_tools(steps),
        steps=steps,
        footing=FOOTING,
        notes=tuple(note for note in (*plan.warnings, *plan.notes) if not _said(note, steps)),
    )


def laminated(plan: PackPlan, *, everything: bool) -> tuple[Flat, ...]:
    """Return the flats that are laminated: those whose kind asks for it, or all that are kept."""
    return tuple(f for f in plan.flats if f.laminate or (everything and f.durable))


def _said(note: str, steps: tuple[Step, ...]) -> bool:
    """Tell whether a step says a note of the plan already, with the name of a booklet before it or not."""
    return any(note.endswith(text) for step in steps for text in (*step.sentences, *step.cautions))


def _steps(plan: PackPlan, press: Press, kinds: Mapping[str, str] | None, film: tuple[Flat, ...]) -> Iterator[Step]:
    yield from print_steps(plan, press)
    yield from cut_steps(plan, press)
    yield from _laminate(film, press)
    yield from fold_steps(plan, press)
    yield sort_step(plan, press, kinds, laminated=bool(film))
    yield store_step(plan, press, kinds)


def _laminate(film: tuple[Flat, ...], press: Press) -> Iterator[Step]:
    pouches, size = pouches_for(film, inches=in_inches(press))
    if pouches:
        yield Step(
            StepKind.LAMINATE,
            f"Laminate {many(len(film), 'piece')} in {many(pouches, 'pouch', 'pouches')}, {size}",
            whole_minutes(press.minutes.laminate * pouches),
            children_may_help=False,
            sentences=LAMINATING[:1],
            cautions=LAMINATING[1:],
        )


def _title(plan: PackPlan) -> str:
    units = units_words(plan.units)
    return f"{units}: printed again" if plan.name.startswith("reprint") else units


def _contents(plan: PackPlan, kinds: Mapping[str, str] | None) -> Iterator[tuple[str, str]]:
    """Yield what is made: for the family's box first, then child by child."""
    durable = [f for f in plan.flats if f.durable]
    if durable:
        yield "To keep", _kinds_words(durable, kinds)
    used = [f for f in plan.flats if not f.durable]
    for learner in sorted({f.learner or "" for f in used}):
        own = [f for f in used if (f.learner or "") == learner]
        yield f"For {learner}" if learner else "To use up", _kinds_words(own, kinds)


def _kinds_words(flats: list[Flat], kinds: Mapping[str, str] | None) -> str:
    things: dict[str, dict[str, str]] = {}
    for flat in flats:
        things.setdefault(flat.kind, {})[flat.piece_id] = flat.title
    parts = []
    for kind, titles in things.items():
        short = all(0 < len(t) <= SHORT_TITLE for t in titles.values())
        names = f" ({shortened(titles.values(), 12)})" if short else ""
        parts.append(f"{kind_title(kind, kinds)} × {len(titles)}{names}")
    return ", ".join(parts)


def _totals(plan: PackPlan, steps: tuple[Step, ...]) -> Totals:
    return Totals(
        sheets=sum(len(run.sheets) for run in plan.runs),
        sides=sum(len(file.pages) for file in plan.files),
        strokes=sum(run.strokes for run in plan.runs),
        booklets=len(booklets_of(plan)),
        minutes=sum(step.minutes for step in steps),
    )


def _tools(steps: tuple[Step, ...]) -> tuple[str, ...]:
    kinds = {step.kind for step in steps}
    tools = [("printer", True), ("ruler", True), ("pencil", True), ("trimmer", StepKind.CUT in kinds)]
    tools += [("laminator", StepKind.LAMINATE in kinds), ("spoon", StepKind.FOLD in kinds)]
    forms = {step.picture.form for step in steps if isinstance(step.picture, FoldPicture)}
    tools += [("scissors", "slit" in forms), ("stapler", StepKind.STAPLE in kinds and "saddle" not in forms)]
    tools += [("long-arm stapler, or a stapler and corrugated card", StepKind.STAPLE in kinds and "saddle" in forms)]
    return tuple(name for name, needed in tools if needed)
