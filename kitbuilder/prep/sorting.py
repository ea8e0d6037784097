"""Piles to where they belong, and what is filed where."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.sheets import Pile
from kitbuilder.imposition.stacking import envelope_of
from kitbuilder.model.press import Press
from kitbuilder.prep.cautions import piece_cautions
from kitbuilder.prep.envelopes import BookletPages, booklet_pages, envelope_for
from kitbuilder.prep.folding import booklets_of
from kitbuilder.prep.steps import Row, Step, StepKind
from kitbuilder.prep.wording import in_inches, kind_title, many, titles_words, whole_minutes

REVIEW_BOX = "review box"  # the word of `imposition.stacking.envelope_of` for what is kept


def sort_step(plan: PackPlan, press: Press, kinds: Mapping[str, str] | None, *, laminated: bool) -> Step:
    """Return the step that takes every pile where it belongs; neighbours that belong together share a row."""
    held = flats_in_piles(plan)
    rows = tuple(_sort_rows(plan, held, kinds, press.minutes.sort_pile))
    sentences = [
        "Each place in a drawing gives one pile. It comes off the trimmer in order: keep it so, and do not shuffle."
    ]
    if any(sheet.stack > 1 and sheet.layout.strokes for _, _, sheet in plan.sheets()):
        sentences.append("Where a layout was cut in several stacks, each next stack's paper goes under the one before.")
    minutes = press.minutes.sort_pile * len(plan.piles())
    return Step(
        StepKind.SORT,
        f"Sort {many(len(plan.piles()), 'pile')}",
        whole_minutes(minutes),
        children_may_help=True,
        sentences=tuple(sentences),
        rows=rows,
        cautions=piece_cautions(
            (f for flats in held.values() for f in flats),
            press,
            laminated=laminated,
            named=dict.fromkeys(name for flat in plan.flats for name in flat.cautions),
        ),
    )


def flats_in_piles(plan: PackPlan) -> Mapping[str, tuple[Flat, ...]]:
    """Return what lies in each pile, top first."""
    piles: dict[str, list[tuple[int, Flat]]] = defaultdict(list)
    for _, _, sheet in plan.sheets():
        for placement in sheet.placements:
            piles[placement.pile].append((placement.depth, placement.flat))
    return {pile: tuple(f for _, f in sorted(flats, key=lambda p: p[0])) for pile, flats in piles.items()}


def _sort_rows(
    plan: PackPlan, held: Mapping[str, tuple[Flat, ...]], kinds: Mapping[str, str] | None, minutes: float
) -> Iterator[Row]:
    booklets = {b.piece_id for b in booklets_of(plan)}
    for _, group in groupby(plan.piles(), key=lambda p: (p.layout, p.holds, where_words(p, held[p.id]))):
        piles = tuple(group)
        flats = [flat for pile in piles for flat in held[pile.id]]
        ids = tuple(pile.id for pile in piles)
        where = where_words(piles[0], held[piles[0].id])
        yield Row(", ".join(ids), _contents(flats, booklets, kinds), ids, minutes * len(piles), where)


def where_words(pile: Pile, flats: Sequence[Flat]) -> str:
    """Return where a pile goes: `review box`, `envelope week 3, wren`; a mixed one from its top down."""
    names = set(_destinations(pile, flats))
    if len(names) == 1:
        name = names.pop()
        return name if name == REVIEW_BOX else f"envelope {name}"
    weeks = (f"{week} ({_children(list(own))})" for week, own in groupby(flats, key=_week))
    return "from the top: " + ", ".join(weeks)


def _week(flat: Flat) -> str:
    return REVIEW_BOX if flat.durable else f"week {flat.unit}"


def _children(flats: list[Flat]) -> str:
    """Return how many flats are each child's, in the order they lie: `moss 2, wren 4`."""
    runs = [(learner, len(list(own))) for learner, own in groupby(flats, key=lambda f: f.learner or "")]
    return ", ".join(f"{learner} {count}".strip() for learner, count in runs)


def _destinations(pile: Pile, flats: Sequence[Flat]) -> tuple[str, ...]:
    """Return the envelope of each flat of a pile: the pile's own, unless it mixes weeks or children."""
    own = tuple(envelope_of([flat]) for flat in flats)
    return own if len(set(own)) > 1 else (pile.envelope,) * len(flats)


def _contents(flats: list[Flat], booklets: set[str], kinds: Mapping[str, str] | None) -> str:
    """Return kinds with the titles of what is in the piles; spares are counted apart."""
    parts = []
    for kind, group in groupby(flats, key=lambda f: f.kind):
        own = list(group)
        titles = titles_words([f.title for f in own])
        spares = sum(1 for f in own if f.role != "piece")
        text = kind_title(kind, kinds)
        if own[0].piece_id in booklets:
            text += ", folded"
        text += f": {titles}" if titles else ""
        parts.append(text + (f" ({many(spares, 'spare')})" if spares else ""))
    return "; ".join(parts)


def store_step(plan: PackPlan, press: Press, kinds: Mapping[str, str] | None) -> Step:
    """Return the step that fills the envelopes and the review box, one row for each."""
    pages = booklet_pages(plan)
    rows = [_store_row(name, flats, pages, press, kinds) for name, flats in destinations(plan).items()]
    sizes = {row.aside for row in rows if row.ids != (REVIEW_BOX,)}
    if len(sizes) == 1 and len(rows) > 2:
        alike = f"Each envelope is {sizes.pop()}."
        rows = [row if row.ids == (REVIEW_BOX,) else replace(row, aside="") for row in rows]
    else:
        alike = ""
    sentences = [alike] if alike else []
    sentences += [f"Keep the folder {plan.name} on the computer: what gets lost or chewed is printed again from it."]
    if any(layout.strokes for layout in plan.layouts()):
        sentences.append("Keep offcuts larger than a card: a single piece can be printed on one later.")
    return Step(
        StepKind.STORE,
        "Fill envelopes and box" if len(rows) > 1 else "Put it away",
        whole_minutes(press.minutes.file_envelope * len(rows)),
        children_may_help=True,
        sentences=tuple(sentences),
        rows=tuple(rows),
    )


def destinations(plan: PackPlan) -> Mapping[str, tuple[Flat, ...]]:
    """Return the flats of each envelope, envelopes in the order of weeks, the review box last."""
    held = flats_in_piles(plan)
    found: dict[str, list[Flat]] = defaultdict(list)
    for pile in plan.piles():
        for flat, name in zip(held[pile.id], _destinations(pile, held[pile.id]), strict=True):
            found[name].append(flat)
    names = sorted(found, key=lambda name: (name == REVIEW_BOX, _natural(name)))
    return {name: tuple(found[name]) for name in names}


def _natural(name: str) -> tuple[tuple[int, str], ...]:
    """Return a key that puts week 2 before week 10."""
    return tuple((int(part), "") if part.isdigit() else (0, part) for part in name.replace(",", " ").split())


def _store_row(
    envelope: str, flats: Sequence[Flat], pages: BookletPages, press: Press, kinds: Mapping[str, str] | None
) -> Row:
    things: dict[str, set[str]] = defaultdict(set)
    for flat in flats:
        things[kind_title(flat.kind, kinds)].add(flat.piece_id if flat.role == "piece" else flat.id)
    what = ", ".join(f"{title} ({len(ids)})" for title, ids in things.items())
    minutes = press.minutes.file_envelope
    if envelope == REVIEW_BOX:
        units = sorted({flat.unit for flat in flats})
        divider = f"behind the divider for unit {units[0]}"
        behind = divider if len(units) == 1 else "each behind the divider for its unit"
        return Row("Review box", what, (envelope,), minutes, behind)
    size = envelope_for(flats, pages, inches=in_inches(press))
    small_print = f"{size.name}, pages folded once" if size.folded else size.name
    return Row(f"Envelope “{envelope}”", what, (envelope,), minutes, small_print)
