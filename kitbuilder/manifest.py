"""manifest.json: which flat lies where, what is cut how, what each pile holds; and the pieces picked to print again."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from kitbuilder import __version__
from kitbuilder.artwork.frame import Frame, ReadBy, texts_of
from kitbuilder.imposition.flats import Flat, FoldedPage
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.print_files import PlacedFlat, PrintFile
from kitbuilder.imposition.sheets import Run, Stroke
from kitbuilder.measure.geometry import Rect

FORMAT = "kitbuilder-manifest"
VERSION = 1


def manifest_of(plan: PackPlan, digests: Mapping[str, str]) -> dict[str, Any]:
    """Return the manifest as plain data; `digests` are the SHA-256 of the print files by name."""
    return {key: list(value) if isinstance(value, Iterator) else value for key, value in _entries(plan, digests)}


def manifest_text(plan: PackPlan, digests: Mapping[str, str]) -> Iterator[str]:
    """Yield the manifest as JSON, one row of a list a line, so that two packs can be compared; a row at a time."""
    before = "{\n "
    for key, value in _entries(plan, digests):
        yield f"{before}{json.dumps(key)}: "
        before = ",\n "
        if isinstance(value, Iterator):
            yield from _rows(value)
        else:
            yield json.dumps(value, ensure_ascii=False)
    yield "\n}\n"


def _rows(rows: Iterable[Mapping[str, Any]]) -> Iterator[str]:
    before = "[\n  "
    for row in rows:
        yield before + json.dumps(row, ensure_ascii=False)
        before = ",\n  "
    yield "[]" if before.startswith("[") else "\n ]"


def _entries(plan: PackPlan, digests: Mapping[str, str]) -> Iterator[tuple[str, Any]]:
    """Yield key and value in the order of the file; lists of rows are iterators: a year's rows are never all there."""
    places = _places(plan)
    yield from {
        "format": FORMAT,
        "version": VERSION,
        "pack": plan.name,
        "units": list(plan.units),
        "seed": plan.seed,
        "tool_version": __version__,
        "definitions_sha256": plan.definitions_sha256,
        "title": plan.title,
        "language": plan.language,
        "files": (_file(file, digests[file.name]) for file in plan.files),
        "sets": iter(_sets(plan)),
        "pieces": (_piece(flat, places) for flat in _all_flats(plan)),
        "sheets": _sheets(plan),
        "layouts": (
            {
                "id": layout.id,
                "copies": layout.copies,
                "ready_cut": layout.ready_cut,
                "cuts": [_cut(s) for s in layout.strokes],
            }
            for layout in plan.layouts()
        ),
        "piles": (
            {"id": p.id, "layout": p.layout, "holds": list(p.holds), "envelope": p.envelope} for p in plan.piles()
        ),
        "runs": (_run(run) for run in plan.runs),
        "warnings": list(plan.warnings),
        "notes": list(plan.notes),
        "trials": (_file(file, digests[file.name]) for file in plan.trials),
    }.items()


def sha256(path: Path) -> str:
    """Return the SHA-256 of a file, in hex; raises OSError when it cannot be read."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


# flat id -> (file index, page, placed) for its front and its back
_Places = Mapping[tuple[str, str], tuple[int, int, PlacedFlat, str, int]]


def _places(plan: PackPlan) -> _Places:
    found: dict[tuple[str, str], tuple[int, int, PlacedFlat, str, int]] = {}
    depth = {}
    for _, _, sheet in plan.sheets():
        for placement in sheet.placements:
            depth[placement.flat.id] = (placement.pile, placement.depth)
    for index, file in enumerate(plan.files):
        for number, page in enumerate(file.pages, 1):
            for placed in page.flats:
                pile, at = depth[placed.flat.id]
                found[placed.flat.id, page.side] = (index, number, placed, pile, at)
    return found


def _all_flats(plan: PackPlan) -> list[Flat]:
    """Return the flats in the order of their pieces, spares behind them."""
    placed = {p.flat.id: p.flat for _, _, sheet in plan.sheets() for p in sheet.placements}
    wanted = [flat for flat in plan.flats if flat.id in placed]
    spares = sorted((f for f in placed.values() if f.role != "piece"), key=lambda f: f.id)
    return wanted + spares


def _file(file: PrintFile, digest: str) -> dict[str, Any]:
    return {
        "path": file.name,
        "stock": file.setup.stock,
        "paper": file.setup.paper,
        "two_sided": file.two_sided,
        "pages": len(file.pages),
        "copies": 1,
        "sha256": digest,
        "back_offset_um": [file.offset.dx_um, file.offset.dy_um],
        "reload": " ".join(file.reload) or None,
        "ruler": file.ruler or None,
    }


def _sets(plan: PackPlan) -> list[dict[str, Any]]:
    sets: dict[str, dict[str, Any]] = {}
    things: set[str] = set()
    for flat in plan.flats:
        row = sets.setdefault(
            flat.set_id,
            {
                "id": flat.set_id,
                "unit": flat.unit,
                "kind": flat.kind,
                "learner": flat.learner,
                "pieces": 0,
                "things": 0,
                "make": flat.make,
                "cautions": list(flat.cautions),
            },
        )
        row["pieces"] += 1
        if flat.piece_id not in things:
            things.add(flat.piece_id)
            row["things"] += 1
    return list(sets.values())


def _piece(flat: Flat, places: _Places) -> dict[str, Any]:
    front = places[flat.id, "front"]
    back = places.get((flat.id, "back"))
    return {
        "id": flat.id,
        "piece": flat.piece_id,
        "set": flat.set_id,
        "kind": flat.kind,
        "unit": flat.unit,
        "learner": flat.learner,
        "role": flat.role,
        "copy": flat.copy,
        "title": flat.title,
        "stock": flat.stock,
        "durable": flat.durable,
        "width_um": flat.width_um,
        "height_um": flat.height_um,
        "text": {"front": _texts(flat.front), "back": _texts(flat.back) if flat.back else []},
        "front": _place(front),
        "back": _place(back) if back else None,
        "pages": [_page(p) for p in flat.folded] or None,
        "order": list(flat.order),
        "division": flat.division,
        "may_turn": flat.may_turn,
        "clear_um": flat.clear_um,
        "binding": flat.binding,
        "laminate": flat.laminate,
        "colour": flat.colour,
        "pile": front[3],
        "depth": front[4],
    }


def _texts(frame: Frame) -> list[str]:
    return list(texts_of(frame, ReadBy.CHILD, ReadBy.ADULT, ReadBy.MARK))


def _place(found: tuple[int, int, PlacedFlat, str, int]) -> dict[str, int]:
    file, page, placed, _, _ = found
    area: Rect = placed.area
    return {"file": file, "page": page, "x_um": area.x_um, "y_um": area.y_um, "quarter_turns": placed.quarter_turns}


def _page(page: FoldedPage) -> dict[str, Any]:
    return {
        "page": page.page,
        "side": page.side,
        "x_um": page.x_um,
        "y_um": page.y_um,
        "width_um": page.width_um,
        "height_um": page.height_um,
        "quarter_turns": page.quarter_turns,
    }


def _sheets(plan: PackPlan) -> Iterator[dict[str, Any]]:
    for index, run in enumerate(plan.runs):
        fronts: dict[int, tuple[int, int]] = {}
        backs: dict[int, tuple[int, int]] = {}
        for at, file in enumerate(plan.files):
            if file.run == index:
                for number, page in enumerate(file.pages, 1):
                    (fronts if page.side == "front" else backs)[page.number] = (at, number)
        for number, sheet in enumerate(run.sheets, 1):
            back: tuple[int | None, int | None] = backs.get(number, (None, None))
            yield {
                "file": fronts[number][0],
                "front_page": fronts[number][1],
                "back_file": back[0],
                "back_page": back[1],
                "width_um": run.setup.width_um,
                "height_um": run.setup.height_um,
                "layout": sheet.layout.id,
                "stack": sheet.stack,
                "position_in_stack": sheet.position_in_stack,
            }


def _cut(stroke: Stroke) -> dict[str, Any]:
    return {
        "stroke": stroke.number,
        "axis": stroke.axis,
        "at_um": stroke.at_um,
        "from_um": stroke.from_um,
        "to_um": stroke.to_um,
        "stage": stroke.stage,
        "fence_um": stroke.fence_um,
        "turn": stroke.turn,
        "strip": stroke.strip,
        "regrouped": stroke.regrouped,
    }


def _run(run: Run) -> dict[str, Any]:
    return {
        "stock": run.setup.stock,
        "sheets": len(run.sheets),
        "lower_bound": run.lower_bound,
        "bound": run.bound,
        "strokes": run.strokes,
        "layouts": len(run.layouts),
        "two_sided": run.setup.two_sided.value,
    }
