"""A picture in a box: outlines as paths, the family's own bitmaps, or an empty frame to draw in."""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.frame import Bitmap, Box
from kitbuilder.artwork.pictures import placed
from kitbuilder.compose.pen import Pen
from kitbuilder.compose.picture_book import FamilyBitmap


def draw_picture(pen: Pen, name: Any, box: tuple[int, int, int, int], empty: str) -> None:
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
            f"there is no picture called {str(name)!r}",
            "unknown-picture",
            hint + "Put a file of that name into the pictures folder, or leave the picture out for a frame to draw in",
            getattr(name, "location", None) or pen.asked_at,
        )
        return
    if isinstance(picture, FamilyBitmap):
        scale = min(width / picture.width_px, height / picture.height_px)
        wide, tall = round(picture.width_px * scale), round(picture.height_px * scale)
        left, top = x + (width - wide) // 2 + pen.dx_um, y + (height - tall) // 2 + pen.dy_um
        pen.add(Bitmap(left, top, wide, tall, picture.digest, picture.format))
        return
    for path in placed(picture, x + pen.dx_um, y + pen.dy_um, width, height):
        pen.add(path)
