"""A new family folder: the starter with its comments, and what the parent was asked written into it."""

from __future__ import annotations

import os
import shutil
from dataclasses import dataclass
from pathlib import Path

from kitbuilder.artwork.shipped import shipped
from kitbuilder.diagnostics import ProblemLog, stop
from kitbuilder.load.cross_checks import check_learners
from kitbuilder.load.edit_yaml import plain_or_quoted, set_value
from kitbuilder.load.located_yaml import read_yaml
from kitbuilder.load.schema import FOLDER as SCHEMAS
from kitbuilder.load.schema import MODELS, modeline, schema_files, with_modeline
from kitbuilder.load.unit_files import FOLDER, LEARNERS, PRESS, SEQUENCE, SUFFIXES
from kitbuilder.load.validation import validated
from kitbuilder.model.defined import Defined
from kitbuilder.model.learners import Learners
from kitbuilder.model.unit import Unit

INCH_PAPERS = ("letter", "legal", "tabloid")  # where these are sold, trimmers have inch scales
_UNFINISHED = f"{FOLDER}.unfinished"


@dataclass(frozen=True, slots=True)
class Child:
    """A child as the parent names it: a code, and the unit to start at."""

    code: str
    at: int = 1
    left_handed: bool = False


def new_home(
    target: Path,
    paper: str | None = None,
    accent: str | None = None,
    children: tuple[Child, ...] = (),
    two_sided: str | None = None,
) -> tuple[Path, ...]:
    """Return the files written in `target`/units: the starter, with the answers that were given.

    The folder of units appears whole or not at all.

    Raises:
        ProblemsFound: when `target` holds units already or cannot be written, or when an answer is not understood;
            nothing is written then.
    """
    if (target / FOLDER).exists():
        hint = "choose another folder; nothing was changed in this one"
        raise stop(f"{target} holds a folder '{FOLDER}' already", "folder-in-use", hint)
    texts = _texts(paper, accent, children, two_sided)
    unfinished = target / _UNFINISHED
    try:
        target.mkdir(parents=True, exist_ok=True)
        shutil.rmtree(unfinished, ignore_errors=True)
        for name, text in texts.items():
            path = unfinished / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode("utf-8"))
        os.replace(unfinished, target / FOLDER)
    except OSError as error:
        shutil.rmtree(unfinished, ignore_errors=True)
        reason = (error.strerror or "it is locked").lower()
        raise stop(f"{target} cannot be written: {reason}", "unwritable-folder", "choose another folder") from error
    return tuple(target / FOLDER / name for name in texts)


def _texts(paper: str | None, accent: str | None, children: tuple[Child, ...], two_sided: str | None) -> dict[str, str]:
    """Return the files to write, by their names in the folder of units."""
    starter = shipped(FOLDER)
    paths = sorted(path for path in starter.iterdir() if path.suffix in SUFFIXES)
    texts = {path.name: with_modeline(path.read_text(encoding="utf-8"), path.stem) for path in paths}
    answers = (
        (SEQUENCE, ("accent",), accent),
        (PRESS, ("paper",), paper),
        (PRESS, ("printer", "two-sided"), two_sided),
        (PRESS, ("trimmer", "inches"), "yes" if paper and paper.strip().lower() in INCH_PAPERS else None),
    )
    for stem, path, answer in answers:
        if answer is not None:
            value = plain_or_quoted(answer.strip())
            texts[f"{stem}.yaml"] = set_value(texts[f"{stem}.yaml"], path, value, keep_old_as_comment=False)
    if children:
        texts[f"{LEARNERS}.yaml"] = _learners(children)
    _check(texts)
    return {**texts, **{f"{SCHEMAS}/{name}": text for name, text in schema_files().items()}}


def _check(texts: dict[str, str]) -> None:
    """Raise `ProblemsFound` when an answer is not what its file expects."""
    log = ProblemLog()
    made: dict[str, Defined | None] = {}
    for name, text in texts.items():
        value = read_yaml(text, f"{FOLDER}/{name}", log)
        model = MODELS.get(name.partition(".")[0], Unit)
        made[name] = validated(model, value, log) if value is not None else None
    learners = made[f"{LEARNERS}.yaml"]
    if isinstance(learners, Learners):
        check_learners(learners.learners, [unit for unit in made.values() if isinstance(unit, Unit)], log)
    log.stop_if_any()


def _learners(children: tuple[Child, ...]) -> str:
    lines = [
        modeline(LEARNERS),
        "# The children. A code is enough (never a real name): it is printed on the child's pages.",
        f"{LEARNERS}:",
    ]
    for child in children:
        lines.append(f"  - code: {plain_or_quoted(child.code)}")
        lines.append(f"    at: {child.at}".ljust(26) + "# the unit this child works on now")
        if child.left_handed:
            lines.append("    left-handed: yes      # what is copied stands on the right")
    return "\n".join(lines) + "\n"
