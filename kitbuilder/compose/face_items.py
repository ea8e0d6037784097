"""The primitives a face is made of: each compiled once to a function that draws with a pen in a scope."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from kitbuilder.artwork.frame import Box, Frame, Group, Line, ReadBy
from kitbuilder.compose.expression_filters import ExpressionError
from kitbuilder.compose.expressions import Evaluate, Scope, compile_value
from kitbuilder.compose.face_pictures import draw_picture
from kitbuilder.compose.face_text import TextStyle, draw_text
from kitbuilder.compose.palette import COLOURS, colour_of
from kitbuilder.compose.pen import Pen, id_mark, to_um
from kitbuilder.compose.stroke_drawing import StrokeLook, draw_strokes
from kitbuilder.model.templates import RawList, RawMap, RawValue
from kitbuilder.model.text import Placed

Draw = Callable[[Scope, Pen], None]
MOST_REPEATS = 600
DEEPEST_GROUP = 6


class FaceProblem(ValueError):
    """A face that cannot be compiled or drawn; `place` is where in the template."""

    def __init__(self, message: str, raw: RawValue | None) -> None:
        super().__init__(message)
        self.place = getattr(raw, "location", None)


def compile_raw(raw: RawValue) -> Evaluate:
    """Return a function of the scope for a template value: text, a list of values, or a mapping of values."""
    if isinstance(raw, RawMap):
        pairs = [(str(key), compile_raw(value)) for key, value in raw.entries]
        return lambda scope: {key: value(scope) for key, value in pairs}
    if isinstance(raw, RawList):
        items = [compile_raw(item) for item in raw.items]
        return lambda scope: tuple(item(scope) for item in items)
    try:
        return compile_value(str(raw))
    except ExpressionError as error:
        raise FaceProblem(str(error), raw) from None


class Fields:
    """The keys of one primitive, compiled; asks each key once and refuses those nobody asked for."""

    def __init__(self, raw: RawMap) -> None:
        self.raw = raw
        self.left = {str(key): value for key, value in raw.entries}
        self.keys = {str(key): key for key, _ in raw.entries}

    def take(self, key: str, default: str | None = None) -> Evaluate:
        raw = self.left.pop(key, None)
        if raw is not None:
            return compile_raw(raw)
        if default is None:
            raise FaceProblem(f"'{key}' is missing", self.raw)
        return compile_value(default)

    def has(self, key: str) -> bool:
        return key in self.left

    def raw_list(self, key: str) -> RawList:
        raw = self.left.pop(key, None)
        if not isinstance(raw, RawList):
            raise FaceProblem(f"'{key}' is a list of things to draw", raw or self.raw)
        return raw

    def close(self) -> None:
        for key in self.left:
            raise FaceProblem(f"unknown key '{key}' in a face", self.keys[key])


def compile_items(draw: RawList, depth: int = 0) -> Draw:
    """Return a function that draws a list of primitives in order."""
    if depth > DEEPEST_GROUP:
        raise FaceProblem(f"groups are nested deeper than {DEEPEST_GROUP}", draw)
    steps = [_compile_item(raw, depth) for raw in draw.items]

    def run(scope: Scope, pen: Pen) -> None:
        for step in steps:
            step(scope, pen)

    return run


def _compile_item(raw: RawValue, depth: int) -> Draw:
    if not isinstance(raw, RawMap) or not raw.entries:
        raise FaceProblem("each thing to draw is written like '- text: ...' with its keys below it", raw)
    fields = Fields(raw)
    when = fields.take("when", "yes") if fields.has("when") else None
    name = str(raw.entries[0][0])
    maker = _MAKERS.get(name)
    if maker is None:
        raise FaceProblem(f"'{name}' cannot be drawn; known are {', '.join(sorted(_MAKERS))}", raw.entries[0][0])
    step = maker(fields, depth)
    fields.close()

    def run(scope: Scope, pen: Pen) -> None:
        try:
            if when is None or truth(when(scope)):
                step(scope, pen)
        except ExpressionError as error:
            raise FaceProblem(str(error), raw.entries[0][0]) from None

    return run


def truth(value: Any) -> bool:
    """Return what a written or computed condition means: the words no, off and false are no."""
    return value.strip().lower() not in ("", "no", "off", "false", "0") if isinstance(value, str) else bool(value)


def _four(value: Any) -> tuple[int, int, int, int]:
    if not isinstance(value, tuple) or len(value) != 4:
        raise ExpressionError("a box is written as [x, y, width, height]")
    x, y, width, height = (to_um(v) for v in value)
    return x, y, width, height


def _colour(value: Any) -> str | None:
    if value in ("none", "", None):
        return None
    found = colour_of(str(value))
    if found is None:
        raise ExpressionError(f"{value!r} is not a colour; use #rrggbb, {', '.join(COLOURS)}, or 'tint vowel'")
    return found


def _dash(value: Any) -> tuple[int, ...]:
    if value in ("none", "", None, ()):
        return ()
    return tuple(to_um(v) for v in value)


def _places(value: Any) -> tuple[int, ...]:
    return () if value == "none" else tuple(int(place) for place in value)


def _text(fields: Fields, depth: int) -> Draw:
    value, box = fields.take("text"), fields.take("box")
    size = fields.take("size")
    least = fields.take("least", "same")
    font, align, valign = fields.take("font", "Andika"), fields.take("align", "centre"), fields.take("valign", "middle")
    leading, wrap, colour = (
        fields.take("leading", "{{ 1.35 }}"),
        fields.take("wrap", "yes"),
        fields.take("colour", "ink"),
    )
    read_by, underline = fields.take("read-by", "adult"), fields.take("underline", "none")
    ticks, alike = fields.take("ticks", "none"), fields.take("alike", "{{ [] }}")
    breaks, easy = fields.take("breaks", "none"), fields.take("easy", "no")

    def run(scope: Scope, pen: Pen) -> None:
        text = value(scope)
        text = text if isinstance(text, str) else str(text)
        if not text.strip():
            return
        largest = to_um(size(scope))
        smallest = least(scope)
        style = TextStyle(
            font=str(font(scope)),
            largest_um=largest,
            least_um=largest if smallest == "same" else to_um(smallest),
            align=str(align(scope)),
            valign=str(valign(scope)),
            leading=float(leading(scope)),
            wrap=truth(wrap(scope)),
            colour=_colour(colour(scope)) or "#000000",
            read_by=ReadBy(str(read_by(scope))),
            underline=() if (spans := underline(scope)) == "none" else tuple((int(a), int(b)) for a, b in spans),
            ticks=_places(ticks(scope)),
            alike=tuple(str(other) for other in alike(scope)),
            breaks=_places(breaks(scope)),
            easy=truth(easy(scope)),
        )
        draw_text(pen, text, _four(box(scope)), style)

    return run


def _rect(fields: Fields, depth: int) -> Draw:
    box, fill, stroke = fields.take("rect"), fields.take("fill", "none"), fields.take("stroke", "none")
    width, radius, dash = fields.take("stroke-width", "0.3 mm"), fields.take("radius", "0"), fields.take("dash", "none")

    def run(scope: Scope, pen: Pen) -> None:
        x, y, w, h = _four(box(scope))
        pen.add(
            Box(
                x + pen.dx_um,
                y + pen.dy_um,
                w,
                h,
                _colour(fill(scope)),
                (edge := _colour(stroke(scope))),
                to_um(width(scope)) if edge else 0,
                to_um(radius(scope)),
                _dash(dash(scope)),
            )
        )

    return run


def _line(fields: Fields, depth: int) -> Draw:
    ends, width = fields.take("line"), fields.take("stroke-width", "0.3 mm")
    colour, dash = fields.take("colour", "rule"), fields.take("dash", "none")

    def run(scope: Scope, pen: Pen) -> None:
        x1, y1, x2, y2 = _four(ends(scope))
        dx, dy = pen.dx_um, pen.dy_um
        pen.add(
            Line(
                x1 + dx,
                y1 + dy,
                x2 + dx,
                y2 + dy,
                to_um(width(scope)),
                _colour(colour(scope)) or "#000000",
                _dash(dash(scope)),
            )
        )

    return run


def _rules(fields: Fields, depth: int) -> Draw:
    box, height, gap = fields.take("rules"), fields.take("rule-height"), fields.take("gap", "4 mm")
    colour = fields.take("colour", "rule")

    def run(scope: Scope, pen: Pen) -> None:
        x, y, w, h = _four(box(scope))
        tall = to_um(height(scope))
        step = tall + tall // 2 + to_um(gap(scope))
        ink = _colour(colour(scope)) or "#999999"
        top = y
        while tall > 0 and top + tall + tall // 2 <= y + h:
            # top line, midline, baseline, descender line: plain grey, the midline dashed, the baseline strongest
            for offset, width, dash in (
                (0, 150, ()),
                (tall // 2, 150, (1_500, 1_500)),
                (tall, 350, ()),
                (tall + tall // 2, 100, (400, 1_600)),
            ):
                level = top + offset + pen.dy_um
                pen.add(Line(x + pen.dx_um, level, x + w + pen.dx_um, level, width, ink, dash))
            top += step

    return run


def _picture(fields: Fields, depth: int) -> Draw:
    name, box, empty = fields.take("picture"), fields.take("box"), fields.take("empty", "frame")

    def run(scope: Scope, pen: Pen) -> None:
        draw_picture(pen, name(scope), _four(box(scope)), str(empty(scope)))

    return run


def _strokes(fields: Fields, depth: int) -> Draw:
    text, box, look = fields.take("strokes"), fields.take("box"), fields.take("look", "solid")
    height, align, colour = fields.take("rule-height", "0"), fields.take("align", "left"), fields.take("colour", "ink")
    helps = [fields.take(key, "no") for key in ("starts", "numbers", "arrows")]

    def run(scope: Scope, pen: Pen) -> None:
        ink = _colour(colour(scope)) or "#111111"
        style = StrokeLook(str(look(scope)), ink, to_um(height(scope)), str(align(scope)))
        starts, numbered, arrowed = (truth(help_(scope)) for help_ in helps)
        style = replace(style, starts=starts, numbers=numbered, arrows=arrowed)
        draw_strokes(pen, str(text(scope)), _four(box(scope)), style)

    return run


def _id(fields: Fields, depth: int) -> Draw:
    at, align, colour = fields.take("id"), fields.take("align", "left"), fields.take("colour", "mark")

    def run(scope: Scope, pen: Pen) -> None:
        place = at(scope)
        if not isinstance(place, tuple) or len(place) != 2:
            raise ExpressionError("an id is placed at [x, y]")
        x, y = to_um(place[0]) + pen.dx_um, to_um(place[1]) + pen.dy_um
        pen.add(id_mark(x, y, str(align(scope)), _colour(colour(scope)) or "#777777"))

    return run


def _group(fields: Fields, depth: int) -> Draw:
    inner = compile_items(fields.raw_list("group"), depth + 1)
    repeat = fields.take("repeat") if fields.has("repeat") else None
    name = fields.take("as", "item")
    at, step, across = (
        fields.take("at", "{{ [0, 0] }}"),
        fields.take("step", "{{ [0, 0] }}"),
        fields.take("across", "{{ 1 }}"),
    )
    turned = fields.take("turned", "no")

    def run(scope: Scope, pen: Pen) -> None:
        values: tuple[Any, ...] = (None,)
        if repeat is not None:
            listed = repeat(scope)
            if not isinstance(listed, tuple | list):
                raise ExpressionError("'repeat' needs a list")
            if len(listed) > MOST_REPEATS:
                raise ExpressionError(f"'repeat' draws {len(listed)} times; {MOST_REPEATS} is the most")
            values = tuple(listed)
        x0, y0 = (to_um(v) for v in at(scope))
        dx, dy = (to_um(v) for v in step(scope))
        columns = max(1, int(across(scope)))
        label = str(name(scope))
        home, before = (pen.dx_um, pen.dy_um), len(pen.items)
        for index, value in enumerate(values):
            row, column = divmod(index, columns)
            inside = dict(scope)
            inside.update({label: value, "index": index, "row": row, "column": column} if repeat else {})
            pen.dx_um, pen.dy_um = home[0] + x0 + column * dx, home[1] + y0 + row * dy
            inner(inside, pen)
        pen.dx_um, pen.dy_um = home
        if truth(turned(scope)):
            # the whole face is turned, so that its middle stays where it is and places read as from the other side
            drawn = tuple(pen.items[before:])
            del pen.items[before:]
            pen.add(Group(0, 0, 2, Frame(to_um(scope["width"]), to_um(scope["height"]), drawn)))

    return run


_MAKERS: dict[str, Callable[[Fields, int], Draw]] = {
    "text": _text,
    "rect": _rect,
    "line": _line,
    "rules": _rules,
    "picture": _picture,
    "strokes": _strokes,
    "id": _id,
    "group": _group,
}

__all__ = ["Draw", "FaceProblem", "Placed", "compile_items", "compile_raw", "truth"]
