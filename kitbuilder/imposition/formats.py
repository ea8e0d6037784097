"""Formats: what size a kind is on this paper, and how far its ink must stay from the edge on this printer."""

from __future__ import annotations

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.imposition.binding import Punch, punch_insets, wider
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import Length, inch
from kitbuilder.measure.paper import PAPERS
from kitbuilder.model.learners import Learner
from kitbuilder.model.press import Press
from kitbuilder.model.templates import KindSize, KindTemplate

# part of a sheet -> (division, parts across the short side, parts along the long side)
_PARTS = {"page": (1, 1, 1), "half page": (2, 1, 2), "quarter page": (4, 2, 2), "eighth page": (8, 2, 4)}


class FormatFinder:
    """Answers with the format of a kind; notes sizes that this paper cannot give."""

    def __init__(self, press: Press, log: ProblemLog) -> None:
        self.press = press
        self.log = log
        self.sheet = press.size

    def __call__(
        self, kind: KindTemplate, size: Size | None, learner: Learner | None, place: Location | None, wide: bool
    ) -> Format:
        """Return the format; a size too large for the sheet is noted as a problem at `place`."""
        chosen = KindSize(size) if size else (kind.wide if wide and kind.wide else self.size_of(kind))
        if wide and size and not kind.wide:
            chosen = KindSize(size)
        elif wide and size:
            chosen = KindSize(Size(size.width * 2, size.height))
        if chosen.size is None:
            return self._part(kind, chosen.part, learner)
        clear = Insets.even(kind.keep_clear)
        self._check_fit(kind, chosen.size, place)
        return Format(chosen.size, clear)

    def size_of(self, kind: KindTemplate) -> KindSize:
        """Return the kind's size in this paper's world: letter for papers whose sides are inches, else a4."""
        sizes = dict(kind.sizes)
        if "any" in sizes:
            return sizes["any"]
        world = "letter" if self._in_inches() else "a4"
        return sizes.get(world) or next(iter(sizes.values()))

    def _in_inches(self) -> bool:
        return self.sheet.width.um % (inch(1).um // 2) == 0

    def _part(self, kind: KindTemplate, part: str, learner: Learner | None) -> Format:
        if part == "wide page":
            division, width, height = 1, self.sheet.height, self.sheet.width
        else:
            division, across, along = _PARTS[part]
            width, height = self.sheet.width.split(across)[-1], self.sheet.height.split(along)[-1]
        edges = self.press.printer.edges
        worst = max(edges.left, edges.top, edges.right, edges.bottom)
        clear = Insets.even(max(kind.keep_clear, worst))
        if kind.binding in ("left", "top"):
            edge = "right" if kind.binding == "left" and learner and learner.left_handed else kind.binding
            clear = wider(clear, punch_insets(Punch.THREE_HOLE if self._in_inches() else Punch.TWO_HOLE, edge))
        return Format(Size(width, height), clear, division)

    def _check_fit(self, kind: KindTemplate, size: Size, place: Location | None) -> None:
        room = self.room(kind.keep_clear)
        if fits(size, room):
            return
        others = [name for name, paper in PAPERS.items() if fits(size, self._room_on(paper, kind.keep_clear))]
        hint = f"the largest this printer and paper can give is {room}"
        if others:
            hint += f"; it would fit on {' or '.join(sorted(others))}"
        self.log.add(
            f"a {kind.name} of {size} is larger than the paper ({self.press.paper}, {self.sheet}) allows",
            "larger-than-paper",
            hint,
            place,
        )

    def room(self, keep_clear: Length) -> Size:
        """Return the largest flat that can be cut from a sheet when ink stays `keep_clear` inside it."""
        return self._room_on(self.sheet, keep_clear)

    def _room_on(self, paper: Size, keep_clear: Length) -> Size:
        edges = self.press.printer.edges
        across = max(edges.left - keep_clear, Length(0)) + max(edges.right - keep_clear, Length(0))
        down = max(edges.top, edges.bottom) - keep_clear
        down = max(down, Length(0)) * 2
        return Size(paper.width - across, paper.height - down)


def fits(size: Size, room: Size) -> bool:
    """Tell whether the size fits into the room, turned or not."""
    upright = size.width <= room.width and size.height <= room.height
    return upright or (size.height <= room.width and size.width <= room.height)
