"""A written pack, read again: its manifest's rows and its drawings, checked before anything is made from them."""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from kitbuilder.artwork.drawings import Drawings, decode_drawings
from kitbuilder.diagnostics import stop

KNOWN_VERSION = 1
LARGEST_MANIFEST = 300_000_000
_NEEDED = ("id", "piece", "set", "kind", "unit", "learner", "role", "copy", "stock", "durable", "width_um", "height_um")


@dataclass(frozen=True, slots=True)
class Pack:
    """A pack's folder, its manifest and its drawings. `rows` are the pieces' rows by id, spares left out.

    `drawings` are those of all pieces, or of the pieces that were wanted.
    """

    folder: Path
    manifest: Mapping[str, Any]
    rows: Mapping[str, Mapping[str, Any]]
    drawings: Drawings


def read_pack(folder: Path, wanted: Callable[[Pack], Collection[str]] | None = None) -> Pack:
    """Return the pack in a folder. `wanted` picks the ids whose drawings are read: a whole year's take a while.

    Raises:
        ProblemsFound: when it is no pack, half of one, damaged, or written by a later version.
    """
    if not folder.is_dir():
        raise stop(f"there is no folder {folder}", "no-pack", _nearby(folder))
    manifest = _manifest(folder)
    try:
        rows = {str(row["id"]): row for row in manifest["pieces"] if row["role"] == "piece"}
        for row in rows.values():
            missing = [key for key in _NEEDED if key not in row]
            if missing:
                raise KeyError(missing[0])
    except (KeyError, TypeError) as error:
        raise _damaged(folder, f"manifest.json lacks {error}") from None
    pack = Pack(folder, manifest, rows, Drawings({}, {}))
    ids = set(wanted(pack)) if wanted else None
    drawings = _drawings(folder, ids)
    lost = sorted((set(rows) if ids is None else ids) - set(drawings.flats))
    if lost:
        raise _damaged(folder, f"the drawing of {lost[0]} is missing")
    return replace(pack, drawings=drawings)


def _manifest(folder: Path) -> Mapping[str, Any]:
    path = folder / "manifest.json"
    if not path.is_file():
        raise stop(f"{folder} is no pack: it holds no manifest.json", "no-pack", _nearby(folder))
    try:
        if path.stat().st_size > LARGEST_MANIFEST:
            raise ValueError("it is too large")
        manifest = json.loads(path.read_bytes())
    except (OSError, ValueError) as error:
        raise _damaged(folder, f"manifest.json cannot be read ({error})") from None
    if not isinstance(manifest, dict) or manifest.get("format") != "kitbuilder-manifest":
        raise stop(f"{path} was not written by kitbuilder", "no-pack", _nearby(folder))
    version = manifest.get("version")
    if version != KNOWN_VERSION:
        raise stop(
            f"{folder} was written by a later kitbuilder (manifest version {version!r})",
            "later-version",
            "use that kitbuilder, or make the pack again with this one",
        )
    return manifest


def _drawings(folder: Path, ids: Collection[str] | None) -> Drawings:
    path = folder / "drawings.json.gz"
    if not path.is_file():
        raise _damaged(folder, "drawings.json.gz is missing")
    try:
        return decode_drawings(path.read_bytes(), ids)
    except (OSError, ValueError) as error:
        raise _damaged(folder, f"drawings.json.gz cannot be read ({error})") from None


def _damaged(folder: Path, why: str) -> Exception:
    return stop(
        f"the pack {folder} is not whole: {why}",
        "broken-pack",
        "take a copy of the folder, or make the pack again: kitbuilder week N",
    )


def _nearby(folder: Path) -> str:
    parent = folder.parent
    packs = sorted(p.parent.name for p in parent.glob("*/manifest.json")) if parent.is_dir() else []
    return f"packs in {parent}: {', '.join(packs)}" if packs else "make a pack first: kitbuilder week 1"
