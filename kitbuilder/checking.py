"""`check`: every problem of a family's folder; and whether a child at a unit can read a text."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kitbuilder.build import jobs_of, read_family
from kitbuilder.compose.choices import WrittenChoices
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Wanted
from kitbuilder.compose.pack_pieces import each_piece
from kitbuilder.compose.reading import (
    CAN_READ,
    child_read_texts,
    family_reader,
    reading_problems,
)
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import Problem, ProblemLog, ProblemsFound
from kitbuilder.load.definitions import load_home
from kitbuilder.phonics.decodability import Verdict
from kitbuilder.phonics.tokens import words_in
from kitbuilder.request import Request


@dataclass(frozen=True, slots=True)
class Checked:
    """What check found."""

    problems: tuple[Problem, ...]
    warnings: tuple[str, ...]
    summary: str

    @property
    def data(self) -> dict[str, Any]:
        return {
            "problems": [p.data for p in self.problems],
            "warnings": list(self.warnings),
        }


@dataclass(frozen=True, slots=True)
class Answer:
    """The verdicts on a text, as data and as lines for a parent."""

    data: dict[str, Any]
    lines: tuple[str, ...]


def check_family(root: Path) -> Checked:
    """Return every problem of the folder: files, templates, words a child cannot read yet, texts that do not fit."""
    log = ProblemLog()
    try:
        family = read_family(Request(root), log)
    except ProblemsFound as found:
        return Checked(found.problems, (), "")
    home = family.home
    reader = family_reader(home, log)
    log.extend(reading_problems(home.units, reader))
    everyone = Wanted(tuple((unit, home.learners[:1]) for unit in home.units))
    try:
        faces = FaceBook(family.templates.faces, family.workshop)
        # pages that fit themselves are drawn once, for their templates' sake
        jobs = [job for job in jobs_of(family, everyone, log) if job.kind.checked or job.unit is home.units[0]]
        written = WrittenChoices(home, reader.reader)
        sources = Sources(home, family.workshop.pictures, reader.reader, written)
        for _ in each_piece(jobs, sources, faces, family.templates.kinds):
            pass  # what does not fit or may not be drawn is in the log; nothing is kept
    except ProblemsFound as found:
        log.extend(found.problems)
    problems = ProblemsFound(log.problems).problems
    words = sum(len(words_in(str(text))) for unit in home.units for text in child_read_texts(unit))
    counted = f"{len(home.units)} unit{'s' * (len(home.units) > 1)}, {words} word{'s' * (words != 1)}"
    warnings = tuple(f"{w.location}: {w.message}" for w in reader.warnings)
    return Checked(problems, warnings, f"{counted} for children to read: no problems")


def check_words(root: Path, unit: int, text: str) -> Answer:
    """Return what a child at a unit can do with each word of a text."""
    log = ProblemLog()
    home = load_home(root, log)
    home.unit(unit)
    reader = family_reader(home, log)
    verdicts = [reader.reader.verdict(token.text, unit) for token in words_in(text)]
    data = {"unit": unit, "words": [_word_data(v) for v in verdicts]}
    lines = list(dict.fromkeys(_line(v) for v in verdicts if v.verdict not in CAN_READ))
    if not verdicts:
        lines = ["there is no word in this text"]
    elif not lines:
        lines = [f"yes: a child at unit {unit} can read this"]
    return Answer(data, tuple(lines))


def _word_data(verdict: Verdict) -> dict[str, Any]:
    return {
        "word": verdict.word,
        "verdict": verdict.verdict,
        "segments": [{"grapheme": s.grapheme, "phoneme": s.phoneme} for s in verdict.segments],
        "missing": [
            {"grapheme": m.grapheme, "phoneme": m.phoneme, "unit": m.unit, **({"shape": m.shape} if m.shape else {})}
            for m in verdict.missing
        ],
        "note": verdict.note,
    }


def _line(verdict: Verdict) -> str:
    """Return the verdict for a parent; the note says with words as examples what `missing` says in signs."""
    return ". ".join(part for part in (f"{verdict.word}: {verdict.verdict}", verdict.note) if part)
