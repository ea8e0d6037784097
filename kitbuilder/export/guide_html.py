"""The same guide as a fragment of HTML for the preview: headings, ordered steps, boxes to tick with their labels."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from html import escape
from pathlib import Path

from kitbuilder.artwork.frame import Frame
from kitbuilder.export.guide_front import part_words, sitting_words
from kitbuilder.export.guide_steps import PHASES, Drawing
from kitbuilder.export.guide_type import guide_type
from kitbuilder.export.prep_guide import drawer
from kitbuilder.export.svg import frame_svg, mm
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.prep.evenings import Sitting
from kitbuilder.prep.steps import FoldPicture, LayoutPicture, Need, Picture, Prep, ReloadPicture, Row, Step
from kitbuilder.prep.wording import many


def guide_html(
    prep: Prep, plan: PackPlan, font_files: Callable[[str], Path], sittings: Sequence[Sitting] = (), level: int = 2
) -> str:
    """Return `<section class="guide">...</section>`; its headings start at `level`, its ids with "guide-".

    The page around it brings the fonts Andika and Andika-Bold (`svg.font_face`) and its own colours; drawings stand on
    white in any of them.
    """
    draw = drawer(plan, guide_type(font_files))
    parts = [
        f'<section class="guide" aria-labelledby="guide-title"><h{level} id="guide-title">'
        f"{escape(prep.title)}: prep guide</h{level}>"
    ]
    parts += _front(prep, sittings, level + 1)
    for phase in PHASES:
        steps = [step for step in prep.steps if step.kind in phase.kinds]
        if steps:
            minutes = many(sum(step.minutes for step in steps), "minute")
            parts.append(f"<h{level + 1}>{escape(phase.title)} <small>{minutes}</small></h{level + 1}>")
            parts += _cautions(steps)
            parts.append(f'<ol class="guide-steps" start="{steps[0].number}">')
            parts += [_step(step, draw) for step in steps]
            parts.append("</ol>")
    parts.append(f'<p class="guide-footing">{escape(prep.footing)}</p></section>')
    return "\n".join(parts)


def _front(prep: Prep, sittings: Sequence[Sitting], level: int) -> Iterator[str]:
    totals = prep.totals
    numbers = (
        many(totals.sheets, "sheet"),
        many(totals.sides, "printed side"),
        many(totals.strokes, "blade stroke"),
        many(totals.booklets, "booklet"),
        many(totals.minutes, "minute"),
    )
    yield f"<p>{escape(prep.subtitle)}</p>"
    yield f'<p class="guide-totals">{escape(" · ".join(numbers))}</p>'
    yield "<dl>" + "".join(f"<dt>{escape(a)}</dt><dd>{escape(b)}</dd>" for a, b in prep.contents) + "</dl>"
    yield from (_caution(note) for note in prep.notes)
    yield f"<h{level}>Have ready</h{level}>"
    yield '<ul class="guide-needs">' + "".join(_need(n, need) for n, need in enumerate(prep.shopping, 1)) + "</ul>"
    yield f"<p>On the table: {escape(', '.join(prep.tools))}.</p>"
    if sittings:
        yield f"<h{level}>Evening by evening</h{level}>"
        yield "<ol>" + "".join(_sitting(s, prep) for s in sittings) + "</ol>"


def _need(number: int, need: Need) -> str:
    label = "If you like: " if need.optional else ""
    note = f" <small>{escape(need.note)}</small>" if need.note else ""
    return f"<li>{_tick(f'guide-need-{number}', f'{label}{need.what}: {need.amount}')}{note}</li>"


def _sitting(sitting: Sitting, prep: Prep) -> str:
    tick = _tick(f"guide-evening-{sitting.number}", sitting_words(sitting))
    return f"<li>{tick} {escape(part_words(sitting, prep))}</li>"


def _cautions(steps: Sequence[Step]) -> Iterator[str]:
    for text in dict.fromkeys(c for step in steps for c in step.cautions):
        yield _caution(text)


def _caution(text: str) -> str:
    return f'<p class="guide-caution" role="note"><strong>Take care:</strong> {escape(text)}</p>'


def _step(step: Step, draw: Drawing) -> str:
    key = f"guide-step-{step.number}"
    help_words = ", children may help" if step.children_may_help else ""
    parts = [f"<li>{_tick(key, step.title)} <small>{step.minutes} min{help_words}</small>"]
    if step.settings:
        pairs = "".join(f"<dt>{escape(a)}</dt><dd>{escape(b)}</dd>" for a, b in step.settings)
        parts.append(f"<dl>{pairs}</dl>")
    parts += [f"<p>{escape(text)}</p>" for text in step.sentences]
    if step.rows:
        parts.append("<ul>" + "".join(_row(f"{key}-{n}", row) for n, row in enumerate(step.rows, 1)) + "</ul>")
    for each in step.passes:
        strokes = "".join(f'<li value="{s.number}">{escape(s.setting)}</li>' for s in each.strokes)
        parts.append(f'<p class="guide-pass">{escape(each.heading)}</p><ol class="guide-strokes">{strokes}</ol>')
    if step.picture is not None:
        parts.append(_svg(draw(step.picture), picture_words(step.picture)))
    if step.aside is not None:
        sentences = "".join(f"<li>{escape(text)}</li>" for text in step.aside.sentences)
        parts.append(f"<details><summary>{escape(step.aside.title)}</summary><ol>{sentences}</ol></details>")
    return "".join(parts) + "</li>"


def _row(key: str, row: Row) -> str:
    small = f" <small>{escape(row.aside)}</small>" if row.aside else ""
    return f"<li>{_tick(key, f'{row.label}: {row.text}')}{small}</li>"


def _tick(key: str, label: str) -> str:
    return f'<input type="checkbox" id="{key}"> <label for="{key}">{escape(label)}</label>'


def _svg(frame: Frame, words: str) -> str:
    width, height = mm(frame.width_um), mm(frame.height_um)
    return (
        f'<svg class="guide-picture" style="background:#fff" role="img" aria-label="{escape(words)}" '
        f'viewBox="0 0 {width} {height}" width="{width}mm" height="{height}mm">{frame_svg(frame)}</svg>'
    )


def picture_words(picture: Picture) -> str:
    """Return what a drawing shows, for those who do not see it; the text beside it says all of it too."""
    if isinstance(picture, LayoutPicture):
        return f"Layout {picture.layout} from the front: piles, and cut lines with their numbers"
    if isinstance(picture, ReloadPicture):
        turned = "turned over" if picture.turned_over else "not turned over"
        return f"The pile is {turned} and goes in with the printed side {picture.goes_in}, {picture.edge} edge first"
    assert isinstance(picture, FoldPicture)
    return {
        "saddle": "Sheets nested with the cover outside, two staples in the fold",
        "side": f"Leaves with two staples along the {picture.binding} edge",
    }.get(picture.form, "A sheet of eight pages: dashed lines are folded, the firm line is cut")
