"""Face templates compiled once, then resolved to Frames: a scope and a format in, positioned primitives out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from kitbuilder.artwork.frame import Frame, Item
from kitbuilder.compose.expression_filters import ExpressionError
from kitbuilder.compose.expressions import Evaluate
from kitbuilder.compose.face_items import Draw, FaceProblem, compile_items, compile_raw
from kitbuilder.compose.pen import Pen, Workshop, number_scope
from kitbuilder.diagnostics import Location, stop
from kitbuilder.measure.format import Format
from kitbuilder.model.templates import FaceTemplate


@dataclass(frozen=True, slots=True)
class Face:
    """A compiled face."""

    name: str
    let: tuple[tuple[str, Evaluate], ...]
    draw: Draw


def compile_face(template: FaceTemplate) -> Face:
    """Return the compiled face; raises ProblemsFound at the template's line for what may not be drawn."""
    try:
        let = tuple((str(name), compile_raw(raw)) for name, raw in template.let)
        return Face(template.name, let, compile_items(template.draw))
    except FaceProblem as error:
        raise _located(template.name, error, template.location) from None


class FaceBook:
    """Compiles faces when they are first used, and draws them."""

    def __init__(self, templates: Mapping[str, FaceTemplate], workshop: Workshop) -> None:
        self._templates = templates
        self._compiled: dict[str, Face] = {}
        self._drawn: dict[Item, Item] = {}  # three children's pages of a unit have nearly all things in common
        self.workshop = workshop

    def known(self, name: str) -> bool:
        return name in self._templates

    def draw(
        self,
        name: str,
        scope: Mapping[str, Any],
        page: Format,
        asked_at: Location | None,
        what: str,
        *,
        mirrored: bool = False,
    ) -> Frame:
        """Return the face drawn to the format. `mirrored` swaps the left and right keep-clear margins (backs)."""
        face = self._compiled.get(name)
        if face is None:
            face = self._compiled[name] = compile_face(self._templates[name])
        width, height, clear = page.trim.width.um, page.trim.height.um, page.keep_clear
        left, right = (clear.right, clear.left) if mirrored else (clear.left, clear.right)
        full = dict(number_scope(width, height, (left.um, clear.top.um, right.um, clear.bottom.um)))
        full.update(scope)
        pen = Pen(self.workshop, asked_at, what)
        try:
            for key, value in face.let:
                full[key] = value(full)
            face.draw(full, pen)
        except FaceProblem as error:
            raise _located(name, error, self._templates[name].location) from None
        except ExpressionError as error:
            raise _located(name, FaceProblem(str(error), None), self._templates[name].location) from None
        return Frame(width, height, tuple([self._drawn.setdefault(item, item) for item in pen.items]), name)


def _located(name: str, error: FaceProblem, fallback: Location | None) -> Exception:
    return stop(
        f"face {name!r}: {error}",
        "bad-face",
        "correct the template, or delete your copy of it to go back to the shipped one",
        error.place or fallback,
    )
