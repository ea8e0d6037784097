"""Jobs with the formats that their stock, their options and their booklets ask for: where composing meets the press."""

from __future__ import annotations

from dataclasses import replace

from kitbuilder.compose.jobs import Job
from kitbuilder.compose.kinds.booklets import bound_right, page_wanted
from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.imposition.booklet_formats import booklet_format
from kitbuilder.imposition.formats import FormatFinder
from kitbuilder.measure.format import Format
from kitbuilder.model.press import Press
from kitbuilder.model.unit import Material


def with_formats(job: Job, finder: FormatFinder) -> Job:
    """Return the job, its formats made for labels, rings and booklets; what cannot be is noted in the finder's log."""
    press, log = finder.press, finder.log
    _check_stock(job.stock, press, log, job.asked_at)
    cover = job.options.get("cover-stock")
    if cover:
        material = _material(job)
        asked = material.option("cover-stock") if material else None
        _check_stock(str(cover), press, log, getattr(asked, "location", None) or job.asked_at)
    job = _on_labels(job, finder)
    if job.options.get("ring"):
        job = replace(
            job,
            format=finder.with_ring(job.format, job.asked_at),
            wide_format=finder.with_ring(job.wide_format, job.asked_at),
        )
    return replace(job, pages=_booklet_pages(job, finder)) if job.kind.module == "booklets" else job


def _material(job: Job) -> Material | None:
    """Return what the unit says of the job's kind."""
    return next((material for name, material in job.unit.materials if str(name) == job.kind.name), None)


def _check_stock(name: str, press: Press, log: ProblemLog, place: Location | None) -> None:
    if press.stock(name) is None:
        names = ", ".join(str(s.name) for s in press.stocks)
        hint = f"press.yaml has {names}; add it there or take one of these"
        log.add(f"there is no stock called {name!r}", "unknown-stock", hint, place)


def _on_labels(job: Job, finder: FormatFinder) -> Job:
    stock = finder.press.stock(job.stock)
    if stock is None or stock.labels is None:
        return job
    material = _material(job)
    asked = bool(material and material.size)
    if len(job.kind.faces) > 1 or job.kind.module == "booklets":
        finder.log.add(
            f"{job.kind.name} cannot be printed on labels: it has more than one side",
            "back-on-label",
            "leave 'stock' out, or name a stock without labels",
            job.asked_at,
        )
        return job
    return replace(
        job,
        format=finder.on_labels(job.format, stock, asked, job.asked_at),
        wide_format=finder.on_labels(job.wide_format, stock, asked, job.asked_at),
    )


def _booklet_pages(job: Job, finder: FormatFinder) -> dict[tuple[str, str], Format]:
    pages: dict[tuple[str, str], Format] = {}
    material = _material(job)
    for booklet in job.unit.booklets:
        wanted = page_wanted(booklet, job.options)
        page, making = wanted
        if not page and material and material.size:
            page = f"{material.size.width} x {material.size.height}"
        asked = booklet.page or (material.option("page") if material else None)
        place = getattr(asked, "location", None) or booklet.title.location or job.asked_at
        if wanted not in pages:
            pages[wanted] = booklet_format(finder, job.kind, page, making, bound_right(job), place)
    return pages
