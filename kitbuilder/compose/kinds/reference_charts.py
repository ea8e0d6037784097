"""Reference charts: vowels and consonants as the phonetic alphabet orders them, and what the unit brings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.consonant_chart import consonant_chart
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.new_chart import new_chart
from kitbuilder.compose.new_rules import new_rules
from kitbuilder.compose.sources import Sources
from kitbuilder.phonics import ipa

Item = Mapping[str, Any]
VOWEL_INSET_MM, BARE_MM = 0.8, 12.0  # of a cell; the width of a sign without letters beside one with them


def compose_reference_charts(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the charts asked for; those with nothing on them are left out."""
    of = str(job.options["of"])
    taught = sources.sounds_so_far(job)
    made = SetMaker(job, faces)
    if of in ("all", "vowels"):
        scope = _vowel_chart(job, taught, str(sources.home.sequence.accent))
        if any(cell["full"] for cell in scope["cells"]):
            made.add("chart-vowels", "vowels", scope)
    if of in ("all", "consonants"):
        scope = consonant_chart(taught, *clear_size_mm(job.wide_format), faces.workshop.font("Andika"))
        if scope["both"] or any(cell["full"] for line in scope["manners"] for cell in line["cells"]):
            made.add("chart-consonants", "consonants", scope, page=job.wide_format)
    if of in ("all", "new"):
        rules = new_rules(job, sources)
        if rules:
            made.add("chart-new", "new in this unit", new_chart(rules, *clear_size_mm(job.format), made.common_size))
    return made.done


def _vowel_chart(job: Job, taught: Sequence[Item], accent: str) -> dict[str, Any]:
    """Return three columns and seven rows of cells, and in each a part for each vowel: its sign, its letters."""
    column = clear_size_mm(job.format)[0] / len(ipa.BACKNESS)
    cells = []
    for height in ipa.HEIGHTS:
        for backness in ipa.BACKNESS:
            here = {p: v for p, v in ipa.vowels(accent).items() if (v.height, v.backness) == (height, backness)}
            parts = [(v.symbol, tuple(i for i in taught if i["phoneme"] == p)) for p, v in here.items()]
            full = any(entries for _, entries in parts)
            cells.append({"parts": _vowel_parts(parts, column - 2 * VOWEL_INSET_MM), "full": full})
    columns = tuple(f"{name} of the tongue" if name != "central" else "middle" for name in ipa.BACKNESS)
    return {"cells": tuple(cells), "columns": columns}


def _vowel_parts(parts: Sequence[tuple[str, tuple[Item, ...]]], wide: float) -> tuple[Item, ...]:
    """Return the parts side by side: those with letters share what the bare signs leave them."""
    bare = sum(not entries for _, entries in parts)
    full = len(parts) - bare
    sign = BARE_MM if full else wide / max(1, len(parts))
    found: list[Item] = []
    x = 0.0
    for symbol, entries in parts:
        width = (wide - bare * sign) / full if entries else sign
        share = width / max(1, len(entries))
        found.append({"symbol": symbol, "entries": entries, "x": x, "width": width, "share": share})
        x += width
    return tuple(found)
