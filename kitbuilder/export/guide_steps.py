"""Steps as blocks: a box to tick, number, title and minutes; below them what to do, with its drawing beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from kitbuilder.artwork.frame import Box, Frame, Group, Text
from kitbuilder.export.guide_type import (
    ACCENT,
    BODY,
    INK,
    LABEL,
    PHASE,
    SMALL,
    SOFT,
    STEP,
    Type,
    below,
    beside,
    framed,
    inset,
    rule,
    space,
    style,
    tick_box,
)
from kitbuilder.prep.steps import CutPass, LayoutPicture, Picture, Row, Step, StepKind
from kitbuilder.prep.wording import many

BODY_LEFT_UM = 8_500  # of what stands below a step's title
_PICTURE_GAP_UM = 5_000
_SETTING_LABEL_UM = 13_000
_COLUMN_GAP_UM = 3_000
_LEAST_TEXT_UM = 70_000  # narrower text beside a drawing reads like a receipt
_CHIP_UM = 25_000  # one stroke: its number in a ring, its setting
_LINE_GAP_UM = 1_000
_PASS_DROP_UM = 700  # brings one line of a pass to the height of the strokes beside it
_BESIDE_UM = 110_000  # strokes beside a drawing go down so far, or as far as the drawing; the others stand below it
_MINUTES = style(9, 15, colour=ACCENT, bold=True)
_STEP_NUMBER = style(11.5, 15, bold=True, colour=ACCENT)
_RING = style(8, 10, bold=True, colour=ACCENT)
_SETTING = style(10.5, 14)
_PASS = style(9, 13, bold=True)
_WHERE = style(9, 14, colour=SOFT)
_WARN = style(9, 12.5)


@dataclass(frozen=True, slots=True)
class Block:
    """One frame of the flow; `stays` keeps it on the page of the block that follows, `gap_um` is the air above it."""

    frame: Frame
    gap_um: int = 0
    stays: bool = False


@dataclass(frozen=True, slots=True)
class Phase:
    """Steps that belong together under one heading."""

    title: str
    kinds: tuple[StepKind, ...]


PHASES = (
    Phase("Print", (StepKind.PRINT, StepKind.RELOAD)),
    Phase("Cut", (StepKind.CUT,)),
    Phase("Laminate", (StepKind.LAMINATE,)),
    Phase("Fold and staple", (StepKind.FOLD, StepKind.STAPLE)),
    Phase("Sort and file", (StepKind.SORT, StepKind.STORE)),
)

Drawing = Callable[[Picture], Frame]


def phase_blocks(phase: Phase, steps: Sequence[Step], width_um: int, kind: Type, drawing: Drawing) -> Iterator[Block]:
    """Yield the heading, what holds for all steps of the phase, and the steps."""
    minutes = many(sum(step.minutes for step in steps), "minute")
    yield Block(_heading(phase.title, minutes, width_um, kind), 7_000, stays=True)
    shared = shared_sentences(steps)
    for text in shared:
        yield Block(kind.paragraph(text, width_um), 1_500, stays=True)
    settings = shared_settings(steps)
    for label, value in settings:
        yield Block(_setting(label, value, width_um, kind), 1_500, stays=True)
    for text in dict.fromkeys(c for step in steps for c in step.cautions):
        yield Block(caution_box(text, width_um, kind), 2_500, stays=True)
    for step in steps:
        own = replace(
            step,
            sentences=tuple(s for s in step.sentences if s not in shared),
            settings=tuple(s for s in step.settings if s not in settings),
        )
        yield from _step_blocks(own, width_um, kind, drawing)


def shared_settings(steps: Sequence[Step]) -> tuple[tuple[str, str], ...]:
    """Return the settings that are the same in all steps that have any, and in more than one."""
    with_settings = [step.settings for step in steps if step.settings]
    if len(with_settings) < 2 or any(step.kind is StepKind.CUT for step in steps):
        return ()
    return tuple(s for s in with_settings[0] if all(s in other for other in with_settings))


def shared_sentences(steps: Sequence[Step]) -> tuple[str, ...]:
    """Return the sentences that all steps of a phase say, when there are several: printed once, under its heading."""
    if len(steps) < 2:
        return ()
    return tuple(s for s in dict.fromkeys(steps[0].sentences) if all(s in step.sentences for step in steps))


def _heading(title: str, minutes: str, width_um: int, kind: Type) -> Frame:
    left = kind.paragraph(title, width_um - 40_000, PHASE)
    right = inset(kind.paragraph(minutes, 40_000, _MINUTES, "right"), top_um=2_000)
    return below((beside((left, right)), rule(width_um, ACCENT, 400)), 800)


def caution_box(text: str, width_um: int, kind: Type) -> Frame:
    """Return a caution, set apart by a frame and the words "Take care"."""
    label = kind.paragraph("Take care", 18_000, style(9, 12.5, bold=True))
    words = kind.paragraph(text, width_um - 2 * 2_500 - 18_000, _WARN)
    return framed(beside((label, words)), 2_500, stroke=INK)


def _step_blocks(step: Step, width_um: int, kind: Type, drawing: Drawing) -> Iterator[Block]:
    yield Block(_title(step, width_um, kind), 5_000, stays=True)
    room = width_um - BODY_LEFT_UM
    if isinstance(step.picture, LayoutPicture):
        yield from _cut_blocks(step, room, kind, drawing(step.picture))
        return
    parts = [*_settings(step, room, kind), *_sentences(step, room, kind, drawing)]
    if step.aside is not None:
        parts.append(inset(_aside(step, room, kind), top_um=1_500))
    for number, part in enumerate(parts):
        is_last = number == len(parts) - 1
        yield Block(_indented(part), 1_200, stays=not is_last or bool(step.rows))
    for number, row in enumerate(step.rows):
        # a heading never stands alone at the foot of a page, nor one row at the head of the next
        stays = number == 0 < len(step.rows) - 1 or number == len(step.rows) - 2
        yield Block(_indented(row_frame(row, room, kind)), 1_500 if number else 2_000, stays=stays)


def _sentences(step: Step, width_um: int, kind: Type, drawing: Drawing) -> Iterator[Frame]:
    """Yield the sentences, a drawing beside them when both have room, else below."""
    if step.picture is None:
        yield from (kind.paragraph(s, width_um) for s in step.sentences)
        return
    picture = drawing(step.picture)
    left = width_um - picture.width_um - _PICTURE_GAP_UM
    if left < _LEAST_TEXT_UM:
        yield from (kind.paragraph(s, width_um) for s in step.sentences)
        yield inset(picture, top_um=1_500)
    else:
        words = below([kind.paragraph(s, left) for s in step.sentences], 1_200, left)
        yield beside((words, picture), _PICTURE_GAP_UM)


def _indented(frame: Frame) -> Frame:
    return inset(frame, left_um=BODY_LEFT_UM)


def _title(step: Step, width_um: int, kind: Type) -> Frame:
    """Return the line to tick: box, number, title; minutes at the right, and whether children may help."""
    help_words = "children may help · " if step.children_may_help else ""
    right = f"{help_words}{step.minutes} min"
    right_um = kind.width_um(right, _MINUTES) + 1_000
    number_um = kind.width_um(str(step.number), STEP) + 2_500
    number = kind.paragraph(str(step.number), number_um, _STEP_NUMBER)
    left = kind.paragraph(step.title, width_um - BODY_LEFT_UM - number_um - right_um, STEP)
    box = tick_box(4_800, 200)
    items = (
        Group(0, 0, 0, box),
        Group(BODY_LEFT_UM, 0, 0, number),
        Group(BODY_LEFT_UM + number_um, 0, 0, left),
        Group(width_um - right_um, 0, 0, kind.paragraph(right, right_um, _MINUTES, "right")),
    )
    return Frame(width_um, max(left.height_um, box.height_um), items, "step")


def _settings(step: Step, width_um: int, kind: Type) -> Iterator[Frame]:
    """Yield the settings, two on a line where both are short."""
    half = (width_um - _PICTURE_GAP_UM) // 2
    waiting: tuple[str, str] | None = None
    for label, value in step.settings:
        short = kind.width_um(value, BODY) <= half - _SETTING_LABEL_UM
        if waiting and short:
            pair = (_setting(*waiting, half, kind), _setting(label, value, half, kind))
            waiting = None
            yield beside(pair, _PICTURE_GAP_UM)
            continue
        if waiting:
            yield _setting(*waiting, width_um, kind)
        waiting = (label, value) if short else None
        if not short:
            yield _setting(label, value, width_um, kind)
    if waiting:
        yield _setting(*waiting, width_um, kind)


def _setting(label: str, value: str, width_um: int, kind: Type) -> Frame:
    room = width_um - _SETTING_LABEL_UM
    return beside((kind.paragraph(label, _SETTING_LABEL_UM, LABEL), kind.paragraph(value, room)))


def _aside(step: Step, width_um: int, kind: Type) -> Frame:
    assert step.aside is not None
    inner = width_um - 2 * 2_500
    lines = [kind.paragraph(step.aside.title, inner, style(8.5, 11.5, bold=True))]
    for number, sentence in enumerate(step.aside.sentences, 1):
        words = kind.paragraph(sentence, inner - 5_000, SMALL)
        lines.append(beside((kind.paragraph(f"{number}.", 5_000, SMALL), words)))
    return framed(below(lines, 300), 2_500)


def row_frame(row: Row, width_um: int, kind: Type) -> Frame:
    """Return a row to tick in three columns: its label, what it is, where it goes or what it needs."""
    box = tick_box()
    room = width_um - box.width_um - 2_500 - 2 * _COLUMN_GAP_UM
    label_um, aside_um = room * 30 // 100, room * 30 // 100
    words_um = room - label_um - aside_um
    columns = (
        kind.paragraph(row.label, label_um, LABEL),
        kind.paragraph(row.text, words_um),
        kind.paragraph(row.aside, aside_um, _WHERE),
    )
    return beside((box, space(2_500), beside(columns, _COLUMN_GAP_UM)))


def _cut_blocks(step: Step, width_um: int, kind: Type, picture: Frame) -> Iterator[Block]:
    """Yield the drawing with stacks and strokes beside it; what would hang far below the drawing stands under both."""
    narrow, wide = width_um - picture.width_um - _PICTURE_GAP_UM, width_um
    beside_it, under_it = _cut_parts(step, narrow, kind), _cut_parts(step, wide, kind, wide - narrow)
    room, fitting = max(picture.height_um, _BESIDE_UM), len(beside_it)
    while fitting > 1 and below(beside_it[:fitting], _LINE_GAP_UM, narrow).height_um > room:
        fitting -= 1
    text = below(beside_it[:fitting], _LINE_GAP_UM, narrow)
    rest = under_it[fitting:]
    yield Block(_indented(beside((picture, text), _PICTURE_GAP_UM)), 1_500, stays=bool(rest))
    for number, part in enumerate(rest, 1):
        yield Block(_indented(part), _LINE_GAP_UM, stays=number < len(rest))


def _cut_parts(step: Step, width_um: int, kind: Type, strokes_at_um: int = 0) -> list[Frame]:
    """Return stacks to tick, then the strokes in order, one part each; see `_pass` for where strokes stand."""
    parts = [_setting(label, value, width_um, kind) for label, value in step.settings]
    parts += [kind.paragraph(s, width_um) for s in step.sentences]
    parts += [_stack_row(row, width_um, kind) for row in step.rows]
    return parts + [_pass(each, width_um, kind, strokes_at_um) for each in step.passes]


def _stack_row(row: Row, width_um: int, kind: Type) -> Frame:
    box = tick_box()
    text = kind.paragraph(f"{row.label}: {row.text}", width_um - box.width_um - 2_500, LABEL)
    return beside((box, space(2_500), text))


def _pass(each: CutPass, width_um: int, kind: Type, strokes_at_um: int = 0) -> Frame:
    """Return what to take and how to turn it, and its strokes: below it, or beside it from `strokes_at_um` on."""
    chips = [_chip(str(line.number), line.setting, kind) for line in each.strokes]
    in_row = max(1, (width_um - strokes_at_um) // _CHIP_UM)
    rows = [beside(chips[at : at + in_row]) for at in range(0, len(chips), in_row)]
    if strokes_at_um:
        heading = kind.paragraph(each.heading, strokes_at_um - _PICTURE_GAP_UM, _PASS)
        return beside((inset(heading, top_um=_PASS_DROP_UM), below(rows, 600)), _PICTURE_GAP_UM)
    return inset(below((kind.paragraph(each.heading, width_um, _PASS), *rows), 600, width_um), top_um=1_200)


def _chip(number: str, setting: str, kind: Type) -> Frame:
    """Return one stroke: its number in a ring as in the drawing, then where the edge stop stands."""
    ring, height = 5_000, 6_000
    top = (height - ring) // 2
    x = (ring - kind.width_um(number, _RING)) // 2
    base = (height + kind.bold.cap_height_um(_RING.size_um)) // 2
    value_base = (height + kind.plain.cap_height_um(_SETTING.size_um)) // 2
    items = (
        Box(0, top, ring, ring, "#ffffff", ACCENT, 250, ring // 2),
        Text(x, base, number, _RING.font, _RING.size_um, _RING.colour),
        Text(ring + 1_300, value_base, setting, _SETTING.font, _SETTING.size_um, _SETTING.colour),
    )
    return Frame(_CHIP_UM, height, items, "stroke")
