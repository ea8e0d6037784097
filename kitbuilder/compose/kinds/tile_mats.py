"""Tile mats: a place for each tile taught so far, group by group, on as many sheets as it takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import stop
from kitbuilder.measure.format import Format

HEAD_MM, LABEL_MM, ROOM_MM, GAP_MM = 6.0, 5.0, 2.0, 2.0  # a place is a tile and 2 mm; names of groups stand above rows
LEAST_TILE_MM = 20.0

Place = Mapping[str, Any]


def compose_tile_mats(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the sheets of one mat; nothing before the first letter is taught."""
    page = job.wide_format if job.options["wide"] else job.format
    sheets = _sheets(job, sources.tiles_so_far(job), page)
    made = SetMaker(job, faces)
    for number, places in enumerate(sheets, 1):
        of = f" · sheet {number} of {len(sheets)}" if len(sheets) > 1 else ""
        mat = {"title": f"Tiles up to unit {job.unit.unit}{of}", "places": places}
        made.add("tile-mat", f"mat {number}", {"mat": mat}, page=page)
    return made.done


def _sheets(job: Job, tiles: Sequence[Mapping[str, Any]], page: Format) -> list[tuple[Place, ...]]:
    """Return the places of each sheet: rows from left to right, a new row for each group."""
    width, height = clear_size_mm(page)
    height -= 3  # the id below
    cell = float(job.options["tile"]) + ROOM_MM
    if cell < LEAST_TILE_MM or 2 * cell + GAP_MM > width or cell + HEAD_MM + LABEL_MM > height:
        raise stop(
            f"tiles of {cell - ROOM_MM:g} mm cannot be laid on this sheet",
            "does-not-fit",
            "give tile-mat the width of your tiles under 'tile:', 20 mm to 90 mm",
            job.asked_at,
        )
    sheets: list[tuple[Place, ...]] = []
    places: list[Place] = []
    x, y, group = 0.0, HEAD_MM + LABEL_MM, ""
    for tile in tiles:
        wide = 2 * cell if tile["wide"] else cell
        first = tile["group"] != group
        # a group begins where the row still has room for its name and two places, else on a new row
        if x and (x + wide > width or (first and x + 2 * cell > width)):
            x, y = 0.0, y + cell + LABEL_MM
        if y + cell > height:
            sheets.append(tuple(places))
            places, x, y, first = [], 0.0, HEAD_MM + LABEL_MM, True
        places.append({"text": tile["text"], "group": tile["group"], "x": x, "y": y, "width": wide, "height": cell,
                       "first": first})  # fmt: skip
        x, group = x + wide + GAP_MM, tile["group"]
    return [*sheets, tuple(places)] if places else sheets
