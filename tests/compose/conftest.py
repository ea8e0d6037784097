"""A workshop with the real fonts and pictures, and faces typed into the test."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.artwork.frame import Frame
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.pen import Workshop
from kitbuilder.compose.picture_book import PictureBook
from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.load.templates import load_templates
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import mm

PLACE = Location("units/07.yaml", 3, 5)


@pytest.fixture
def workshop() -> Workshop:
    return Workshop(lambda name: metrics(name), PictureBook(), ProblemLog())


@pytest.fixture
def draw(tmp_path: Path, workshop: Workshop) -> Callable[..., Frame]:
    """Return a function that draws the face typed as YAML lines, 60 x 40 mm with 5 mm kept clear."""

    def run(lines: str, **scope: object) -> Frame:
        folder = tmp_path / "templates" / "faces"
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "typed.yaml").write_text("face: typed\n" + lines, encoding="utf-8")
        log = ProblemLog()
        faces = load_templates(tmp_path, log).faces
        log.stop_if_any()
        page = Format(Size(mm(60), mm(40)), Insets.even(mm(5)))
        return FaceBook(faces, workshop).draw("typed", scope, page, PLACE, "the typed card")

    return run
