"""What to have ready before the evening begins: paper with spares, ink, staples, envelopes, pouches."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.model.press import Press
from kitbuilder.prep.cautions import LAMINATOR
from kitbuilder.prep.envelopes import booklet_pages, envelope_for
from kitbuilder.prep.folding import booklets_of, staples_in
from kitbuilder.prep.ink_use import InkUse
from kitbuilder.prep.pouches import pouches_for
from kitbuilder.prep.sorting import REVIEW_BOX, destinations
from kitbuilder.prep.steps import Need
from kitbuilder.prep.wording import in_inches, many, paper_words, stock_words, weight_words

SPARE_PERCENT = 4  # of the sheets, at least one: common practice, no source


def shopping(plan: PackPlan, press: Press, ink: Mapping[str, InkUse] | None, film: Sequence[Flat]) -> tuple[Need, ...]:
    """Return the list, paper first.

    `ink` is measured from the print files; without it ink is left out. `film` are the flats that are laminated; without
    any, pouches for what is kept are offered.
    """
    needs = [*_papers(plan, press)]
    if ink:
        needs.append(_ink(plan, ink))
    staples = sum(staples_in(b) for b in booklets_of(plan))
    if staples:
        needs.append(Need("Staples", f"{staples:,}", "24/6 or 26/6"))
    needs += _envelopes(plan, press)
    pouches, size = pouches_for(film or (f for f in plan.flats if f.durable), inches=in_inches(press))
    if pouches:
        note = size if film else f"{size}, for cards that last. {LAMINATOR}"
        needs.append(Need("Laminating pouches", f"{pouches:,}", note, optional=not film))
    return tuple(needs)


def spare_sheets(sheets: int) -> int:
    """Return how many sheets to have beyond those that are printed."""
    return -(-sheets * SPARE_PERCENT // 100)


def _papers(plan: PackPlan, press: Press) -> Iterator[Need]:
    sheets: Counter[tuple[str, str]] = Counter()
    for run in plan.runs:
        sheets[run.setup.stock, run.setup.paper] += len(run.sheets)
    inches = in_inches(press)
    for (name, paper), count in sheets.items():
        stock = press.stock(name)
        offcut = paper != str(press.paper)  # a reprint on what is left over
        spare = 0 if offcut else spare_sheets(count)
        what = stock_words(name)
        label = f"{what[:1].upper()}{what[1:]}, {paper_words(paper)}"
        notes = [f"{many(count, 'sheet')} and {many(spare, 'spare')}"] if spare else []
        if stock is not None:
            notes.insert(0, str(stock.buy) if stock.buy else weight_words(stock, inches=inches))
        yield Need(label, many(count + spare, "sheet"), "; ".join(notes))


def _ink(plan: PackPlan, ink: Mapping[str, InkUse]) -> Need:
    pages = sum(use.standard_pages for use in ink.values())
    sides = sum(len(file.pages) for file in plan.files)
    amount = f"about {many(max(1, round(pages)), 'page')}"
    estimated = ", estimated from a part of the pages" if any(use.estimated for use in ink.values()) else ""
    share = f"{pages / max(1, sides):.1f} a printed side"
    return Need("Ink or toner", amount, f"in pages as cartridges count them, 5 % covered; {share}{estimated}")


def _envelopes(plan: PackPlan, press: Press) -> Iterator[Need]:
    sizes: Counter[str] = Counter()
    pages, places = booklet_pages(plan), destinations(plan)
    for name, flats in places.items():
        if name != REVIEW_BOX:
            sizes[envelope_for(flats, pages, inches=in_inches(press)).name] += 1
    for size, count in sorted(sizes.items()):
        yield Need("Envelopes" if count > 1 else "Envelope", f"{count:,}", size)
    if REVIEW_BOX in places:
        yield Need("Review box", "1", "with a divider for each unit; a shoe box will do")
