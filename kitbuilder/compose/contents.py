"""What a week's pack holds for a child: a line for each kind that is made by default or asked for in the unit.

Worked out from the definitions, not from the pieces of one run: a label printed alone says the same as in a whole pack.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from kitbuilder.compose.expressions import compile_value
from kitbuilder.compose.face_items import truth
from kitbuilder.compose.job_scope import scope_of
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.options import read_options
from kitbuilder.compose.sources import Sources
from kitbuilder.compose.writing_pages import writing_pages
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.measure.geometry import Size
from kitbuilder.model.templates import KindSize, KindTemplate

Content = Mapping[str, Any]
NOT_LISTED = frozenset({"envelope-label", "unit-sheet", "divider"})
# mm, for a little picture in the right proportions
_PARTS = {
    "page": (210, 297),
    "wide page": (297, 210),
    "half page": (210, 148),
    "quarter page": (105, 148),
    "eighth page": (74, 105),
}
_ONE = ("flip-books", "dice-pages", "paths", "sorts", "unit-sheets")  # modules that make one thing and its parts


def week_contents(job: Job, sources: Sources) -> tuple[Content, ...]:
    """Return what is new for the unit of the job, in the order of the kinds: title, how many, and a sketch.

    `count` is 0 where only composing tells. `kept` things go into the review box, the others into the envelope.
    """
    asked: dict[str, Any] = {str(name): None for name in sources.home.sequence.kinds}
    for wanted, material in job.unit.materials:
        if material.none:
            asked.pop(str(wanted), None)
        else:
            asked[str(wanted)] = material
    found: list[Content] = []
    for name, kind in sources.kinds.items():
        if name not in asked or name in NOT_LISTED:
            continue
        count = _count(job, kind, asked[name], sources)
        if count is None:
            continue
        found.append({"title": kind.title, "count": count, "kept": kind.durable, "about": kind.about, **_sketch(kind)})
    return tuple(found)


def _count(job: Job, kind: KindTemplate, material: Any, sources: Sources) -> int | None:
    """Return how many there will be, 0 when that is not known, None when there is nothing to make."""
    options = read_options(kind, material, ProblemLog())
    count = material.count if material else None
    one = replace(job, kind=kind, options=options, count=count, asked_at=kind.location)
    if kind.module:
        return _count_of_module(one, material.size if material else None, sources)
    items = sources.listed(kind.made_for, one)
    if count is not None and kind.made_for != "unit":
        items = items[:count]
    total = 0
    for item in items:
        if not item.get("counted", True):
            continue
        scope = scope_of(one, item)
        if not kind.picked or truth(compile_value(kind.picked)(scope)):
            total += int(compile_value(kind.copies)(scope))
    return total or None


def _count_of_module(job: Job, size: Size | None, sources: Sources) -> int | None:
    """Return how many booklets, pages or sets a module makes; 0 where only composing tells."""
    module = job.kind.module
    if module == "booklets":
        return len(job.unit.booklets) or None
    if module == "fluency-grids":  # for each form the child's page and the adult's
        empty = job.options["of"] == "made-up" and len(sources.nonsense_words(job)) < 2
        return None if empty else 2 * job.forms
    if module == "handwriting":
        if sources.format_of is None:
            return 0
        page = replace(job, format=sources.format_of(job.kind, size, job.learner, job.asked_at, False))
        return sum(len(writing_pages(page, sources, form)) for form in range(1, job.forms + 1)) or None
    return 1 if module in _ONE else 0


def _sketch(kind: KindTemplate) -> dict[str, Any]:
    """Return width and height in mm, and whether it is a page with lines or folded at a spine."""
    sizes = dict(kind.sizes)
    size: KindSize = sizes.get("any") or sizes.get("a4") or next(iter(sizes.values()))
    if size.size is None:
        width, height = _PARTS[size.part]
    else:
        width, height = round(size.size.width.to_mm()), round(size.size.height.to_mm())
    return {"width": width, "height": height, "page": size.part.endswith("page"), "spine": kind.module == "booklets"}
