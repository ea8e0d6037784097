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

HEAD_MM, ROOM_MM, GAP_MM = 5.0, 2.0, 2.0  # the title; a place is a tile and 2 mm; between places
LEAST_LABEL_MM, MOST_LABEL_MM = 5.0, 8.0  # above each row, for the names of groups
LEAST_TILE_MM = 20.0
MOST_BUILDING_ROWS = 3
LEAST_BUILT = 4  # places: a word and its ending

Place = Mapping[str, Any]
Row = list[dict[str, Any]]


def compose_tile_mats(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the sheets of one mat; nothing before the first letter is taught."""
    page = job.wide_format if job.options["wide"] else job.format
    sheets = _sheets(job, sources.tiles_so_far(job), page)
    made = SetMaker(job, faces)
    for number, (places, building) in enumerate(sheets, 1):
        of = f" · sheet {number} of {len(sheets)}" if len(sheets) > 1 else ""
        mat = {"title": f"Tiles up to unit {job.unit.unit}{of}", "places": places, "building": building}
        made.add("tile-mat", f"mat {number}", {"mat": mat}, page=page)
    return made.done


def _sheets(
    job: Job, tiles: Sequence[Mapping[str, Any]], page: Format
) -> list[tuple[tuple[Place, ...], tuple[Place, ...]]]:
    """Return the places for tiles and the empty ones to build in, for each sheet.

    Rows are shared out evenly among as few sheets as will do, so that none is begun for a few tiles; where a sheet has
    room below them, rows of empty places follow.
    """
    width, height = clear_size_mm(page)
    height -= 3  # the id below
    cell = float(job.options["tile"]) + ROOM_MM
    fitting = int((height - HEAD_MM) / (cell + LEAST_LABEL_MM))
    if cell < LEAST_TILE_MM or 2 * cell + GAP_MM > width or not fitting:
        raise stop(
            f"tiles of {cell - ROOM_MM:g} mm cannot be laid on this sheet",
            "does-not-fit",
            "give tile-mat the width of your tiles under 'tile:', 20 mm to 90 mm",
            job.asked_at,
        )
    rows = _rows(tiles, cell, width)
    widest = _empty_row(cell, width)[-1]["x"] + cell
    aside = (width - widest) / 2
    label = min(MOST_LABEL_MM, (height - HEAD_MM) / fitting - cell)
    count = -(-len(rows) // fitting)
    free = _free_behind(rows[-1], cell, width) if rows else []
    if rows and len(rows) == count * fitting and not free:
        count += 1  # without a place to build in, a mat is only a box
    sheets: list[tuple[tuple[Place, ...], tuple[Place, ...]]] = []
    start = 0
    for left in range(count, 0, -1):
        end = start - (start - len(rows)) // left
        places = [place for down, row in enumerate(rows[start:end]) for place in _at(row, down, cell, label)]
        places[0]["first"] = True  # a group that goes on here is named again
        building: list[Place] = []
        for down in range(end - start, min(fitting, end - start + MOST_BUILDING_ROWS)):
            building += _at(_empty_row(cell, width), down, cell, label)
        if not building:
            building += _at(_free_behind(rows[end - 1], cell, width), end - start - 1, cell, label)
        sheets.append((_moved(places, aside), _moved(building, aside)))
        start = end
    return sheets


def _free_behind(row: Row, cell: float, width: float) -> Row:
    """Return the empty places behind a row's tiles; none when they are too few for a word."""
    end = row[-1]["x"] + row[-1]["width"]
    free = [place for place in _empty_row(cell, width) if place["x"] >= end]
    return [{**place, "first": number == 0} for number, place in enumerate(free)] if len(free) >= LEAST_BUILT else []


def _moved(places: Sequence[Place], aside: float) -> tuple[Place, ...]:
    return tuple({**place, "x": place["x"] + aside} for place in places)


def _rows(tiles: Sequence[Mapping[str, Any]], cell: float, width: float) -> list[Row]:
    """Return rows of places from left to right; a group begins right behind the one before it."""
    rows: list[Row] = []
    x, group = width, ""
    for tile in tiles:
        wide = 2 * cell + GAP_MM if tile["wide"] else cell
        if x + wide > width:
            rows.append([])
            x = 0.0
        rows[-1].append({"text": tile["text"], "group": tile["group"], "x": x, "width": wide,
                         "first": tile["group"] != group})  # fmt: skip
        x, group = x + wide + GAP_MM, tile["group"]
    return rows


def _empty_row(cell: float, width: float) -> Row:
    count = int((width + GAP_MM) / (cell + GAP_MM))
    return [{"x": i * (cell + GAP_MM), "width": cell, "first": i == 0} for i in range(count)]


def _at(row: Row, down: int, cell: float, label: float) -> Row:
    y = HEAD_MM + label + down * (cell + label)
    return [{**place, "y": y, "height": cell} for place in row]
