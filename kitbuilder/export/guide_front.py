"""The guide's first blocks: what this pack is, its numbers, what to have ready, the evenings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kitbuilder.artwork.frame import Box, Frame, Item
from kitbuilder.export.guide_steps import PHASES, Block, caution_box
from kitbuilder.export.guide_type import (
    ACCENT,
    BODY,
    FIGURE,
    LABEL,
    SHADE,
    SMALL,
    SOFT,
    SUBTITLE,
    TITLE,
    Type,
    below,
    beside,
    framed,
    space,
    style,
    tick_box,
)
from kitbuilder.prep.evenings import Sitting
from kitbuilder.prep.steps import Need, Prep
from kitbuilder.prep.wording import joined, many, span

_SECTION = style(11.5, 16, bold=True, colour=ACCENT)
_FIGURE_LABEL = style(8.5, 11, colour=SOFT)
_PHASE_OF = {kind: phase.title.lower() for phase in PHASES for kind in phase.kinds}
_BAR_UM = 3_200
_BAR_LABEL = style(8.5, 11)


def front_blocks(prep: Prep, sittings: Sequence[Sitting], width_um: int, kind: Type) -> Iterator[Block]:
    """Yield the pack at a glance."""
    yield Block(kind.paragraph(prep.title, width_um, TITLE), stays=True)
    yield Block(kind.paragraph(f"{prep.subtitle} · prep guide", width_um, SUBTITLE), stays=True)
    yield Block(_figures(prep, width_um, kind), 5_000, stays=True)
    yield Block(_minutes_bar(prep, width_um, kind), 4_000, stays=True)
    yield Block(kind.paragraph("What is in it", width_um, _SECTION), 6_000, stays=True)
    for label, text in prep.contents:
        yield Block(beside((kind.paragraph(label, 30_000, LABEL), kind.paragraph(text, width_um - 30_000))), 600)
    for note in prep.notes:
        yield Block(caution_box(note, width_um, kind), 2_500)
    yield Block(kind.paragraph("Have ready", width_um, _SECTION), 6_000, stays=True)
    yield from _needs(prep, width_um, kind)
    if sittings:
        yield Block(kind.paragraph("Evening by evening", width_um, _SECTION), 6_000, stays=True)
        for sitting in sittings:
            yield Block(_sitting(sitting, prep, width_um, kind), 1_500)
    yield Block(kind.paragraph(prep.footing, width_um, SMALL), 5_000)


def _figures(prep: Prep, width_um: int, kind: Type) -> Frame:
    totals = prep.totals
    cells = [
        (totals.sheets, "sheet of paper and card" if totals.sheets == 1 else "sheets of paper and card"),
        (totals.sides, "printed side" if totals.sides == 1 else "printed sides"),
        (totals.strokes, "blade stroke" if totals.strokes == 1 else "blade strokes"),
        (totals.booklets, "booklet" if totals.booklets == 1 else "booklets"),
        (totals.minutes, "minute in all" if totals.minutes == 1 else "minutes in all"),
    ]
    each = (width_um - 2 * 4_000) // len(cells)
    columns = [
        below((kind.paragraph(f"{n:,}", each, FIGURE), kind.paragraph(label, each - 2_000, _FIGURE_LABEL)))
        for n, label in cells
    ]
    return framed(Frame(each * len(cells), max(c.height_um for c in columns), beside(columns).items), 4_000)


def _minutes_bar(prep: Prep, width_um: int, kind: Type) -> Frame:
    """Return a bar in proportion to the minutes of each kind of work, and the same in words."""
    shares = [(phase.title, prep.minutes_of(*phase.kinds)) for phase in PHASES]
    shares = [(title, minutes) for title, minutes in shares if minutes]
    total = sum(minutes for _, minutes in shares) or 1
    items: list[Item] = []
    done = 0
    for number, (_, minutes) in enumerate(shares):
        left = width_um * done // total
        done += minutes
        right = width_um * done // total
        fill = ACCENT if number % 2 == 0 else SHADE
        items.append(Box(left + 150, 150, right - left - 300, _BAR_UM, fill, ACCENT, 250))
    bar = Frame(width_um, _BAR_UM + 300, tuple(items), "minutes")
    words = "  ·  ".join(f"{title} {minutes} min" for title, minutes in shares)
    return below((bar, kind.paragraph(words, width_um, _BAR_LABEL)), 1_000)


def _needs(prep: Prep, width_um: int, kind: Type) -> Iterator[Block]:
    """Yield what to have ready in two columns; what is optional stands last, over the whole width."""
    column = (width_um - 8_000) // 2
    needed = [_need(need, column, kind) for need in prep.shopping if not need.optional]
    half = -(-len(needed) // 2)
    left, right = below(needed[:half], 1_800, column), below(needed[half:], 1_800, column)
    yield Block(beside((left, right), 8_000), 1_500)
    for need in prep.shopping:
        if need.optional:
            yield Block(_need(need, width_um, kind), 1_800)
    tools = kind.paragraph(f"On the table: {', '.join(prep.tools)}.", width_um, BODY)
    yield Block(tools, 2_500)


def _need(need: Need, width_um: int, kind: Type) -> Frame:
    box = tick_box()
    room = width_um - box.width_um - 2_500
    label = "If you like: " if need.optional else ""
    words = [kind.paragraph(f"{label}{need.what}: {need.amount}", room, LABEL)]
    if need.note:
        words.append(kind.paragraph(need.note, room, SMALL))
    return beside((box, space(2_500), below(words)))


def _sitting(sitting: Sitting, prep: Prep, width_um: int, kind: Type) -> Frame:
    box = tick_box()
    room = width_um - box.width_um - 2_500
    words = [kind.paragraph(sitting_words(sitting), room, LABEL), kind.paragraph(part_words(sitting, prep), room, BODY)]
    return beside((box, space(2_500), below(words)))


def sitting_words(sitting: Sitting) -> str:
    """Return `Evening 2 · 25 minutes · children may help`."""
    who = "children may help" if sitting.children_may_help else "blade out, grown-ups only" if sitting.blade else ""
    return " · ".join(filter(None, (f"Evening {sitting.number}", many(sitting.minutes, "minute"), who)))


def part_words(sitting: Sitting, prep: Prep) -> str:
    """Return what is done: `Steps 1 to 6: print, cut.`, `Step 7, stacks 2 to 4: cut.`"""
    steps = {step.number: step for step in prep.steps}
    whole = [part.step for part in sitting.parts if not part.rows]
    texts = [f"{'steps' if len(whole) > 1 else 'step'} {span(whole[0], whole[-1])}"] if whole else []
    for part in sitting.parts:
        if part.rows:
            labels = [steps[part.step].rows[row - 1].label for row in part.rows]
            rows = labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"
            text = f"step {part.step}, {rows}"
            texts = [text, *texts] if whole and part.step < whole[0] else [*texts, text]
    kinds = [_PHASE_OF[steps[part.step].kind] for part in sitting.parts]
    words = "; ".join(texts)
    text = f"{words[:1].upper()}{words[1:]}: {joined(list(dict.fromkeys(kinds)))}."
    return f"{text} Longer than you asked for: stop after any stroke, and tick it." if sitting.too_long else text
