"""Booklets to steps: which flats make each one, how they are nested and folded, where staples go.

Read from the flats, so that a reprint, which knows no pieces, has its booklets too.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from kitbuilder.artwork.frame import Line
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.model.press import Press
from kitbuilder.prep.cautions import SCISSORS, STAPLES
from kitbuilder.prep.steps import FoldPicture, Row, Step, StepKind
from kitbuilder.prep.wording import many, measure, whole_minutes

DESK_STAPLER_UM = 100_000  # how far an ordinary stapler reaches, 50 to 110 mm (from memory)
STAPLES_EACH = 2
SLIT_CREASES = 5  # three down, one along, one round the spine


@dataclass(frozen=True, slots=True)
class Booklet:
    """A held thing of several flats, or of one folded flat. `form`: saddle, side or slit; `note`: about thick ones."""

    piece_id: str
    title: str
    learner: str | None
    form: str
    flats: tuple[Flat, ...]
    note: str = ""

    @property
    def page_um(self) -> tuple[int, int]:
        """Width and height of one page."""
        first = self.flats[0]
        if self.form == "side":
            return first.width_um, first.height_um
        return first.folded[0].width_um, first.folded[0].height_um


def booklets_of(plan: PackPlan) -> tuple[Booklet, ...]:
    """Return the plan's booklets, top of their piles first."""
    flats: dict[str, list[Flat]] = defaultdict(list)
    for flat in plan.flats:
        flats[flat.piece_id].append(flat)
    found = []
    for piece_id, own in flats.items():
        form = _form(own)
        if form:
            ordered = tuple(sorted(own, key=lambda f: f.order))
            found.append(Booklet(piece_id, own[0].title, own[0].learner, form, ordered, _note(own[0].title, plan)))
    places = _piles_of(plan)
    # in the order they come off their piles, so that the pieces to take are always on top
    return tuple(sorted(found, key=lambda b: _off_the_pile(b, places)))


def _note(title: str, plan: PackPlan) -> str:
    """Return what the plan has to say about the booklet of that title: too thick for one staple."""
    start = f"{title}: "
    return next((note.removeprefix(start) for note in plan.notes if title and note.startswith(start)), "")


def _off_the_pile(booklet: Booklet, places: Mapping[str, tuple[str, int]]) -> tuple[str, int, tuple[int, str]]:
    pile, depth = places.get(booklet.flats[0].id, ("", 0))
    layout = pile.rstrip("0123456789")
    return layout.rjust(3), depth, (int(pile[len(layout) :] or 0), booklet.piece_id)


def _form(flats: list[Flat]) -> str:
    if flats[0].folded:
        return "saddle" if flats[0].two_sided else "slit"
    return "side" if len(flats) > 1 else ""


def fold_steps(plan: PackPlan, press: Press) -> Iterator[Step]:
    """Yield the steps for all booklets: folding first, then stapling, those made the same way together."""
    piles = _piles_of(plan)
    booklets = booklets_of(plan)
    for group in _alike(b for b in booklets if b.form == "saddle"):
        yield _fold_saddle(group, press, piles)
    for group in _alike(b for b in booklets if b.form == "slit"):
        yield _fold_slit(group, press, piles)
    for group in _alike((b for b in booklets if b.form == "saddle"), counted=False):
        yield _staple(group, press)
    for group in _alike(b for b in booklets if b.form == "side"):
        yield _staple_side(group, press, piles)


def _alike(booklets: Iterable[Booklet], *, counted: bool = True) -> tuple[list[Booklet], ...]:
    """Return booklets in groups of one size of page and, when `counted`, of one number of sheets, bound alike."""
    groups: dict[tuple[tuple[int, int], int, str, str], list[Booklet]] = {}
    for booklet in booklets:
        edge = booklet.flats[0].binding if booklet.form == "side" else ""
        key = (booklet.page_um, len(booklet.flats), edge, booklet.note) if counted else (booklet.page_um, 0, "", "")
        groups.setdefault(key, []).append(booklet)
    return tuple(groups.values())


def staples_in(booklet: Booklet) -> int:
    """Return how many staples a booklet takes: two, or two for each section of a thick one, as its marks say."""
    if booklet.form == "saddle":
        return STAPLES_EACH * max(1, sum(_has_staple_marks(flat) for flat in booklet.flats))
    return STAPLES_EACH if booklet.form == "side" else 0


def _has_staple_marks(flat: Flat) -> bool:
    """Tell whether the fold is marked on the outside: only on the outermost sheet of each section."""
    fold = flat.width_um // 2
    return any(isinstance(item, Line) and item.x1_um == item.x2_um == fold for item in flat.front.items)


def _piles_of(plan: PackPlan) -> Mapping[str, tuple[str, int]]:
    """Return pile and depth of every flat."""
    return {p.flat.id: (p.pile, p.depth) for _, _, sheet in plan.sheets() for p in sheet.placements}


def _row(booklet: Booklet, piles: Mapping[str, tuple[str, int]], minutes: float) -> Row:
    names = [piles[f.id][0] for f in booklet.flats if f.id in piles]
    if len(set(names)) == 1:
        text = f"pile {names[0]}" if len(names) == 1 else f"pile {names[0]}, {len(names)} from the top"
    else:
        text = f"piles {', '.join(names)}"
    label = booklet.title or booklet.piece_id
    return Row(label, text, tuple(f.id for f in booklet.flats), minutes, booklet.learner or "")


def _fold_saddle(group: list[Booklet], press: Press, piles: Mapping[str, tuple[str, int]]) -> Step:
    sheets = len(group[0].flats)
    each = sheets * (press.minutes.fold + press.minutes.collate)
    width, height = group[0].page_um
    if sheets == 1:
        how = ["Take the top piece of the pile and lay it down with the cover underneath."]
    else:
        how = [
            "Take the top piece of each pile named below, in that order. Lay the first one down with the cover "
            "underneath, and each next one on top of it, small marks at the fold upwards."
        ]
    how.append("Fold all of it in the middle, from mark to mark, and run the back of a spoon along the fold.")
    if group[0].note:
        how.append(group[0].note)
    return Step(
        StepKind.FOLD,
        f"Fold {_books(group)} of {many(sheets, 'sheet')}{_each(group)}",
        whole_minutes(each * len(group)),
        children_may_help=True,
        sentences=tuple(how),
        rows=tuple(_row(b, piles, each) for b in group),
        picture=FoldPicture("saddle", sheets, width, height, group[0].flats[0].binding, _staple_places(height)),
    )


def _staple(group: list[Booklet], press: Press) -> Step:
    width, height = group[0].page_um
    first = _staple_places(height)[0]
    inches = press.trimmer.inches
    sentences = [
        f"Lay the booklet open, cover upwards. Two staples go through the fold, on the marks: "
        f"{measure(first, inches=inches)} from the top and from the bottom."
    ]
    reach = f"The fold lies {measure(width, inches=inches)} from the edge"
    if width > DESK_STAPLER_UM:
        sentences.append(f"{reach}: a long-arm stapler reaches it.")
    else:
        sentences.append(f"{reach}: try whether your stapler reaches it; a long-arm stapler does.")
    sentences.append(
        "Without one: put corrugated card under the fold, open the stapler flat, press each staple through into the "
        "card, lift the booklet off, and bend the legs down inside with a spoon."
    )
    count = sum(staples_in(b) for b in group)
    return Step(
        StepKind.STAPLE,
        f"Staple {_books(group)}",
        whole_minutes(press.minutes.staple * count),
        children_may_help=False,
        sentences=tuple(sentences),
        cautions=(STAPLES,),
    )


def _fold_slit(group: list[Booklet], press: Press, piles: Mapping[str, tuple[str, int]]) -> Step:
    each = SLIT_CREASES * press.minutes.fold + press.minutes.slit
    width, height = group[0].page_um
    return Step(
        StepKind.FOLD,
        f"Fold {_books(group)} of one sheet with a slit",
        whole_minutes(each * len(group)),
        children_may_help=True,
        sentences=(
            "Fold along every dashed line, sharply, and open the sheet again.",
            "Fold it in half the short way, print outside. From the fold, cut along the solid line to the next crease.",
            "Open it, fold it in half the long way, print outside, and push both ends together until the slit opens "
            "and closes again as a cross of four.",
            "Wrap the pages round so that page 1 is in front.",
        ),
        rows=tuple(_row(b, piles, each) for b in group),
        cautions=(SCISSORS,),
        picture=FoldPicture("slit", 1, width, height, group[0].flats[0].binding),
    )


def _staple_side(group: list[Booklet], press: Press, piles: Mapping[str, tuple[str, int]]) -> Step:
    sheets = len(group[0].flats)
    each = sheets * press.minutes.collate + STAPLES_EACH * press.minutes.staple
    width, height = group[0].page_um
    binding = group[0].flats[0].binding
    edge = binding if binding in ("left", "right", "top") else "left"
    long = width if edge == "top" else height
    return Step(
        StepKind.STAPLE,
        f"Staple {_books(group)} of {many(sheets, 'leaf', 'leaves')}{_each(group)} along the {edge} edge",
        whole_minutes(each * len(group)),
        children_may_help=False,
        sentences=(
            "Lay the leaves on one another in order, first page on top, and knock the bound edge even.",
            f"Two staples go through the {edge} margin, on the marks of the first page. Any stapler reaches them.",
            *filter(None, (group[0].note,)),
        ),
        rows=tuple(_row(b, piles, each) for b in group),
        cautions=(STAPLES,),
        picture=FoldPicture("side", sheets, width, height, edge, _staple_places(long)),
    )


def _staple_places(long_um: int) -> tuple[int, int]:
    """Return the places at 1/4 and 3/4, as the marks are printed (common practice, no source)."""
    return long_um // 4, long_um - long_um // 4


def _books(group: Iterable[Booklet]) -> str:
    return many(len(list(group)), "booklet")


def _each(group: list[Booklet]) -> str:
    return " each" if len(group) > 1 else ""
