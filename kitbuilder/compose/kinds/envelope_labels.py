"""Envelope labels: a week, a child, and a picture checklist of what goes into the envelope."""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.contents import Content, week_contents
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources

WIDEST_MM, TALLEST_MM = 22.0, 11.0  # of a sketch on the label
HEAD_AND_FOOT_MM = 37.0
SCALE = 0.085  # of the thing itself, unless it has to be smaller


def compose_envelope_labels(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the label of the learner's envelope."""
    contents = week_contents(job, sources)
    things = [content for content in contents if not content["kept"]]
    room = clear_size_mm(job.format)[1] - HEAD_AND_FOOT_MM
    tallest = min(TALLEST_MM, room / max(1, len(things)) - 2.5)
    kept = ", ".join(str(content["title"]).lower() for content in contents if content["kept"])
    label = {
        "things": tuple(_with_sketch(thing, tallest) for thing in things),
        "kept": f"in the review box: {kept}" if kept else "",
    }
    made = SetMaker(job, faces)
    made.add("envelope-label", "label", {"label": label})
    return made.done


def _with_sketch(thing: Content, tallest: float) -> dict[str, Any]:
    scale = min(SCALE, WIDEST_MM / thing["width"], tallest / thing["height"])
    width, height = thing["width"] * scale, thing["height"] * scale
    return {**thing, "w": width, "h": height, "r": 0.3 if thing["page"] else 0.8}
