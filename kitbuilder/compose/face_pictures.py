"""A picture in a box: outlines as paths, the family's own bitmaps, or an empty frame to draw in."""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.frame import Bitmap, Box, Path, PathCommand
from kitbuilder.artwork.pictures import PictureOutline
from kitbuilder.compose.pen import Pen
from kitbuilder.compose.picture_book import FamilyBitmap


def draw_picture(
    pen: Pen, name: Any, box: tuple[int, int, int, int], colour: str, empty: str, align: str = "centre"
) -> None:
    """Draw the named picture as large as the box allows. No name: an empty frame, or nothing when `empty` is `none`."""
    x, y, width, height = box
    if not name:
        if empty == "frame":
            pen.add(Box(x + pen.dx_um, y + pen.dy_um, width, height, None, "#9a9a9a", 300, 3_000))
        return
    picture = pen.workshop.pictures.find(str(name))
    if picture is None:
        near = pen.workshop.pictures.nearest(str(name))
        hint = f"did you mean {' or '.join(repr(n) for n in near)}? " if near else ""
        pen.workshop.log.add(
            f"there is no picture called {str(name)!r}", "unknown-picture",
            hint + "Put a file of that name into the pictures folder, or leave the picture out for a frame to draw in",
            getattr(name, "location", None) or pen.asked_at,
        )
        return
    wide, tall = (picture.width_px, picture.height_px) if isinstance(picture, FamilyBitmap) else _box_of(picture)
    scale = min(width / wide, height / tall)
    drawn_w, drawn_h = round(wide * scale), round(tall * scale)
    shift = {"left": 0, "right": width - drawn_w}.get(align, (width - drawn_w) // 2)
    left, top = x + shift + pen.dx_um, y + (height - drawn_h) // 2 + pen.dy_um
    if isinstance(picture, FamilyBitmap):
        pen.add(Bitmap(left, top, drawn_w, drawn_h, picture.digest, picture.format))
        return
    for layer in picture.layers:
        commands = scaled(layer.commands, scale, left, top)
        if layer.stroke_width:
            pen.add(Path(commands, colour if layer.fill else None, colour, round(layer.stroke_width * scale),
                         name=picture.name))
        else:
            pen.add(Path(commands, colour, name=picture.name))


def _box_of(picture: PictureOutline) -> tuple[int, int]:
    return picture.width, picture.height


def scaled(commands: tuple[PathCommand, ...], scale: float, left_um: int, top_um: int) -> tuple[PathCommand, ...]:
    """Return path commands scaled and moved to whole micrometres."""
    out: list[PathCommand] = []
    for command in commands:
        numbers = [
            round(float(value) * scale) + (left_um if i % 2 == 0 else top_um) for i, value in enumerate(command[1:])
        ]
        out.append((command[0], *numbers))
    return tuple(out)
