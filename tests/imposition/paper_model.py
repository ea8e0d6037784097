"""Imagined paper: sheets printed, turned, cut, folded, nested and read, by whole-number rotations only.

Paper: x right and y down on the front, z from front to back. World: x right, y toward the person, z down. Both are
right-handed, so every movement of real paper is a rotation (never a mirror image). Lengths are doubled micrometres
from the centre of the sheet, so that halves are whole. Nothing here is taken from the programme but its plain data.
"""

from __future__ import annotations

from dataclasses import dataclass, field

Vector = tuple[int, int, int]
Matrix = tuple[Vector, Vector, Vector]

IDENTITY: Matrix = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
ABOUT_VERTICAL: Matrix = ((-1, 0, 0), (0, 1, 0), (0, 0, -1))  # as one turns a leaf of a book
ABOUT_HORIZONTAL: Matrix = ((1, 0, 0), (0, -1, 0), (0, 0, -1))  # as one turns a leaf of a wall calendar
END_FOR_END: Matrix = ((-1, 0, 0), (0, -1, 0), (0, 0, 1))
QUARTER: Matrix = ((0, 1, 0), (-1, 0, 0), (0, 0, 1))  # counter-clockwise as one looks at the front
UP: Vector = (0, -1, 0)
TOWARD_READER: Vector = (0, 0, -1)
AWAY: Vector = (0, 0, 1)


def times(a: Matrix, b: Matrix) -> Matrix:
    return tuple(tuple(sum(a[i][k] * b[k][j] for k in range(3)) for j in range(3)) for i in range(3))


def turn(m: Matrix, v: Vector) -> Vector:
    return tuple(sum(m[i][k] * v[k] for k in range(3)) for i in range(3))


def back_again(m: Matrix) -> Matrix:
    """A rotation's inverse is its transpose."""
    return tuple(zip(*m, strict=True))


def quarters(count: int) -> Matrix:
    m = IDENTITY
    for _ in range(count % 4):
        m = times(QUARTER, m)
    return m


@dataclass(frozen=True)
class Mark:
    """A word on paper: where its start is, which way its top points, which way its side of the paper faces."""

    text: str
    at: Vector
    up: Vector
    faces: Vector

    def moved(self, m: Matrix, by: tuple[int, int] = (0, 0)) -> Mark:
        x, y, z = turn(m, self.at)
        return Mark(self.text, (x + by[0], y + by[1], z), turn(m, self.up), turn(m, self.faces))


def words_on(page, size: tuple[int, int]) -> list[Mark]:
    """The words of a page image: `page` is a list of (x, y, quarter turns, frame), the size is the page's."""
    marks = []
    for x, y, turns, frame in page:
        w, h = (frame.width_um, frame.height_um)[:: -1 if turns % 2 else 1]
        inner = [(i.x_um, i.y_um, i.quarter_turns, i.frame) for i in frame.items if hasattr(i, "quarter_turns")]
        words = words_on(inner, (frame.width_um, frame.height_um))
        words += [
            Mark(i.text, (2 * i.x_um - frame.width_um, 2 * i.y_um - frame.height_um, 0), UP, TOWARD_READER)
            for i in frame.items
            if hasattr(i, "text")
        ]
        marks += [m.moved(quarters(turns), (2 * x + w - size[0], 2 * y + h - size[1])) for m in words]
    return marks


@dataclass
class Sheet:
    """A real sheet of paper with what has been printed on it so far."""

    width: int
    height: int
    marks: list[Mark] = field(default_factory=list)

    def receive(self, page, image_to_paper: Matrix) -> None:
        self.marks += [m.moved(image_to_paper) for m in words_on(page, (self.width, self.height))]


def print_both(size, front, back, edge: str) -> Sheet:
    """A sheet through a two-sided printer that turns it about its long or short edge."""
    width, height = size
    sheet = Sheet(width, height)
    sheet.receive(front, IDENTITY)
    long_is_vertical = height >= width
    vertical = (edge == "long") == long_is_vertical
    sheet.receive(back, back_again(ABOUT_VERTICAL if vertical else ABOUT_HORIZONTAL))
    return sheet


@dataclass(frozen=True)
class Printer:
    """A one-sided printer: which face of the sheet in the tray it prints, which end of the image goes in first, ..."""

    prints_upper: bool
    head_first: bool
    comes_out: str  # the printed side of what came out: "up" | "down"
    last_page_first: bool
    feeds_from_bottom: bool
    landscape_quarters: int = 1  # how it turns a landscape image to fit portrait paper

    def image_to_world(self, landscape: bool) -> Matrix:
        m = IDENTITY if self.prints_upper else ABOUT_VERTICAL
        m = m if self.head_first else times(END_FOR_END, m)
        return times(m, quarters(self.landscape_quarters)) if landscape else m

    def run(self, pile: list[Sheet], pose: Matrix, pages: list, landscape: bool) -> list[Sheet]:
        """Print a file on a pile (top first) whose sheets lie in `pose`; the pile that came out, top first."""
        fed = list(reversed(pile)) if self.feeds_from_bottom else list(pile)
        job = list(reversed(pages)) if self.last_page_first else list(pages)
        m = times(back_again(pose), self.image_to_world(landscape))
        for sheet, page in zip(fed, job, strict=True):
            sheet.receive(page, m)
        return list(reversed(fed))

    def by_hand(self, size, fronts: list, backs: list, tray_face: str, turned: bool) -> list[Sheet]:
        """Fronts, then backs on the same pile put back with `tray_face`, top edge first or turned end for end."""
        landscape = size[0] > size[1]
        blank = [Sheet(*size) for _ in fronts]
        first_pose = self.image_to_world(False)  # this makes the paper's own frame that of an upright portrait front
        pile = self.run(blank, first_pose, fronts, landscape)
        if tray_face != self.comes_out:
            pile.reverse()  # turned over as a whole
        pose = IDENTITY if tray_face == "up" else ABOUT_VERTICAL
        self.run(pile, times(END_FOR_END, pose) if turned else pose, backs, landscape)
        return pile


ALL_PRINTERS = tuple(
    Printer(upper, head, out, last, bottom)
    for upper in (True, False)
    for head in (True, False)
    for out in ("up", "down")
    for last in (True, False)
    for bottom in (True, False)
)


@dataclass(frozen=True)
class Cutting:
    """A rectangle off the trimmer, in its sheet's doubled coordinates, with the marks on both its sides."""

    left: int
    top: int
    right: int
    bottom: int
    marks: tuple[Mark, ...]


def cut(sheet: Sheet, cuts) -> list[Cutting]:
    """Carry out cuts in order of stage; a cut goes through every piece it crosses from edge to edge."""
    pieces = [(-sheet.width, -sheet.height, sheet.width, sheet.height)]
    for c in sorted(cuts, key=lambda c: c.stage):
        i = 0 if c.axis == "x" else 1
        size = (sheet.width, sheet.height)
        at, start, end = 2 * c.at_um - size[i], 2 * c.from_um - size[1 - i], 2 * c.to_um - size[1 - i]
        after = []
        for box in pieces:
            if box[i] < at < box[i + 2] and start <= box[1 - i] and box[3 - i] <= end:
                near, far = list(box), list(box)
                near[i + 2] = far[i] = at
                after += [tuple(near), tuple(far)]
            else:
                after.append(box)
        pieces = after
    return [Cutting(*box, tuple(m for m in sheet.marks if _inside(m, box))) for box in pieces]


def _inside(mark: Mark, box) -> bool:
    x, y, _ = mark.at
    return box[0] < x < box[2] and box[1] < y < box[3]


@dataclass(frozen=True)
class Leaf:
    """Half a folded sheet: marks about the spine (x = 0, y = 0 at its middle); first the side one meets first."""

    first: tuple[Mark, ...]
    second: tuple[Mark, ...]


def fold(piece: Cutting, binding: str = "left") -> tuple[Leaf, Leaf]:
    """Turn a cutting so that its front stands upright, fold the far half behind; the front leaf and the rear leaf."""
    middle = ((piece.left + piece.right) // 2, (piece.top + piece.bottom) // 2)
    marks = [m.moved(IDENTITY, (-middle[0], -middle[1])) for m in piece.marks]
    lead = next((m for m in marks if m.faces == TOWARD_READER), marks[0])
    straight = next(q for q in map(quarters, range(4)) if turn(q, lead.up) == UP)
    marks = [m.moved(straight) for m in marks]
    sign = 1 if binding == "left" else -1
    near = [m for m in marks if sign * m.at[0] > 0]
    far = [m.moved(ABOUT_VERTICAL) for m in marks if sign * m.at[0] < 0]
    assert len(near) + len(far) == len(marks), "a mark on the fold"
    return _leaf(near), _leaf(far)


def _leaf(marks: list[Mark]) -> Leaf:
    seen = tuple(m for m in marks if m.faces == TOWARD_READER)
    hidden = tuple(m.moved(ABOUT_VERTICAL) for m in marks if m.faces == AWAY)
    return Leaf(seen, hidden)


def nest(pieces: list[Cutting], binding: str = "left") -> list[Leaf]:
    """Folded sheets put into one another, the first outermost: their leaves from front to rear."""
    folded = [fold(p, binding) for p in pieces]
    return [front for front, _ in folded] + [rear for _, rear in reversed(folded)]


def read(leaves: list[Leaf]) -> list[tuple[Mark, ...]]:
    """What a reader meets, page by page: the marks as they lie before the eyes, the spine at x = 0."""
    return [side for leaf in leaves for side in (leaf.first, leaf.second)]
