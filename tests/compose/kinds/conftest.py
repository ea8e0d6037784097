"""The pieces of one kind for a unit of the starter, composed but not laid out, with a check that they hold together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from kitbuilder.artwork.frame import Frame, Group, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Wanted, make_jobs
from kitbuilder.compose.pack_pieces import compose_pieces
from kitbuilder.compose.pen import Workshop
from kitbuilder.compose.picture_book import PictureBook
from kitbuilder.compose.reading import family_reader
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.imposition.formats import FormatFinder
from kitbuilder.load.definitions import load_home, with_paper
from kitbuilder.load.templates import Templates, load_templates
from kitbuilder.measure.geometry import Size
from kitbuilder.model.home import Home
from kitbuilder.model.learners import Learner
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Material
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.nonsense_words import judge_nonsense

ROOT = Path(__file__).parents[3]
UNITS = tuple(range(1, 13))
PAPERS = ("a4", "letter")
LEAST_CHILD_PT = 18  # common practice, no source

ANYONE = Learner.model_validate({"code": "lark", "at": 1})

Compose = Callable[..., tuple[Piece, ...]]


@cache
def _starter() -> tuple[Home, Templates, Reader]:
    log = ProblemLog()
    home = load_home(ROOT)
    templates = load_templates(ROOT, log)
    reader = family_reader(home, log).reader
    log.stop_if_any()
    return home, templates, reader


@pytest.fixture(scope="session")
def home() -> Home:
    return _starter()[0]


@pytest.fixture(scope="session")
def reader() -> Reader:
    return _starter()[2]


@pytest.fixture(scope="session")
def compose() -> Compose:
    """Return `compose(kind, unit, paper="a4", learner=None, options=None)`: numbered pieces, else the problems raised.

    `learner` None: for any child, where the kind is used up. `options` are written as in a unit file. `beside`: kinds
    the unit asks for as well. `size`: another than the kind's.
    """

    def run(
        kind: str,
        unit: int,
        paper: str = "a4",
        learner: Learner | None = None,
        options: Mapping[str, str | tuple[str, ...]] | None = None,
        count: int | None = None,
        beside: tuple[str, ...] = (),
        size: Size | None = None,
    ) -> tuple[Piece, ...]:
        home, templates, reader = _starter()
        home = replace(home, press=with_paper(home.press, paper))
        log = ProblemLog()
        given = {k: Placed(v) if isinstance(v, str) else tuple(map(Placed, v)) for k, v in (options or {}).items()}
        written = tuple((Placed(k), v) for k, v in given.items())
        material = Material.model_construct(none=False, size=size, count=count, stock=None, options=written)
        others = tuple((Placed(other), Material()) for other in beside)
        taught = home.unit(unit).model_copy(update={"materials": ((Placed(kind), material), *others)})
        wanted = Wanted(((taught, (learner or ANYONE,)),), (kind,))
        jobs = make_jobs(wanted, templates.kinds, [kind], 1, FormatFinder(home.press, log), log)
        workshop = Workshop(lambda name: metrics(name), PictureBook(), log)
        faces = FaceBook(templates.faces, workshop)
        sources = Sources(home, workshop.pictures, reader, format_of=FormatFinder(home.press, log))
        return compose_pieces(jobs, sources, faces, templates.kinds)

    return run


def items_of(frame: Frame) -> list[object]:
    found: list[object] = []
    for item in frame.items:
        found += items_of(item.frame) if isinstance(item, Group) else [item]
    return found


@pytest.fixture(scope="session")
def sound() -> Callable[[tuple[Piece, ...]], None]:
    """Return a check of pieces: an id on each, all words inside the keep-clear margin, a child's words large enough."""

    def check(pieces: tuple[Piece, ...]) -> None:
        for piece in pieces:
            shown = [t for page in piece.pages for t in texts_of(page.frame, ReadBy.MARK)]
            assert piece.id in [text.split()[0] for text in shown], f"{piece.title}: no id"
            clear = piece.format.keep_clear
            least = min(clear.left.um, clear.top.um, clear.right.um, clear.bottom.um)
            for page in piece.pages:
                for item in items_of(page.frame):
                    if isinstance(item, Text):
                        width = metrics(item.font).width_um(item.text, item.size_um)
                        assert least - 20 <= item.x_um, f"{piece.id}: {item.text!r} too far left"
                        assert item.x_um + width <= page.frame.width_um - least + 20, f"{piece.id}: {item.text!r}"
                        assert least - 20 <= item.y_um <= page.frame.height_um - least + 20, (
                            f"{piece.id}: {item.text!r}"
                        )
                        small = item.size_um * 72 / 25_400 < LEAST_CHILD_PT - 0.1
                        assert not (item.read_by is ReadBy.CHILD and small), f"{piece.id}: {item.text!r} is small"

    return check


@pytest.fixture(scope="session")
def readable(reader: Reader, home: Home) -> Callable[[tuple[Piece, ...], int], None]:
    """Return a check that everything a child reads on the pieces can be read at the unit.

    Taught graphemes may stand alone; words that nobody knows only where the page says "made up" and the judge of
    made-up words agrees.
    """
    fine = {"decodable", "irregular", "name", "adult-reads"}

    def check(pieces: tuple[Piece, ...], unit: int) -> None:
        graphemes = {str(t.grapheme) for u in home.units if u.unit <= unit for t in u.teach}
        for piece in pieces:
            for page in piece.pages:
                made_up = "made up" in texts_of(page.frame)
                for text in texts_of(page.frame, ReadBy.CHILD):
                    if text in graphemes or (made_up and judge_nonsense(text, reader, unit, strict=False).accepted):
                        continue
                    for verdict in reader.check_text(text, unit):
                        assert verdict.verdict in fine, f"{piece.id}: {text!r}: {verdict.word} is {verdict.verdict}"

    return check
