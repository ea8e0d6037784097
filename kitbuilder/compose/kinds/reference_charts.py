"""Reference charts: vowels and consonants as the phonetic alphabet orders them, and what the unit brings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.new_rules import new_rules
from kitbuilder.compose.sources import Sources
from kitbuilder.phonics import ipa

Item = Mapping[str, Any]
INSET_MM = 4.0  # of the vowel chart


def compose_reference_charts(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the charts asked for; those with nothing on them are left out."""
    of = str(job.options["of"])
    taught = sources.sounds_so_far(job)
    made = SetMaker(job, faces)
    if of in ("all", "vowels"):
        scope = _vowel_chart(job, taught, str(sources.home.sequence.accent))
        if any(cell["entries"] for cell in scope["cells"]):
            made.add("chart-vowels", "vowels", scope)
    if of in ("all", "consonants"):
        scope = _consonant_chart(taught)
        if scope["both"] or any(cell["full"] for line in scope["manners"] for cell in line["cells"]):
            made.add("chart-consonants", "consonants", scope, page=job.wide_format)
    if of in ("all", "new"):
        rules = new_rules(job, sources)
        if rules:
            made.add("chart-new", "new in this unit", {"rules": rules})
    return made.done


def _vowel_chart(job: Job, taught: Sequence[Item], accent: str) -> dict[str, Any]:
    """Return three columns and seven rows of cells, a cell for each sound that is taught or known to the chart."""
    column = (clear_size_mm(job.format)[0] - INSET_MM) / len(ipa.BACKNESS)
    cells = []
    for height in ipa.HEIGHTS:
        for backness in ipa.BACKNESS:
            here = {p: v for p, v in ipa.vowels(accent).items() if (v.height, v.backness) == (height, backness)}
            entries = tuple(item for item in taught if item["phoneme"] in here)
            symbols = "   ".join(vowel.symbol for vowel in here.values())
            share = (column - 2) / max(1, len(entries))
            cells.append({"symbols": symbols, "entries": entries, "share": share})
    columns = tuple(f"{name} of the tongue" if name != "central" else "middle" for name in ipa.BACKNESS)
    return {"cells": tuple(cells), "columns": columns}


def _consonant_chart(taught: Sequence[Item]) -> dict[str, Any]:
    """Return a line for each manner, a cell for each place, two halves in a cell: without voice and with it."""
    lines = []
    for manner in ipa.MANNERS:
        cells = [_cell(manner, place, taught) for place in ipa.PLACES]
        lines.append({"name": manner, "plain": ipa.PLAIN_MANNERS[manner], "cells": tuple(cells)})
    places = tuple({"name": n, "plain": p} for n, p in zip(ipa.PLACES, ipa.PLAIN_PLACES, strict=True))
    joined = [f"{i['text']} as in {i['keyword']}" for i in taught if "." in i["phoneme"]]
    return {"manners": tuple(lines), "places": places, "both": ", ".join(dict.fromkeys(joined))}


def _cell(manner: str, place: str, taught: Sequence[Item]) -> dict[str, Any]:
    halves = []
    for voiced in (False, True):
        phonemes = {p: c for p, c in ipa.CONSONANTS.items() if (c.manner, c.place, c.voiced) == (manner, place, voiced)}
        items = [item for item in taught if item["phoneme"] in phonemes]
        graphemes = list(dict.fromkeys(str(item["text"]) for item in items))
        symbols = " ".join(c.symbol for c in phonemes.values())
        keyword = str(items[0]["keyword"]) if items else ""
        halves.append({"text": " ".join(graphemes), "symbols": symbols, "keyword": keyword})
    return {"halves": tuple(halves), "full": any(half["text"] for half in halves)}
