"""Formats: what size a kind is on this paper, and how far its ink must stay from the edge on this printer."""

from __future__ import annotations

from dataclasses import replace

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.imposition.binding import RING_CENTRE_UM, Punch, punch_insets, ring_insets, wider
from kitbuilder.imposition.labels import fits_label, label_places
from kitbuilder.imposition.registration import back_keep_clear, ink_area
from kitbuilder.imposition.sheets import TwoSided
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Rect, Size
from kitbuilder.measure.length import Length, inch
from kitbuilder.measure.paper import PAPERS
from kitbuilder.model.learners import Learner
from kitbuilder.model.press import Press
from kitbuilder.model.stock import Stock
from kitbuilder.model.templates import KindSize, KindTemplate

# part of a sheet -> (division, parts across the short side, parts along the long side)
PARTS = {"page": (1, 1, 1), "half page": (2, 1, 2), "quarter page": (4, 2, 2), "eighth page": (8, 2, 4)}


class FormatFinder:
    """Answers with the format of a kind; notes sizes that this paper cannot give."""

    def __init__(self, press: Press, log: ProblemLog) -> None:
        self.press = press
        self.log = log
        self.sheet = press.size

    def __call__(
        self, kind: KindTemplate, size: Size | None, learner: Learner | None, place: Location | None, wide: bool
    ) -> Format:
        """Return the format; a size too large for the sheet is noted as a problem at `place`.

        Bound kinds keep clear of the holes on their binding edge, which is the right one for a left-handed child. The
        margins are those of the front: backs are drawn with left and right exchanged, so one format serves both.
        """
        chosen = KindSize(size) if size else (kind.wide if wide and kind.wide else self.size_of(kind))
        if wide and size and not kind.wide:
            chosen = KindSize(size)
        elif wide and size:
            chosen = KindSize(Size(size.width * 2, size.height))
        clear = self._clear_of(kind, learner)
        if chosen.size is None:
            return self.part(chosen.part, clear)
        if size is None:
            chosen = KindSize(self._shortened(chosen.size, kind.keep_clear))
        assert chosen.size is not None  # for the type checker: given above
        self._check_fit(kind, chosen.size, place)
        return Format(chosen.size, clear)

    def _shortened(self, size: Size, keep_clear: Length) -> Size:
        """Return a kind's own size, its long side no longer than this paper allows: strips on rarer papers."""
        room = self.room(keep_clear)
        longest = max(room.width, room.height)
        if size.width >= size.height:
            return Size(min(size.width, longest), size.height)
        return Size(size.width, min(size.height, longest))

    def size_of(self, kind: KindTemplate) -> KindSize:
        """Return the kind's size in this paper's world: letter for papers whose sides are inches, else a4."""
        sizes = dict(kind.sizes)
        if "any" in sizes:
            return sizes["any"]
        world = "letter" if self._in_inches() else "a4"
        return sizes.get(world) or next(iter(sizes.values()))

    def _in_inches(self) -> bool:
        return self.sheet.width.um % (inch(1).um // 2) == 0

    def _clear_of(self, kind: KindTemplate, learner: Learner | None) -> Insets:
        clear = Insets.even(kind.keep_clear)
        if any(role == "back" for role, _ in kind.faces):
            clear = back_keep_clear(clear)
        if kind.binding in ("left", "top"):
            edge = "right" if kind.binding == "left" and learner and learner.left_handed else kind.binding
            clear = wider(clear, punch_insets(Punch.THREE_HOLE if self._in_inches() else Punch.TWO_HOLE, edge))
        return clear

    def part(self, part: str, clear: Insets) -> Format:
        """Return a part of the sheet, its ink inside `clear` and inside what the printer reaches on any side."""
        if part == "wide page":
            division, width, height = 1, self.sheet.height, self.sheet.width
        else:
            division, across, along = PARTS[part]
            if self.sheet.width > self.sheet.height:
                across, along = along, across
            width, height = self.sheet.width.split(across)[-1], self.sheet.height.split(along)[-1]
        edges = self.press.printer.edges
        worst = max(edges.left, edges.top, edges.right, edges.bottom)
        return Format(Size(width, height), wider(clear, Insets.even(worst)), division)

    def with_ring(self, fmt: Format, place: Location | None) -> Format:
        """Return the format of a card with a hole for a ring: its top kept clear for it, in whichever corner."""
        if fmt.division:
            self.log.add(
                "a hole for a ring is for cards, not for a part of the sheet",
                "ring-on-page",
                "leave 'ring' out; pages keep clear of a binder's holes by themselves",
                place,
            )
        return replace(fmt, keep_clear=wider(fmt.keep_clear, ring_insets()), ring_um=RING_CENTRE_UM)

    def on_labels(self, fmt: Format, stock: Stock, size_asked: bool, place: Location | None) -> Format:
        """Return the format on a stock of labels: the label's own size, unless another one was asked for and fits."""
        if stock.labels is None:
            return fmt
        labels = label_places(stock.labels)
        size = Size(Length(labels[0].width_um), Length(labels[0].height_um))
        if size_asked:
            if not fits_label(fmt.trim.width.um, fmt.trim.height.um, labels[0]):
                self.log.add(
                    f"{fmt.trim} is larger than the labels of '{stock.name}' ({size})",
                    "larger-than-label",
                    "write a smaller size, or none: then the label's own is taken",
                    place,
                )
            size = fmt.trim
        clear = fmt.keep_clear if fmt.division == 0 else Insets.even(Length(3_000))
        return Format(size, wider(clear, Insets.even(Length(self._out_of_reach_um(labels)))))

    def _out_of_reach_um(self, labels: tuple[Rect, ...]) -> int:
        """Return how much of the outermost labels the printer cannot reach."""
        ink = ink_area(self.sheet.width.um, self.sheet.height.um, self.press.printer.edges, TwoSided.NO)
        return max(
            0,
            ink.x_um - min(r.x_um for r in labels),
            ink.y_um - min(r.y_um for r in labels),
            max(r.right_um for r in labels) - ink.right_um,
            max(r.bottom_um for r in labels) - ink.bottom_um,
        )

    def _check_fit(self, kind: KindTemplate, size: Size, place: Location | None) -> None:
        self.check_room(f"a {kind.name} of {size}", size, kind.keep_clear, place)

    def check_room(self, what: str, size: Size, keep_clear: Length, place: Location | None) -> None:
        """Note a problem when a flat of this size cannot be cut from the sheet."""
        room = self.room(keep_clear)
        if fits(size, room):
            return
        others = [name for name, paper in PAPERS.items() if fits(size, self._room_on(paper, keep_clear))]
        hint = f"the largest this printer and paper can give is {room}"
        if others:
            hint += f"; it would fit on {' or '.join(sorted(others))}"
        self.log.add(
            f"{what} is larger than the paper ({self.press.paper}, {self.sheet}) allows",
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
