"""A family's own simple SVG drawing, reduced to a black-and-white picture outline.

Kept: paths, rectangles, circles, ellipses, lines, polylines, polygons, groups, `use` of a part of the same drawing,
transforms, fills and strokes (dark ones become black, light ones white; dashes become solid, line ends round).
Refused, with a hint: writing, bitmaps, scripts, anything from elsewhere, masks and filters, entities, files over 1 MB.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.etree.ElementTree import Element, ParseError, fromstring

from kitbuilder.artwork.outlines import PathCommand
from kitbuilder.artwork.path_shape import bounds, contours, nonzero_from_even_odd
from kitbuilder.artwork.pictures import Layer, PictureOutline, PictureProblem
from kitbuilder.artwork.svg_paint import Rules, is_white, own_style, style_rules
from kitbuilder.artwork.svg_shapes import NO_SHAPE, number, shape_path, transform
from kitbuilder.artwork.vector_paths import IDENTITY, Command, Matrix, multiplied, transformed

MAX_BYTES = 1_000_000
MAX_ELEMENTS, MAX_DEPTH, MAX_COMMANDS, MAX_HOLES = 20_000, 50, 100_000, 500
LONGEST_SIDE = 2_048  # units of a finished picture, as in the shipped ones
_SIMPLER = "save the drawing as a plain SVG of paths only, or as a PNG"
_REFUSED = {
    "script": "a script",
    "foreignobject": "a web page inside",
    "image": "a bitmap inside",
    "text": "writing in it",
    "mask": "a mask",
    "filter": "a filter",
    "animate": "an animation",
}
_SKIPPED = ("defs", "symbol", "title", "desc", "metadata", "style", "marker", "pattern", "lineargradient",
            "radialgradient", "clippath", "namedview")  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Shape:
    path: list[Command]
    white: bool
    fill: bool
    stroke: float


@dataclass(slots=True)
class _Drawing:
    """What the walk through the elements needs to know and counts."""

    rules: Rules
    by_id: dict[str, Element]
    size: tuple[float, float]
    elements: int = 0
    commands: int = 0
    shapes: list[_Shape] = field(default_factory=list)


def outline_from_svg(text: str, name: str = "drawing") -> PictureOutline:
    """Return the drawing as a picture called `name`; its box is the box of its ink.

    Raises:
        PictureProblem: when the file is not an SVG, holds something refused, or shows nothing dark.
    """
    root = _parsed(text)
    elements = list(root.iter())
    _refuse_unsafe(elements)
    sheets = "".join(e.text or "" for e in elements if _tag(e) == "style")
    drawing = _Drawing(style_rules(sheets), {e.get("id", ""): e for e in elements}, _view_size(root))
    try:
        _walk(drawing, root, {}, IDENTITY, 0)
    except (ValueError, OverflowError) as error:
        raise PictureProblem(f"a part of the drawing cannot be read: {error}", _SIMPLER) from error
    return _finished(name, drawing.shapes)


def _parsed(text: str) -> Element:
    if len(text) > MAX_BYTES or len(text.encode("utf-8", "replace")) > MAX_BYTES:
        raise PictureProblem("the drawing is larger than 1 MB", "simplify it, or save it as a PNG")
    declared = text.upper().find("<!DOCTYPE")
    end = text.find(">", declared)
    if "<!ENTITY" in text.upper() or (declared >= 0 and "[" in text[declared:end]):
        raise PictureProblem("the drawing declares entities, which can fill the memory", _SIMPLER)
    if declared >= 0:
        text = text[:declared] + text[end + 1 :]  # older drawing programs write one; nothing is fetched for it
    try:
        root = fromstring(text)
    except (ParseError, ValueError) as error:
        raise PictureProblem(f"the drawing is not a whole SVG file ({error})", "save it again as an SVG") from error
    if _tag(root) != "svg":
        raise PictureProblem(f"the file holds <{_tag(root)}>, not <svg>", "save the drawing as an SVG or a PNG")
    return root


def _tag(element: Element) -> str:
    name = element.tag if isinstance(element.tag, str) else "comment"
    return name.rpartition("}")[2].lower()


def _refuse_unsafe(elements: list[Element]) -> None:
    if len(elements) > MAX_ELEMENTS:
        raise PictureProblem(f"the drawing has {len(elements):,} parts", "simplify it, or save it as a PNG")
    for element in elements:
        tag = _tag(element)
        found = next((what for start, what in _REFUSED.items() if tag.startswith(start)), None)
        values = [(name.rpartition("}")[2].lower(), value) for name, value in element.attrib.items()]
        if tag == "style":
            values.append(("style", element.text or ""))
        for attribute, value in values:
            if attribute.startswith("on"):
                found = "a script"
            elsewhere = attribute == "href" and tag == "use" and not value.strip().startswith("#")
            if elsewhere or "@import" in value or re.search(r"url\(\s*['\"]?\s*[^#'\"\s]", value, re.IGNORECASE):
                found = "a part that lies in another file"
        if found:
            raise PictureProblem(f"the drawing has {found} (<{tag}>), which cannot be printed from here", _SIMPLER)


def _view_size(root: Element) -> tuple[float, float]:
    box = re.findall(r"[-+.\deE]+", root.get("viewBox", ""))
    try:
        if len(box) == 4:
            return float(box[2]), float(box[3])
        return number(root.get("width", "100"), 100.0), number(root.get("height", "100"), 100.0)
    except ValueError:
        return 100.0, 100.0


def _walk(drawing: _Drawing, element: Element, inherited: dict[str, str], matrix: Matrix, depth: int) -> None:
    drawing.elements += 1
    if drawing.elements > MAX_ELEMENTS or depth > MAX_DEPTH:
        raise ValueError("too many parts, or parts inside parts")
    tag = _tag(element)
    style = own_style(tag, dict(element.attrib), drawing.rules)
    if style.get("display") == "none" or _nothing(style.pop("opacity", "1")):
        return
    for effect in ("mask", "filter"):
        if style.pop(effect, "none") != "none":
            raise ValueError(f"it uses a {effect}")
    if not _clip_shows_all(drawing, style.pop("clip-path", "none")):
        raise ValueError("it uses a clipping path")
    style = inherited | style
    matrix = multiplied(matrix, transform(element.get("transform", "")))
    if tag in ("svg", "g", "a", "switch"):
        for child in element:
            if _tag(child) not in _SKIPPED:
                _walk(drawing, child, style, matrix, depth + 1)
    elif tag == "use":
        _walk_used(drawing, element, style, matrix, depth)
    elif tag not in NO_SHAPE:
        _draw(drawing, shape_path(tag, element, drawing.size), style, matrix, open_line=tag == "line")


def _walk_used(drawing: _Drawing, element: Element, style: dict[str, str], matrix: Matrix, depth: int) -> None:
    href = next((v for k, v in element.attrib.items() if k.rpartition("}")[2] == "href"), "")
    target = drawing.by_id.get(href.strip().removeprefix("#"))
    if target is None:
        raise ValueError(f"it uses a part called {href!r} that is not there")
    moved = (1.0, 0.0, 0.0, 1.0, number(element.get("x", "0"), 0), number(element.get("y", "0"), 0))
    parts = list(target) if _tag(target) == "symbol" else [target]
    for part in parts:
        _walk(drawing, part, style, multiplied(matrix, moved), depth + 1)


def _clip_shows_all(drawing: _Drawing, value: str) -> bool:
    """Tell whether a clipping path is only the whole sheet, as drawing programs like to write."""
    if value == "none":
        return True
    clip = drawing.by_id.get(re.sub(r"url\(\s*['\"]?#|['\"]?\s*\)", "", value).strip())
    if clip is None or [_tag(c) for c in clip] != ["rect"] or clip[0].get("transform"):
        return False
    width, height = drawing.size
    box = bounds(shape_path("rect", clip[0], drawing.size))
    return box is not None and box[2] - box[0] >= width * 0.99 and box[3] - box[1] >= height * 0.99


def _draw(drawing: _Drawing, path: list[Command], style: dict[str, str], matrix: Matrix, open_line: bool) -> None:
    if style.get("visibility") in ("hidden", "collapse") or not path:
        return
    drawing.commands += len(path)
    if drawing.commands > MAX_COMMANDS:
        raise ValueError("too many points")
    fill = None if open_line else _painted(style, "fill", "black")
    stroke = _painted(style, "stroke", "none")
    width = number(style.get("stroke-width", "1"), 1.0) * math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))
    placed = transformed(path, matrix)
    if fill is not None:
        filled = placed
        if style.get("fill-rule") == "evenodd":
            if sum(1 for _ in contours(placed)) > MAX_HOLES:
                raise ValueError("a shape with too many holes")
            filled = nonzero_from_even_odd(placed)
        drawing.shapes.append(_Shape(filled, fill, True, 0.0))
    if stroke is not None and width > 0:
        drawing.shapes.append(_Shape(placed, stroke, False, width))


def _painted(style: dict[str, str], what: str, otherwise: str) -> bool | None:
    if _nothing(style.get(f"{what}-opacity", "1")):
        return None
    return is_white(style.get(what, otherwise), style.get("color", "black"))


def _nothing(opacity: str) -> bool:
    return number(opacity, 1.0) <= 0.05


def _finished(name: str, shapes: list[_Shape]) -> PictureOutline:
    """Return the shapes in whole units from the corner of their ink; white below all black is paper and goes."""
    boxed = [(s, b) for s in shapes if (b := bounds(s.path))]
    while boxed and boxed[0][0].white:
        boxed.pop(0)
    grown = [(b[0] - s.stroke / 2, b[1] - s.stroke / 2, b[2] + s.stroke / 2, b[3] + s.stroke / 2) for s, b in boxed]
    if not grown:
        raise PictureProblem(
            "the drawing shows nothing dark, so nothing would be printed", "draw it with black lines or black shapes"
        )
    left, top = min(b[0] for b in grown), min(b[1] for b in grown)
    width, height = max(b[2] for b in grown) - left, max(b[3] for b in grown) - top
    if not 0 < max(width, height) < math.inf:
        raise PictureProblem("the drawing is a single point", "draw it larger")
    scale = LONGEST_SIDE / max(width, height)
    layers = tuple(
        Layer(
            tuple(_whole(s.path, left, top, scale)),
            fill=s.fill,
            stroke_width=max(1, round(s.stroke * scale)) if s.stroke else 0,
            white=s.white,
        )
        for s, _ in boxed
    )
    return PictureOutline(name, max(1, math.ceil(width * scale)), max(1, math.ceil(height * scale)), layers)


def _whole(path: list[Command], left: float, top: float, scale: float) -> Iterator[PathCommand]:
    for letter, *values in path:
        numbers = (float(v) - (top if i % 2 else left) for i, v in enumerate(values))
        yield (str(letter), *(round(n * scale) for n in numbers))
