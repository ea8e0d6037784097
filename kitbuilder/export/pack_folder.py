"""A pack's folder: written aside and moved whole, so that a run that dies leaves the old pack or none."""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from kitbuilder.artwork.drawings import fonts_of
from kitbuilder.diagnostics import stop
from kitbuilder.export.drawing_file import write_drawings
from kitbuilder.export.pages import print_pages, settings_of
from kitbuilder.export.pdf import write_pdf
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.manifest import manifest_text, sha256

MOST_NUMBERED = 999
OLD = ".unfinished-old-"  # a pack that was moved out while its successor takes its place


@dataclass(frozen=True, slots=True)
class WrittenPack:
    """Where the pack lies, and what happened to an older pack of the same name."""

    folder: Path
    note: str

    @property
    def manifest(self) -> Mapping[str, Any]:
        """The manifest, read from its file: a year's rows are not kept."""
        data: Mapping[str, Any] = json.loads((self.folder / "manifest.json").read_bytes())
        return data


def write_pack(
    plan: PackPlan,
    out: Path,
    font_files: Callable[[str], Path],
    bitmaps: Mapping[str, bytes],
    *,
    replace_old: bool,
    scale_ppm: int = 1_000_000,
    extras: Callable[[PackPlan, Path], None],
    tell: Callable[[str], None] = lambda name: None,
) -> WrittenPack:
    """Return the written pack. `extras` writes guide and preview beside the print files.

    An older pack of the same name whose pieces differ is kept; the new one gets `-2`, `-3`, ... behind its name,
    unless `replace_old`.

    Raises:
        ProblemsFound: when the folder cannot be written, the disk is full, or a file of the old pack is held open.
    """
    with plain_errors(out):
        out.mkdir(parents=True, exist_ok=True)
        folder, note = _target(plan, out, replace_old)
        plan = replace(plan, name=folder.name)
        aside = _aside(out, folder.name)
        try:
            _write_files(plan, aside, font_files, bitmaps, scale_ppm, tell)
            tell("guide and preview")
            extras(plan, aside)
            _move(aside, folder)
        finally:
            shutil.rmtree(aside, ignore_errors=True)
    return WrittenPack(folder, note)


def _write_files(
    plan: PackPlan,
    folder: Path,
    font_files: Callable[[str], Path],
    bitmaps: Mapping[str, bytes],
    scale_ppm: int,
    tell: Callable[[str], None],
) -> None:
    drawn = {flat.id: (flat.front, flat.back) for flat in plan.flats}
    names = sorted({name for frame in (*plan.frames(), *plan.marks()) for name in fonts_of(frame)} or {"Andika"})
    fonts = {name: font_files(name) for name in names}
    digests: dict[str, str] = {}
    for file in (*plan.files, *plan.trials):
        tell(file.name)
        write_pdf(
            print_pages(file), settings_of(plan, file, (scale_ppm, scale_ppm)), fonts, bitmaps, folder / file.name
        )
        digests[file.name] = sha256(folder / file.name)
    write_drawings(folder, drawn, bitmaps, fonts)
    with (folder / "manifest.json").open("w", encoding="utf-8", newline="\n") as manifest:
        manifest.writelines(manifest_text(plan, digests))


def _target(plan: PackPlan, out: Path, replace_old: bool) -> tuple[Path, str]:
    folder = out / plan.name
    if not folder.exists():
        return folder, ""
    if replace_old:
        return folder, f"{folder} was replaced"
    if _same_pieces(folder, plan):
        return folder, f"{folder} held the same pieces and was written again"
    for number in range(2, MOST_NUMBERED):
        other = out / f"{plan.name}-{number}"
        if not other.exists() or _same_pieces(other, plan):
            return other, f"{folder} holds other pieces and was kept; --replace writes over it"
    raise stop(f"{out} already holds {MOST_NUMBERED} packs called {plan.name}", "too-many-packs", "delete old packs")


def _same_pieces(folder: Path, plan: PackPlan) -> bool:
    try:
        old = json.loads((folder / "manifest.json").read_bytes())
        ids = [row["id"] for row in old["pieces"] if row["role"] == "piece"]
    except (OSError, ValueError, KeyError, TypeError):
        return False
    return bool(old.get("definitions_sha256") == plan.definitions_sha256) and ids == [flat.id for flat in plan.flats]


def _aside(out: Path, name: str) -> Path:
    # a fixed name would trip over what a killed run left; leftovers of dead runs are cleared here
    for left in sorted(out.glob(".unfinished-*")):
        if _alive(left.name.rsplit("-", 1)[-1]):
            continue
        old = left.name.removeprefix(OLD).rpartition("-")[0] if left.name.startswith(OLD) else ""
        if old and not (out / old).exists():
            os.replace(left, out / old)  # killed between the two moves: the old pack comes back
        else:
            shutil.rmtree(left, ignore_errors=True)
    aside = out / f".unfinished-{name}-{os.getpid()}"
    shutil.rmtree(aside, ignore_errors=True)
    aside.mkdir()
    return aside


def _alive(process: str) -> bool:
    if not process.isdigit() or os.name == "nt":
        return False
    try:
        os.kill(int(process), 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _move(aside: Path, folder: Path) -> None:
    """Put the new folder in place; the old one is moved out first and only then deleted."""
    if folder.exists():
        old = folder.with_name(f"{OLD}{folder.name}-{os.getpid()}")
        kept = folder / "reprints.jsonl"
        if kept.exists():
            shutil.copy2(kept, aside / kept.name)
        os.replace(folder, old)
        try:
            os.replace(aside, folder)
        except OSError:
            os.replace(old, folder)
            raise
        shutil.rmtree(old, ignore_errors=True)
    else:
        os.replace(aside, folder)


@contextmanager
def plain_errors(out: Path) -> Iterator[None]:
    """Turn what the system refuses into a sentence with a remedy."""
    try:
        yield
    except OSError as error:
        raise _explained(error, out) from error


def _on_windows() -> bool:
    return os.name == "nt"


def _explained(error: OSError, out: Path) -> Exception:
    place = error.filename or out
    if error.errno == errno.ENOSPC:
        return stop(f"the disk is full: {out}", "disk-full", "make room, then run the same command again")
    if isinstance(error, PermissionError) and _on_windows():
        return stop(f"{place} is in use", "file-in-use", "close the PDF in your viewer, then run the command again")
    if isinstance(error, PermissionError) or error.errno in (errno.EROFS, errno.EACCES):
        return stop(
            f"nothing can be written to {place}",
            "cannot-write",
            "choose another folder with --out, or ask who owns this one",
        )
    if isinstance(error, NotADirectoryError | FileExistsError):
        return stop(f"{place} is a file, not a folder", "cannot-write", "choose another folder with --out")
    return stop(f"{place}: {error.strerror or error}", "cannot-write", "choose another folder with --out")
