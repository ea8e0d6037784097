"""Sides of sheets as SVG: everything that prints, and over it what does not: edges, folds, places, strokes, numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from kitbuilder.artwork.frame import Bitmap, Frame, Group, Path
from kitbuilder.export.placing import Placed
from kitbuilder.export.svg import Shared, bitmap_element, frame_svg, mm, path_element, placed_transform
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.print_files import PlacedFlat, PrintedSide
from kitbuilder.imposition.registration import ink_area, turns_about_vertical
from kitbuilder.imposition.sheets import PrintSetup, TwoSided
from kitbuilder.measure.geometry import Insets

_WORTH_SHARING = 120  # characters of an outline: shorter ones are hardly longer than a reference


@dataclass(frozen=True, slots=True)
class Pens:
    """What every side is drawn with. `by_hand_axis` is the edge that by-hand backs follow."""

    shared: Shared
    bitmaps: Mapping[str, bytes]
    edges: Insets
    by_hand_axis: TwoSided

    def axis(self, setup: PrintSetup) -> TwoSided:
        return self.by_hand_axis if setup.two_sided is TwoSided.BY_HAND else setup.two_sided


def shared_drawings(plan: PackPlan, bitmaps: Mapping[str, bytes]) -> tuple[Shared, list[str]]:
    """Return what sheets have in common, and the SVG elements that draw it once."""
    outlines: Counter[Path] = Counter()
    pictures: dict[str, Bitmap] = {}
    for frame in plan.frames():
        for item in _drawn(frame):
            if isinstance(item, Bitmap):
                pictures.setdefault(item.digest, item)
            elif len(item.outline) >= _WORTH_SHARING:
                outlines[item] += 1
    often = [path for path, times in outlines.items() if times > 1]
    paths = {path: f"o{number}" for number, path in enumerate(often, 1)}
    digests = {digest: f"b{number}" for number, digest in enumerate(pictures, 1) if digest in bitmaps}
    drawn = [path_element(path, own_id) for path, own_id in paths.items()]
    drawn += [bitmap_element(pictures[digest], bitmaps[digest], own_id) for digest, own_id in digests.items()]
    return Shared(paths, digests), drawn


def _drawn(frame: Frame) -> Iterator[Path | Bitmap]:
    for item in frame.items:
        if isinstance(item, Path | Bitmap):
            yield item
        elif isinstance(item, Group):
            yield from _drawn(item.frame)


def side_svg(page: PrintedSide, stack: str, pens: Pens) -> str:
    """Return one side of a sheet; `stack` names the drawings that all its sheets share."""
    setup = page.sheet.layout.setup
    flats = "".join(_flat(placed, page.side, pens) for placed in page.flats if placed.frame is not None)
    marks = frame_svg(page.marks, "", pens.bitmaps, pens.shared) if page.marks is not None else ""
    turned = _turned(setup, pens) if page.side == "back" else ""
    numbers = f'<use class="numbers" href="#n{stack}"/>' if page.side == "front" else ""
    return (
        f'<svg viewBox="0 0 {mm(setup.width_um)} {mm(setup.height_um)}" aria-hidden="true">'
        f'<use class="edge" href="#{edge_id(setup)}"/>{flats}<g class="marks">{marks}</g>'
        f'<g class="over"{turned}><use class="places" href="#p{stack}"/><use class="cuts" href="#c{stack}"/></g>'
        f"{numbers}</svg>"
    )


def edge_id(setup: PrintSetup) -> str:
    return f"e{setup.width_um}-{setup.height_um}-{setup.two_sided.value}"


def edge_svg(setup: PrintSetup, pens: Pens) -> str:
    """Return the rim of a sheet that the printer cannot reach, as an element with the id `edge_id`."""
    width, height = setup.width_um, setup.height_um
    ink = ink_area(width, height, pens.edges, pens.axis(setup))
    inner = f"M{mm(ink.x_um)} {mm(ink.y_um)}V{mm(ink.bottom_um)}H{mm(ink.right_um)}V{mm(ink.y_um)}Z"
    outline = f"M0 0H{mm(width)}V{mm(height)}H0Z{inner}"
    return f'<path id="{edge_id(setup)}" class="rim" d="{outline}"/>'


def mirror_of(setup: PrintSetup, pens: Pens) -> str:
    """Return "x" when left and right change places on the back, "y" when top and bottom do, "" for one side."""
    axis = pens.axis(setup)
    if axis is TwoSided.NO:
        return ""
    return "x" if turns_about_vertical(axis, setup.width_um, setup.height_um) else "y"


def _turned(setup: PrintSetup, pens: Pens) -> str:
    """Return the attribute that shows the front's cuts from the back."""
    if mirror_of(setup, pens) == "x":
        return f' transform="matrix(-1 0 0 1 {mm(setup.width_um)} 0)"'
    return f' transform="matrix(1 0 0 -1 0 {mm(setup.height_um)})"'


def _flat(placed: PlacedFlat, side: str, pens: Pens) -> str:
    assert placed.frame is not None
    frame = placed.frame
    place = placed_transform(Placed(frame, placed.area.x_um, placed.area.y_um, placed.quarter_turns))
    folds = "".join(f'<path d="{way}"/>' for way in fold_lines(placed.flat, side))
    fold = f'<g class="fold">{folds}</g>' if folds else ""
    return f"<g{place}>{frame_svg(frame, '', pens.bitmaps, pens.shared)}{fold}</g>"


def fold_lines(flat: Flat, side: str) -> tuple[str, ...]:
    """Return the lines between neighbouring pages of a folded flat, in its own coordinates, as SVG path data."""
    pages = [p for p in flat.folded if p.side == side]
    upright = {
        (a.x_um + a.width_um, max(a.y_um, b.y_um), min(a.y_um + a.height_um, b.y_um + b.height_um))
        for a in pages
        for b in pages
        if a.x_um + a.width_um == b.x_um
    }
    lying = {
        (a.y_um + a.height_um, max(a.x_um, b.x_um), min(a.x_um + a.width_um, b.x_um + b.width_um))
        for a in pages
        for b in pages
        if a.y_um + a.height_um == b.y_um
    }
    return (
        *(f"M{mm(x)} {mm(start)}V{mm(end)}" for x, start, end in _real(upright)),
        *(f"M{mm(start)} {mm(y)}H{mm(end)}" for y, start, end in _real(lying)),
    )


def _real(lines: Iterable[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
    return sorted(line for line in lines if line[1] < line[2])
