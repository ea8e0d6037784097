"""The reader for a family's sequence: what each unit teaches, and every text that a child reads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from kitbuilder.diagnostics import Location, Problem, ProblemLog
from kitbuilder.model.home import Home
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Unit
from kitbuilder.phonics.decodability import Reader, Verdict
from kitbuilder.phonics.keywords import KeywordProblem, sound_of
from kitbuilder.phonics.lexicon import Lexicon, load_lexicon
from kitbuilder.phonics.teaching import Teaching
from kitbuilder.phonics.tokens import words_in

CAN_READ = ("decodable", "irregular", "name", "adult-reads")


@dataclass(frozen=True, slots=True)
class Warned:
    """Something a unit may well do, but should know of."""

    message: str
    location: Location | None


@dataclass(frozen=True, slots=True)
class FamilyReader:
    """Answers what a child of this family can read; `warnings` are about keywords."""

    reader: Reader
    warnings: tuple[Warned, ...]


def family_reader(home: Home, log: ProblemLog) -> FamilyReader:
    """Return the reader; keywords that do not show one sound are problems at their line."""
    extra = {str(word).lower(): (tuple(str(sounds).split()),) for word, sounds in home.sequence.pronunciations}
    lexicon = load_lexicon(home.sequence.accent, extra)
    warnings: list[Warned] = []
    teachings = tuple(_teaching(unit, lexicon, log, warnings) for unit in home.units)
    return FamilyReader(Reader(lexicon, teachings), tuple(warnings))


def _teaching(unit: Unit, lexicon: Lexicon, log: ProblemLog, warnings: list[Warned]) -> Teaching:
    links = []
    for teach in unit.teach:
        try:
            link, warning = sound_of(str(teach.grapheme), str(teach.keyword), lexicon)
        except KeywordProblem as problem:
            log.add(problem.message, "unclear-keyword", problem.hint, teach.keyword.location)
            continue
        links.append(link)
        if warning:
            warnings.append(Warned(warning, teach.keyword.location))
    return Teaching(
        unit.unit,
        tuple(links),
        tuple(map(str, unit.shapes)),
        tuple(map(str, unit.suffixes)),
        tuple(map(str, unit.spelling_rules)),
        tuple(map(str, unit.irregular)),
        tuple(map(str, unit.names)),
        tuple(map(str, unit.adult_reads)),
    )


def child_read_texts(unit: Unit) -> Iterator[Placed]:
    """Yield every text of the unit that a child is asked to read, each with its place."""
    yield from unit.words
    yield from unit.sentences
    for booklet in unit.booklets:
        yield booklet.title
        for page in booklet.pages:
            if page.text is not None:
                yield page.text
    yield from unit.copywork


def reading_problems(units: Iterable[Unit], family: FamilyReader) -> Iterator[Problem]:
    """Yield a problem for every word that a child at its unit cannot read, at its own place."""
    decodable: dict[str, int] = {}  # words by a unit at which they could be decoded: from then on they can be
    for unit in units:
        for text in child_read_texts(unit):
            for token in words_in(str(text)):
                if decodable.get(token.text, unit.unit + 1) <= unit.unit:
                    continue
                verdict = family.reader.verdict(token.text, unit.unit)
                if verdict.verdict == "decodable":
                    decodable[token.text] = unit.unit
                elif verdict.verdict not in CAN_READ:
                    yield _problem(unit.unit, text, token.start, verdict)


def _problem(unit: int, text: Placed, start: int, verdict: Verdict) -> Problem:
    place = text.location
    if place is not None and "\n" not in text:
        place = Location(place.file, place.line, place.column + start)
    message = {
        "not-yet": f"{verdict.word!r} cannot be read yet at unit {unit}: {verdict.note}",
        "two-way": f"{verdict.word!r} can be read in two ways: {verdict.note}",
        "unknown": f"{verdict.word!r} is not in the list of words: {verdict.note or 'nobody can say how it is read'}",
    }[verdict.verdict]
    return Problem(
        message, verdict.verdict, "take another word, or add it to 'irregular:' or 'names:' of this unit", place
    )
