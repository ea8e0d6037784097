"""What a family may write beside the usual is used: what a child knows, questions, lines for the adult."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from kitbuilder.artwork.frame import Frame, ReadBy, Text
from kitbuilder.build import pieces_of, read_family
from kitbuilder.compose.jobs import Wanted
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.request import Request

Family = Callable[..., Path]
LEARNERS = "learners:\n  - code: fern\n    at: 1\n    knows: [n, the]\n"


def frames(root: Path, kind: str) -> list[Frame]:
    read = read_family(Request(root), ProblemLog())
    wanted = Wanted(((read.home.unit(1), read.home.learners),), (kind,))
    return [page.frame for piece in pieces_of(read, wanted, lambda name: None) for page in piece.pages]


def texts(found: list[Frame], who: ReadBy) -> list[str]:
    return [i.text for frame in found for i in frame.items if isinstance(i, Text) and i.read_by is who]


def test_what_a_child_knows_already_is_marked_on_its_record(family: Family) -> None:
    marks = texts(frames(family(learners=LEARNERS), "record-page"), ReadBy.ADULT)
    assert marks.count("knows it") == 2
    assert "knows it" not in texts(
        frames(family(learners="learners:\n  - code: fern\n    at: 1\n"), "record-page"), ReadBy.ADULT
    )


def test_questions_stand_on_the_page_to_retell(family: Family) -> None:
    root = family()
    unit = root / "units" / "01.yaml"
    text = unit.read_text(encoding="utf-8")
    unit.write_text(
        text.replace("  - title: Nod\n", "  - title: Nod\n    questions: [Who did nod?]\n"), encoding="utf-8"
    )
    assert "Who did nod?" in texts(frames(root, "retell-page"), ReadBy.ADULT)


def test_a_line_for_the_adult_is_set_apart_and_not_asked_of_the_child(family: Family) -> None:
    root = family()
    unit = root / "units" / "01.yaml"
    text = unit.read_text(encoding="utf-8")
    line = "        picture: otter\n        adult-reads: Everybody else had gone to sleep.\n"
    unit.write_text(text.replace("        picture: otter\n", line), encoding="utf-8")
    found = frames(root, "booklet")
    assert any("Everybody" in t for t in texts(found, ReadBy.ADULT))
    assert not any("Everybody" in t for t in texts(found, ReadBy.CHILD))
