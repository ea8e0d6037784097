"""A frame as an SVG fragment for the preview: the items of the print, in millimetres, at the same places.

The page around it supplies `<svg viewBox="0 0 WIDTH HEIGHT">` in millimetres, the fonts (`font_face`) and
`TEXT_STYLE`, so that a browser sets text as the PDF does: one glyph a character, no kerning, no ligatures.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from xml.sax.saxutils import escape, quoteattr

from kitbuilder.artwork.frame import Bitmap, Box, Frame, Group, Item, Line, Path, ReadBy, Text
from kitbuilder.export.operators import colour_numbers
from kitbuilder.export.placing import Placed, turning_matrix

TEXT_STYLE = "svg text{white-space:pre;font-kerning:none;font-variant-ligatures:none;text-rendering:geometricPrecision}"
MARK_CLASS = "mk"  # of texts that are read by nobody while learning, so that a page can hide them
DEEPEST_GROUP = 16
_NUMBER, _GAP = re.compile(r"-?[0-9]+"), re.compile(r" ?([MLCZ]) ?")


@dataclass(frozen=True, slots=True)
class Shared:
    """What a page draws once and refers to from then on: outlines and bitmaps (by digest), to the ids they have there.

    A bitmap's element covers the unit square: it is stretched to its place.
    """

    paths: Mapping[Path, str] = field(default_factory=dict)
    bitmaps: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Means:
    bitmaps: Mapping[str, bytes]
    shared: Shared


_NOTHING_SHARED = Shared()


def font_face(name: str, data: bytes) -> str:
    """Return the CSS rule that carries a TrueType font inside the page, under the name frames use."""
    coded = base64.b64encode(data).decode("ascii")
    return f"@font-face{{font-family:{_css_name(name)};src:url(data:font/ttf;base64,{coded}) format('truetype')}}"


def page_svg(placed: Iterable[Placed], ids_prefix: str, bitmaps: Mapping[str, bytes] | None = None) -> str:
    """Return the fragments of frames at their places on a page; ids are `PREFIX-1`, `PREFIX-2`, ..."""
    return "".join(
        f"<g{placed_transform(each)}>{frame_svg(each.frame, f'{ids_prefix}-{number}', bitmaps)}</g>"
        for number, each in enumerate(placed, start=1)
    )


def placed_transform(placed: Placed) -> str:
    """Return the attribute, with a blank before it, that puts a frame at its place; empty at the origin."""
    frame = placed.frame
    matrix = turning_matrix(placed.x_um, placed.y_um, frame.width_um, frame.height_um, placed.quarter_turns)
    return _transform(matrix)


def frame_svg(
    frame: Frame,
    ids_prefix: str = "",
    bitmaps: Mapping[str, bytes] | None = None,
    shared: Shared = _NOTHING_SHARED,
) -> str:
    """Return `<g>...</g>` with the frame's items in order; its id is `ids_prefix`, and nothing else gets an id.

    Raises:
        ValueError: when the frame uses a bitmap that is not in `bitmaps`, or a colour that is none.
    """
    own_id = f" id={quoteattr(ids_prefix)}" if ids_prefix else ""
    return f"<g{own_id}>{_items(frame, _Means(bitmaps or {}, shared), 0)}</g>"


def path_element(path: Path, own_id: str) -> str:
    """Return an outline as an element with an id, to be shared."""
    return _path(path).replace("<path", f"<path id={quoteattr(own_id)}", 1)


def bitmap_element(bitmap: Bitmap, data: bytes, own_id: str) -> str:
    """Return a bitmap over the unit square as an element with an id, to be shared."""
    return _image(bitmap.format, data, f'id={quoteattr(own_id)} width="1" height="1"')


def _items(frame: Frame, means: _Means, depth: int) -> str:
    if depth > DEEPEST_GROUP:
        raise ValueError(f"frame {frame.name!r}: frames lie in one another more than {DEEPEST_GROUP} deep")
    return "".join([_item(item, means, depth) for item in frame.items])


def _item(item: Item, means: _Means, depth: int) -> str:
    if isinstance(item, Text):
        return _text(item)
    if isinstance(item, Path):
        known = means.shared.paths.get(item) if means.shared.paths else None
        return f'<use href="#{known}"/>' if known else _path(item)
    if isinstance(item, Line):
        return _line(item)
    if isinstance(item, Box):
        return _box(item)
    if isinstance(item, Group):
        inner = item.frame
        matrix = turning_matrix(item.x_um, item.y_um, inner.width_um, inner.height_um, item.quarter_turns)
        return f"<g{_transform(matrix)}>{_items(inner, means, depth + 1)}</g>"
    return _bitmap(item, means)


@lru_cache(maxsize=65_536)
def mm(length_um: int) -> str:
    """Return micrometres as millimetres, exact and as short as can be: 62000 -> 62, 500 -> .5."""
    sign = "-" if length_um < 0 else ""
    whole, rest = divmod(abs(length_um), 1000)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole or ''}.{f'{rest:03d}'.rstrip('0')}"


def _transform(matrix: tuple[int, ...]) -> str:
    a, b, c, d, e, f = matrix
    if (a, b, c, d) == (1, 0, 0, 1):
        return f' transform="translate({mm(e)} {mm(f)})"' if e or f else ""
    return f' transform="matrix({a} {b} {c} {d} {mm(e)} {mm(f)})"'


def _text(item: Text) -> str:
    if not item.text:
        return ""
    family = quoteattr(_css_name(item.font))
    paint = "" if _colour(item.colour) == "#000000" else f' fill="{item.colour}"'
    place = f'x="{mm(item.x_um)}" y="{mm(item.y_um)}" font-size="{mm(item.size_um)}"'
    mark = f' class="{MARK_CLASS}"' if item.read_by is ReadBy.MARK else ""
    return f"<text{mark} {place} font-family={family}{paint}>{escape(_printable(item.text))}</text>"


def _line(item: Line) -> str:
    if item.width_um <= 0:
        return ""
    ends = f'x1="{mm(item.x1_um)}" y1="{mm(item.y1_um)}" x2="{mm(item.x2_um)}" y2="{mm(item.y2_um)}"'
    return f"<line {ends}{_stroke(item.colour, item.width_um, item.dash)}/>"


def _box(item: Box) -> str:
    paint = _paint(item.fill, item.stroke, item.stroke_um, item.dash)
    if paint is None:
        return ""
    radius = min(item.radius_um, item.width_um // 2, item.height_um // 2)
    place = f'x="{mm(item.x_um)}" y="{mm(item.y_um)}" width="{mm(item.width_um)}" height="{mm(item.height_um)}"'
    round_corners = f' rx="{mm(radius)}"' if radius > 0 else ""
    return f"<rect {place}{round_corners}{paint}/>"


def _path(item: Path) -> str:
    paint = _paint(item.fill, item.stroke, item.stroke_um, item.dash)
    if paint is None or not item.outline:
        return ""
    outline = _GAP.sub(r"\1", _NUMBER.sub(lambda found: mm(int(found[0])), item.outline))
    ends = ' stroke-linecap="round" stroke-linejoin="round"' if "stroke=" in paint else ""
    if item.name:
        return f'<path d="{outline}"{paint}{ends}><title>{escape(_printable(item.name))}</title></path>'
    return f'<path d="{outline}"{paint}{ends}/>'


def _bitmap(item: Bitmap, means: _Means) -> str:
    known = means.shared.bitmaps.get(item.digest)
    if known:
        place = f"translate({mm(item.x_um)} {mm(item.y_um)}) scale({mm(item.width_um)} {mm(item.height_um)})"
        return f'<use href="#{known}" transform="{place}"/>'
    if item.digest not in means.bitmaps:
        raise ValueError(f"no file was given for the picture {item.digest[:12]}")
    place = f'x="{mm(item.x_um)}" y="{mm(item.y_um)}" width="{mm(item.width_um)}" height="{mm(item.height_um)}"'
    return _image(item.format, means.bitmaps[item.digest], place)


def _image(file_format: str, data: bytes, place: str) -> str:
    if file_format not in ("png", "jpeg"):
        raise ValueError(f"{file_format!r} is no format of pictures")
    coded = base64.b64encode(data).decode("ascii")
    # none: both sides were chosen by whoever composed it. from-image is off: the PDF does not turn photos either.
    style = 'preserveAspectRatio="none" style="image-orientation:none"'
    return f'<image {place} {style} href="data:image/{file_format};base64,{coded}"/>'


def _paint(fill: str | None, stroke: str | None, stroke_um: int, dash: tuple[int, ...]) -> str | None:
    """Return the painting attributes, or None when nothing is to be painted."""
    stroked = _stroke(stroke, stroke_um, dash) if stroke is not None and stroke_um > 0 else ""
    if fill is None:
        return f' fill="none"{stroked}' if stroked else None
    return ("" if _colour(fill) == "#000000" else f' fill="{fill}"') + stroked


def _stroke(colour: str, width_um: int, dash: tuple[int, ...]) -> str:
    dashes = f' stroke-dasharray="{" ".join(map(mm, dash))}"' if dash else ""
    return f' stroke="{_colour(colour)}" stroke-width="{mm(width_um)}"{dashes}'


def _colour(colour: str) -> str:
    colour_numbers(colour)  # raises for what is no colour, so that nothing else gets into an attribute
    return colour


def _css_name(name: str) -> str:
    """Return a font's name as a CSS string; what could end the string or the rule is written as a CSS escape."""
    return "'" + "".join(c if c.isalnum() or c in " _-" else f"\\{ord(c):x} " for c in name) + "'"


def _printable(text: str) -> str:
    """Return the text without the control characters that XML 1.0 forbids (section 2.2)."""
    return "".join(
        c
        for c in text
        if c in "\t\n\r" or (c >= " " and not "\ud800" <= c <= "\udfff" and c < "\ufffe") or c > "\uffff"
    )
