"""What kinds say of folding, gluing and stapling, and which cautions they ask for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.shipped import shipped
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.templates import load_templates

Compose = Callable[..., tuple[Piece, ...]]


def made(pieces: tuple[Piece, ...]) -> str:
    (sentence,) = {piece.make for piece in pieces}
    return sentence


def test_double_tiles_are_folded_and_glued_and_single_ones_are_not(compose: Compose) -> None:
    assert made(compose("letter-tile", 3)) == ""
    assert made(compose("letter-tile", 3, options={"double": "yes"})).startswith("Fold each double tile")


def test_flip_books_are_stapled_where_their_leaves_are_held(compose: Compose) -> None:
    assert "along the top, on the marks" in made(compose("flip-book", 5))
    pieces = compose("flip-book", 5, options={"edge": "side"})
    assert "at the side, on the marks" in made(pieces)
    assert {piece.cautions for piece in pieces} == {("staples",)}


@pytest.mark.parametrize("kind", ["dice-page", "path"])
def test_a_die_is_cut_and_glued_when_there_is_one(kind: str, compose: Compose) -> None:
    assert "tabs inwards, and glue." in made(compose(kind, 5))
    assert "die" not in made(compose(kind, 5, options={"die": "no"}))


def test_a_caution_that_nobody_knows_is_told_at_its_place(tmp_path: Path) -> None:
    kinds = tmp_path / "templates" / "kinds"
    kinds.mkdir(parents=True)
    shipped_text = (shipped("templates") / "kinds" / "path.yaml").read_text(encoding="utf-8")
    (kinds / "path.yaml").write_text(shipped_text.replace("[scissors]", "[scissors, smoke]"), encoding="utf-8")
    log = ProblemLog()
    assert load_templates(tmp_path, log).kinds["path"].cautions == ("scissors",)
    (problem,) = log.problems
    assert "no caution 'smoke'" in problem.message
    assert problem.location is not None
    assert problem.location.file == "templates/kinds/path.yaml"
