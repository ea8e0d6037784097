"""The prep guide as a PDF: the pack at a glance, then steps to tick, with drawings where hands need them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from kitbuilder.artwork.fonts import BOLD_FONT, DEFAULT_FONT
from kitbuilder.artwork.frame import Frame, Group, Item
from kitbuilder.export.guide_front import front_blocks
from kitbuilder.export.guide_hand_pictures import fold_picture, reload_picture
from kitbuilder.export.guide_sheet_picture import layout_picture
from kitbuilder.export.guide_steps import PHASES, Block, Drawing, phase_blocks
from kitbuilder.export.guide_type import TINY, Type, guide_type
from kitbuilder.export.pdf import PdfSettings, PrintPage, write_pdf
from kitbuilder.export.placing import Placed
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.measure.geometry import Rect
from kitbuilder.measure.length import mm
from kitbuilder.measure.paper import PAPERS
from kitbuilder.model.press import Press
from kitbuilder.prep.evenings import Sitting
from kitbuilder.prep.steps import LayoutPicture, Picture, Prep, ReloadPicture
from kitbuilder.prep.wording import in_inches

_MARGIN_UM = mm(16).um
_FOOT_UM = mm(9).um  # kept free for the page number
# up to so many strokes a layout's drawing gets this width and height
_ROOM_UM = (
    (3, (mm(42).um, mm(42).um)),
    (8, (mm(60).um, mm(76).um)),
    (24, (mm(78).um, mm(98).um)),
    (100_000, (mm(108).um, mm(146).um)),
)


def write_prep_guide(
    prep: Prep,
    plan: PackPlan,
    press: Press,
    font_files: Callable[[str], Path],
    target: Path,
    sittings: Sequence[Sitting] = (),
) -> int:
    """Return the number of pages written to `target`: A4, or Letter where the family's paper is in inches.

    Raises:
        OSError: when the target cannot be written.
    """
    kind = guide_type(font_files)
    size = PAPERS["letter" if in_inches(press) else "a4"]
    width, height = size.width.um, size.height.um
    edges = press.printer.edges
    margin = max(_MARGIN_UM, edges.left.um, edges.top.um, edges.right.um, edges.bottom.um)
    column = Rect(margin, margin, width - 2 * margin, height - 2 * margin - _FOOT_UM)
    blocks = [*front_blocks(prep, sittings, column.width_um, kind)]
    draw = drawer(plan, kind)
    for phase in PHASES:
        steps = [step for step in prep.steps if step.kind in phase.kinds]
        if steps:
            blocks += phase_blocks(phase, steps, column.width_um, kind, draw)
    frames = list(pages_of(blocks, column, (width, height)))
    pages = [
        PrintPage(
            width,
            height,
            (
                Placed(f, 0, 0),
                Placed(_foot(prep, n, len(frames), column, kind), column.x_um, column.bottom_um + _FOOT_UM // 2),
            ),
            f"guide {n}",
        )
        for n, f in enumerate(frames, 1)
    ]
    settings = PdfSettings(f"{prep.subtitle}: {prep.pack}, prep guide", plan.language, "simplex")
    fonts = {name: font_files(name) for name in (DEFAULT_FONT, BOLD_FONT)}
    return write_pdf(pages, settings, fonts, {}, target)


def drawer(plan: PackPlan, kind: Type) -> Drawing:
    """Return the function that draws the picture a step asks for."""
    layouts = {layout.id: layout for layout in plan.layouts()}

    def draw(picture: Picture) -> Frame:
        if isinstance(picture, LayoutPicture):
            layout = layouts[picture.layout]
            width, height = next(size for most, size in _ROOM_UM if len(layout.strokes) <= most)
            return layout_picture(plan, layout, width, height, kind)
        if isinstance(picture, ReloadPicture):
            return reload_picture(picture, kind)
        return fold_picture(picture, kind)

    return draw


def pages_of(blocks: Sequence[Block], column: Rect, page_um: tuple[int, int]) -> Iterator[Frame]:
    """Yield pages filled with blocks from the top; blocks that stay together begin a new page together."""
    items: list[Item] = []
    y = 0
    for group in _groups(blocks):
        if items and y + _height(group) > column.height_um:
            yield Frame(*page_um, tuple(items), "page")
            items, y = [], 0
        for block in group:
            if items and y + block.gap_um + block.frame.height_um > column.height_um:
                yield Frame(*page_um, tuple(items), "page")
                items, y = [], 0
            y += block.gap_um if items else 0
            items.append(Group(column.x_um, column.y_um + y, 0, block.frame))
            y += block.frame.height_um
    if items:
        yield Frame(*page_um, tuple(items), "page")


def _groups(blocks: Sequence[Block]) -> Iterator[list[Block]]:
    group: list[Block] = []
    for block in blocks:
        group.append(block)
        if not block.stays:
            yield group
            group = []
    if group:
        yield group


def _height(group: Sequence[Block]) -> int:
    return sum(block.gap_um + block.frame.height_um for block in group)


def _foot(prep: Prep, number: int, count: int, column: Rect, kind: Type) -> Frame:
    left = kind.paragraph(f"{prep.title} · {prep.pack}", column.width_um // 2, TINY)
    right = kind.paragraph(f"page {number} of {count}", column.width_um // 2, TINY, "right")
    return Frame(column.width_um, left.height_um, (Group(0, 0, 0, left), Group(column.width_um // 2, 0, 0, right)))
