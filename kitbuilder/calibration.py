"""Calibrate: test sheets for a printer, and what a parent saw on them written into press.yaml, comments kept."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from kitbuilder.artwork.fonts import BOLD_FONT, DEFAULT_FONT, font_file
from kitbuilder.artwork.frame import Frame
from kitbuilder.artwork.shipped import shipped
from kitbuilder.diagnostics import ProblemLog, stop
from kitbuilder.export.pack_folder import plain_errors
from kitbuilder.export.pdf import PdfSettings, PrintPage, write_pdf
from kitbuilder.export.placing import Placed
from kitbuilder.imposition.by_hand import ByHandProfile, profile_from_answers
from kitbuilder.imposition.printer_test import RULER_UM, back_page, front_page, long_ruler_um
from kitbuilder.imposition.registration import BackOffset
from kitbuilder.load.edit_yaml import set_value
from kitbuilder.load.located_yaml import read_yaml
from kitbuilder.load.unit_files import FOLDER, PRESS
from kitbuilder.load.validation import validated
from kitbuilder.measure.length import parse_length
from kitbuilder.model.press import Press

NAME = "calibrate"
LARGEST_SCALE_PPM = 20_000  # 2 %: more means that the page was scaled by the print window
RULERS_AGREE_PPM = 7_500  # half a millimetre either way on 100 mm, and a little for the eye
PRINT_AGAIN = "look at the test sheets again, or print them again with: kitbuilder calibrate"


@dataclass(frozen=True, slots=True)
class Answers:
    """What was seen on the test sheets, as written; empty for what was not looked at."""

    behind_a: str = ""  # A/2 | B/2 | nothing | A/1 | B/1
    behind_b: str = ""
    arrows: str = ""  # same | opposite, on the sheets put back by hand
    came_out: str = ""  # up | down: the printed side of the fronts as they came out
    went_in: str = ""  # up | down: the printed side of the pile put back
    first_edge: str = ""  # top | bottom: the edge of the pages that went in first
    by_itself: str = ""  # same | opposite | no: the arrows of the sheet that the printer turned by itself
    right: str = ""  # lengths with their units
    down: str = ""
    ruler: str = ""
    long_ruler: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """One question to a parent: the answer's name, what to ask, and the words to choose from (none: a length)."""

    answer: str
    text: str
    words: tuple[str, ...] = ()


_BEHIND = ("A/2", "B/2", "nothing")
BY_HAND_QUESTIONS = (
    Question("came_out", "How did the fronts come out: with the printed side up or down", ("down", "up")),
    Question("went_in", "How did they go back in: with the printed side up or down", ("down", "up")),
    Question("first_edge", "Which edge of the pages went in first (the arrow points to the top)", ("top", "bottom")),
    Question("behind_a", "What is printed behind A/1", _BEHIND),
    Question("behind_b", "What is printed behind B/1", _BEHIND),
    Question("arrows", "Turn A/1 like the page of a book: do the two arrows point the same way", ("same", "opposite")),
)
BY_ITSELF_QUESTIONS = (
    Question(
        "by_itself",
        "Turn C/1 like the page of a book: do the arrows point the same way (no: there is nothing behind it)",
        ("same", "opposite", "no"),
    ),
)
MEASURING_QUESTIONS = (
    Question("right", "Back towards you, at the window: how far right of the middle is the front's line (left: -1 mm)"),
    Question("down", "And how far down from the middle is its other line (up: -1 mm)"),
    Question("ruler", "How long is the line of 100 mm"),
    Question("long_ruler", "How long is the long line down the page"),
)


@dataclass(frozen=True, slots=True)
class TestPack:
    """Where the test sheets lie, and what to do with them, one line a step."""

    __test__ = False  # a name for parents, not for a test runner

    folder: Path
    files: tuple[str, ...]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Recorded:
    """The file that was changed and what stands in it now: pairs of dotted names and values."""

    path: Path
    values: tuple[tuple[str, str], ...]


def questions(press: Press) -> tuple[Question, ...]:
    """Return what to ask about this printer."""
    own = BY_ITSELF_QUESTIONS if press.printer.two_sided != "by-hand" else ()
    return (*own, *BY_HAND_QUESTIONS, *MEASURING_QUESTIONS)


def write_test(press: Press, out: Path) -> TestPack:
    """Return the test sheets, written to `out`/calibrate: fronts, backs, and a sheet the printer turns by itself.

    They are drawn without any offset or scale of press.yaml: what is measured is the whole of it.

    Raises:
        ProblemsFound: when the folder cannot be written.
    """
    folder = out / NAME
    files = tuple(_files(press))
    fonts = {name: font_file(name) for name in (BOLD_FONT, DEFAULT_FONT)}
    with plain_errors(out):
        folder.mkdir(parents=True, exist_ok=True)
        for name, duplex, frames in files:
            pages = [PrintPage(f.width_um, f.height_um, (Placed(f, 0, 0),), f.name) for f in frames]
            assert duplex in ("simplex", "long", "short")
            settings = PdfSettings(f"Printer test, {name.removesuffix('.pdf')}", "en", duplex)  # type: ignore[arg-type]  # asserted above
            unfinished = folder / f"{name}.unfinished"
            write_pdf(pages, settings, fonts, {}, unfinished)
            os.replace(unfinished, folder / name)
        for old in sorted(folder.glob("test-*.pdf")):
            if old.name not in {name for name, _, _ in files}:
                old.unlink()
    return TestPack(folder, tuple(name for name, _, _ in files), _lines(folder, press))


def _files(press: Press) -> Iterator[tuple[str, str, tuple[Frame, ...]]]:
    size, edges = press.size, press.printer.edges
    sheet = (size.width.um, size.height.um)
    yield (
        "test-1-fronts.pdf",
        "simplex",
        (front_page("A/1", *sheet, edges, _notes(press)), front_page("B/1", *sheet, edges, ())),
    )
    yield "test-2-backs.pdf", "simplex", (back_page("A/2", *sheet, edges), back_page("B/2", *sheet, edges))
    if press.printer.two_sided != "by-hand":
        pages = (front_page("C/1", *sheet, edges, ((), _BY_ITSELF)), back_page("C/2", *sheet, edges))
        yield "test-3-both-sides.pdf", press.printer.two_sided, pages


_BY_ITSELF = (
    "Print this file on both sides, at actual size (100 %).",
    "Turn the sheet like the page of a book:",
    "do both arrows point the same way?   ...............",
)


def _notes(press: Press) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what to do, and what to write down; short lines, since paper may be narrow."""
    long_mm = long_ruler_um(press.size.height.um, press.printer.edges) // 1000
    return (
        (
            "1. Print test-1-fronts on plain paper, one side, actual size (100 %).",
            "2. Did A/1 and B/1 come out printed side up or down?   ...............",
            "3. Put both back into the tray just as they lie. Printed side up",
            "or down?   ...............   Which edge first, top or bottom?   ...............",
            "4. Print test-2-backs in the same way.",
        ),
        (
            "5. What is behind A/1?   ...............   Behind B/1?   ...............",
            "6. Turn A/1 like the page of a book: do both arrows",
            "point the same way?   ...............",
            "7. Hold A/1 against a window, its back towards you, letters upright.",
            "Where on the back's scale are the lines of this cross?",
            "right or left   ...............   up or down   ...............",
            f"8. Measure: the line of 100 mm   ...............   of {long_mm} mm   ...............",
            "Then: kitbuilder calibrate --record",
        ),
    )


def _lines(folder: Path, press: Press) -> tuple[str, ...]:
    lines = [
        f"{folder}: test sheets for your printer, on plain paper, at actual size (100 %)",
        "  test-1-fronts.pdf, then test-2-backs.pdf on the same sheets, put back as they came out",
    ]
    if press.printer.two_sided != "by-hand":
        lines.append("  test-3-both-sides.pdf: one sheet that the printer turns by itself")
    lines.append("the first sheet says what to look for; then: kitbuilder calibrate --record")
    return tuple(lines)


def record(root: Path, press: Press, answers: Answers) -> Recorded:
    """Return what was written into the family's press.yaml; old values stay there as comments.

    Raises:
        ProblemsFound: when answers contradict one another, measure too much, or the file cannot be changed;
            nothing is written then.
    """
    values = tuple(_values(press, answers))
    if not values:
        raise stop("there is no answer to write down", "no-answers", "kitbuilder calibrate --record asks one by one")
    if root.resolve() == shipped(FOLDER).parent.resolve():
        raise stop(
            "there is no family folder here to write the answers into",
            "missing-folder",
            "make one with: kitbuilder new FOLDER, then run this in it, or with --home FOLDER",
        )
    path = root / FOLDER / f"{PRESS}.yaml"
    other = path.with_suffix(".yml")
    path = other if other.exists() and not path.exists() else path
    with plain_errors(path):
        old = path.read_bytes().decode("utf-8-sig") if path.exists() else ""
        text = old
        for keys, value in values:
            text = _changed(text, keys, value)
        _check(text, path.name)
        unfinished = path.with_name(f"{path.name}.unfinished")
        unfinished.write_bytes(text.encode("utf-8"))
        os.replace(unfinished, path)
    return Recorded(path, tuple((".".join(keys), value) for keys, value in values))


def _changed(text: str, keys: tuple[str, ...], value: str) -> str:
    try:
        return set_value(text, keys, value, keep_old_as_comment=True)
    except ValueError as error:
        raise stop(
            f"press.yaml cannot be changed: {error}", "cannot-edit", f"write {keys[-1]}: {value} there by hand"
        ) from None


def _check(text: str, name: str) -> None:
    log = ProblemLog()
    value = read_yaml(text, f"{FOLDER}/{name}", log)
    if value is not None:
        validated(Press, value, log)
    log.stop_if_any()


def _values(press: Press, answers: Answers) -> Iterator[tuple[tuple[str, ...], str]]:
    """Yield the keys of press.yaml and their new values."""
    if answers.by_itself:
        two_sided = _by_itself(press, answers.by_itself)
        if two_sided != press.printer.two_sided:
            yield ("printer", "two-sided"), two_sided
    profile = _profile(answers)
    if profile:
        yield ("printer", "by-hand", "face"), profile.face
        yield ("printer", "by-hand", "tray-face"), profile.tray_face
        yield ("printer", "by-hand", "turned"), "yes" if profile.turned else "no"
        yield ("printer", "by-hand", "flip"), profile.flip
        yield ("printer", "by-hand", "reversed-order"), "yes" if profile.reversed_order else "no"
    for name, text in (("right", answers.right), ("down", answers.down)):
        if text:
            yield ("printer", "back-offset", name), _millimetres(_offset(name, text))
    scale = _scale(press, answers)
    if scale:
        yield ("printer", "scale"), f"{scale / 10_000:g} %"


def _by_itself(press: Press, answer: str) -> str:
    edge = press.printer.two_sided
    upright = press.size.height >= press.size.width
    _one_of("by itself", answer, ("same", "opposite", "no"))
    if edge == "by-hand":
        raise stop(
            "press.yaml says that both sides are printed by hand; there is no sheet C",
            "contradicting-answers",
            "leave this answer out, or write two-sided: long there and print the test again",
        )
    if answer == "no":
        return "by-hand"
    wanted = "same" if (edge == "long") == upright else "opposite"
    if answer != wanted:
        raise stop(
            f"the arrows of C are {answer}: the printer turned the sheet on the other edge than '{edge}', which the "
            "file asks for",
            "contradicting-answers",
            f"choose 'turn on the {edge} edge' in the print window and print it again; if there is no such choice, "
            f"write two-sided: {'short' if edge == 'long' else 'long'} in press.yaml",
        )
    return edge


def _profile(answers: Answers) -> ByHandProfile | None:
    needed = {
        "behind A/1": answers.behind_a,
        "behind B/1": answers.behind_b,
        "the arrows": answers.arrows,
        "how the fronts came out": answers.came_out,
    }
    if not any((*needed.values(), answers.went_in, answers.first_edge)):
        return None
    missing = [name for name, answer in needed.items() if not answer]
    if missing:
        raise stop(
            f"answers are missing for the sheets put back by hand: {', '.join(missing)}",
            "missing-answers",
            "give all of them together, or kitbuilder calibrate --record asks one by one",
        )
    first_edge = answers.first_edge or "top"
    _one_of("the edge that went in first", first_edge, ("top", "bottom"))
    try:
        return profile_from_answers(
            answers.came_out,
            answers.behind_a,
            answers.behind_b,
            answers.arrows,
            turned=first_edge == "bottom",
            tray_face=answers.went_in or "down",
        )
    except ValueError as error:
        sentence, _, hint = str(error).partition(". ")
        sentence, _, more = (sentence, "", hint) if hint else sentence.partition("; ")
        raise stop(sentence, "contradicting-answers", hint or more or PRINT_AGAIN) from None


def _one_of(what: str, answer: str, words: tuple[str, ...]) -> None:
    if answer not in words:
        raise stop(f"{what}: {answer!r} is no answer", "unknown-answer", f"answer one of {', '.join(words)}")


def _offset(name: str, text: str) -> int:
    um = _length(name, text)
    try:
        BackOffset(um, 0)
    except ValueError as error:
        sentence, _, hint = str(error).partition("; ")
        raise stop(sentence, "back-offset", hint) from None
    return um


def _length(name: str, text: str) -> int:
    """Return micrometres; a sign may stand before the number."""
    plain = text.strip().replace("\u2212", "-").removeprefix("+")
    sign = -1 if plain.startswith("-") else 1
    try:
        return sign * parse_length(plain.removeprefix("-").strip()).um
    except ValueError as error:
        raise stop(f"{name}: {error}", "not-a-length", "write a length with its unit, such as 0.5 mm") from None


def _scale(press: Press, answers: Answers) -> int | None:
    """Return what the printer makes of a true length, in millionths; the longer line counts where both were read."""
    long_um = long_ruler_um(press.size.height.um, press.printer.edges)
    read = [
        (_length(name, text) * 1_000_000 + whole // 2) // whole
        for name, text, whole in (("ruler", answers.ruler, RULER_UM), ("long ruler", answers.long_ruler, long_um))
        if text
    ]
    if not read:
        return None
    if max(read) - min(read) > RULERS_AGREE_PPM:
        raise stop(
            f"the line of 100 mm and the line of {long_um // 1000} mm tell two different stories: "
            f"{read[0] / 10_000:.1f} % and {read[1] / 10_000:.1f} %",
            "contradicting-answers",
            "measure both again, from end to end, with the same ruler",
        )
    if abs(read[-1] - 1_000_000) > LARGEST_SCALE_PPM:
        raise stop(
            f"the printed line is {read[-1] / 10_000:.1f} % of its length: more than any printer is off by itself",
            "page-was-scaled",
            "choose actual size (100 %), not 'fit', in the print window, and print the test again",
        )
    return round(read[-1], -2)


def _millimetres(um: int) -> str:
    return f"{um / 1000:g} mm"


def cleaned(answers: Answers) -> Answers:
    """Return the answers without spaces around them, words in the case they are compared in."""
    low = {
        name: getattr(answers, name).strip().lower()
        for name in ("arrows", "came_out", "went_in", "first_edge", "by_itself")
    }
    behind = {name: _side(getattr(answers, name)) for name in ("behind_a", "behind_b")}
    return replace(answers, **low, **behind)


def check_answer(question: Question, answer: str) -> None:
    """Raise `ProblemsFound` for an answer that is none of the question's words, or no length; an empty one passes."""
    given = getattr(cleaned(replace(Answers(), **{question.answer: answer.strip()})), question.answer)
    if given and question.words:
        _one_of("that", given, question.words)
    elif given:
        (_offset if question.answer in ("right", "down") else _length)("that", given)


def _side(text: str) -> str:
    plain = text.strip()
    return plain.lower() if plain.lower() == "nothing" else plain.upper().replace("-", "/")
