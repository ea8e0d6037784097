"""Blocks of the guide's page, every one a Frame: text broken into lines, blocks set below and beside one another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from kitbuilder.artwork.fonts import BOLD_FONT, DEFAULT_FONT
from kitbuilder.artwork.frame import Box, Frame, Group, Item, Line, Text
from kitbuilder.artwork.type_metrics import FontMetrics, metrics
from kitbuilder.measure.length import pt

INK = "#1c1c1c"
SOFT = "#555555"  # 7.5:1 on white by WCAG 2.2, 1.4.6
ACCENT = "#1f5f6b"  # 7.2:1 on white; dark enough to stay dark in greyscale
SHADE = "#eff3f3"
RULE = "#c3cccc"
_BASELINE = (72, 100)  # of the leading, from the top of a line


@dataclass(frozen=True, slots=True)
class Style:
    """How a run of text is set. Sizes in micrometres."""

    size_um: int
    leading_um: int
    bold: bool = False
    colour: str = INK

    @property
    def font(self) -> str:
        return BOLD_FONT if self.bold else DEFAULT_FONT


def style(size_pt: float, leading_pt: float, *, bold: bool = False, colour: str = INK) -> Style:
    """Return a style from sizes in points."""
    return Style(pt(size_pt).um, pt(leading_pt).um, bold, colour)


BODY = style(10, 14)
LABEL = style(10, 14, bold=True)
SMALL = style(8.5, 11.5, colour=SOFT)
TINY = style(7, 9, colour=SOFT)
STEP = style(11.5, 15, bold=True)
PHASE = style(16, 21, bold=True, colour=ACCENT)
TITLE = style(30, 36, bold=True, colour=ACCENT)
SUBTITLE = style(13, 18, colour=SOFT)
FIGURE = style(20, 24, bold=True)


@dataclass(frozen=True, slots=True)
class Type:
    """The two fonts' measures: breaks text into lines and sets them."""

    plain: FontMetrics
    bold: FontMetrics

    def width_um(self, text: str, how: Style) -> int:
        return self._metrics(how).width_um(text, how.size_um)

    def lines(self, text: str, width_um: int, how: Style) -> tuple[str, ...]:
        """Return the text in lines no wider than `width_um`; a word that is wider alone is broken between letters."""
        found: list[str] = []
        line = ""
        for word in self.settable(text, how).split():
            longer = f"{line} {word}" if line else word
            if self.width_um(longer, how) <= width_um:
                line = longer
                continue
            if line:
                found.append(line)
            line = word
            while self.width_um(line, how) > width_um and len(line) > 1:
                cut = next(n for n in range(len(line) - 1, 0, -1) if n == 1 or self.width_um(line[:n], how) <= width_um)
                found.append(line[:cut])
                line = line[cut:]
        return (*found, line) if line else tuple(found)

    def settable(self, text: str, how: Style) -> str:
        """Return the text with a question mark for every character the font lacks: a family's title may hold any."""
        return "".join(c if c.isspace() or self._metrics(how).supports(c) else "?" for c in text)

    def paragraph(self, text: str, width_um: int, how: Style = BODY, align: str = "left") -> Frame:
        """Return the text as a block of that width, as high as its lines."""
        lines = self.lines(text, width_um, how)
        items = []
        for number, line in enumerate(lines):
            room = width_um - self.width_um(line, how)
            x = {"left": 0, "centre": room // 2, "right": room}[align]
            y = number * how.leading_um + how.leading_um * _BASELINE[0] // _BASELINE[1]
            items.append(Text(x, y, line, how.font, how.size_um, how.colour))
        return Frame(width_um, len(lines) * how.leading_um, tuple(items), "paragraph")

    def fitted(self, text: str, width_um: int, how: Style) -> str:
        """Return the text, cut with an ellipsis when it is wider; empty when not even a letter of it fits."""
        text = self.settable(text, how)
        if self.width_um(text, how) <= width_um:
            return text
        for length in range(len(text) - 1, 0, -1):
            short = text[:length].rstrip() + "…"
            if self.width_um(short, how) <= width_um:
                return short
        return ""

    def _metrics(self, how: Style) -> FontMetrics:
        return self.bold if how.bold else self.plain


def guide_type(font_files: Callable[[str], Path]) -> Type:
    """Return the guide's type, read from the files the pack is printed with."""
    plain, bold = (metrics(name, font_files(name).parent) for name in (DEFAULT_FONT, BOLD_FONT))
    return Type(plain, bold)


def below(frames: Sequence[Frame], gap_um: int = 0, width_um: int | None = None) -> Frame:
    """Return the frames one below the other."""
    items, y = [], 0
    for frame in frames:
        if y:
            y += gap_um
        items.append(Group(0, y, 0, frame))
        y += frame.height_um
    width = width_um if width_um is not None else max((f.width_um for f in frames), default=0)
    return Frame(width, y, tuple(items), "below")


def beside(frames: Sequence[Frame], gap_um: int = 0) -> Frame:
    """Return the frames side by side, tops level."""
    items, x = [], 0
    for frame in frames:
        items.append(Group(x, 0, 0, frame))
        x += frame.width_um + gap_um
    return Frame(max(0, x - gap_um), max((f.height_um for f in frames), default=0), tuple(items), "beside")


def inset(frame: Frame, left_um: int = 0, top_um: int = 0, right_um: int = 0, bottom_um: int = 0) -> Frame:
    """Return the frame with air round it."""
    return Frame(
        frame.width_um + left_um + right_um, frame.height_um + top_um + bottom_um, (Group(left_um, top_um, 0, frame),)
    )


def space(width_um: int, height_um: int = 0) -> Frame:
    return Frame(width_um, height_um, ())


def tick_box(size_um: int = 3_600, top_um: int = 700) -> Frame:
    """Return an empty box to tick, `top_um` below the top of its line."""
    box = Box(150, top_um, size_um, size_um, "#ffffff", INK, 300, 500)
    return Frame(size_um + 300, top_um + size_um + 150, (box,), "tick")


def rule(width_um: int, colour: str = RULE, thick_um: int = 250) -> Frame:
    """Return a thin line across the column."""
    return Frame(width_um, thick_um, (Line(0, thick_um // 2, width_um, thick_um // 2, thick_um, colour),), "rule")


def framed(inner: Frame, pad_um: int, *, fill: str | None = None, stroke: str | None = RULE) -> Frame:
    """Return the block in a box with round corners."""
    width, height = inner.width_um + 2 * pad_um, inner.height_um + 2 * pad_um
    items: tuple[Item, ...] = (
        Box(0, 0, width, height, fill, stroke, 250 if stroke else 0, 1_500),
        Group(pad_um, pad_um, 0, inner),
    )
    return Frame(width, height, items, "framed")
