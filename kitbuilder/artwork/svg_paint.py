"""Colours and style sheets of a simple SVG, reduced to what one-colour print needs: black, white or nothing.

Source: W3C, CSS Color Module Level 4 (named colours; relative luminance as in WCAG 2, section on contrast).
"""

from __future__ import annotations

import re

# The named colours lighter than MIDDLE; all other names print black.
_LIGHT_NAMES = """
    aliceblue antiquewhite aqua aquamarine azure beige bisque blanchedalmond burlywood chartreuse cornsilk cyan
    darkkhaki darkorange darksalmon darkseagreen darkturquoise deepskyblue floralwhite gainsboro ghostwhite gold
    goldenrod greenyellow honeydew ivory khaki lavender lavenderblush lawngreen lemonchiffon lightblue lightcyan
    lightgoldenrodyellow lightgray lightgreen lightgrey lightpink lightsalmon lightskyblue lightsteelblue lightyellow
    lime limegreen linen mediumaquamarine mediumspringgreen mediumturquoise mintcream mistyrose moccasin navajowhite
    oldlace orange palegoldenrod palegreen paleturquoise papayawhip peachpuff pink plum powderblue sandybrown seashell
    silver skyblue snow springgreen tan thistle turquoise violet wheat white whitesmoke yellow yellowgreen
"""
MIDDLE = 0.4  # relative luminance: yellow, pink and sky blue become white, red, blue and mid grey black
PROPERTIES = (
    "fill", "stroke", "stroke-width", "fill-rule", "display", "visibility", "opacity", "fill-opacity", "stroke-opacity",
    "color", "clip-path", "mask", "filter",
)  # fmt: skip
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_HEX = re.compile(r"#([0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})")
_RGB = re.compile(r"rgba?\(\s*([\d.]+%?)[\s,]+([\d.]+%?)[\s,]+([\d.]+%?)\s*(?:[,/]\s*([\d.]+%?)\s*)?\)")

Rules = tuple[tuple[str, dict[str, str]], ...]


def is_white(value: str, current: str = "black") -> bool | None:
    """Return True for a light colour, False for a dark one, None when nothing is painted. A gradient counts as dark."""
    value = value.strip().lower()
    if value == "currentcolor":
        value = current.strip().lower()
    if value in ("none", "transparent"):
        return None
    if found := _HEX.fullmatch(value):
        digits = found[1] if len(found[1]) > 4 else "".join(2 * d for d in found[1])
        red, green, blue, *alpha = (int(digits[i : i + 2], 16) / 255 for i in range(0, len(digits), 2))
        return None if alpha == [0.0] else _luminance(red, green, blue) >= MIDDLE
    if found := _RGB.fullmatch(value):
        red, green, blue = (_part(found[i], 255) for i in (1, 2, 3))
        return None if found[4] and _part(found[4], 1) == 0 else _luminance(red, green, blue) >= MIDDLE
    return value in _LIGHT_NAMES.split()


def _part(text: str, whole: int) -> float:
    number = float(text.removesuffix("%"))
    return min(1.0, number / (100 if text.endswith("%") else whole))


def _luminance(red: float, green: float, blue: float) -> float:
    linear = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (red, green, blue))
    return sum(weight * c for weight, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def style_rules(sheet: str) -> Rules:
    """Return (selector, properties) of a style sheet, in order; only selectors of one tag, .class or #id are kept."""
    sheet = re.sub(r"/\*.*?\*/", "", sheet, flags=re.DOTALL)
    rules = ((selector.strip(), body) for selectors, body in _RULE.findall(sheet) for selector in selectors.split(","))
    return tuple((name, declarations(body)) for name, body in rules if re.fullmatch(r"[.#]?[\w-]+", name))


def declarations(text: str) -> dict[str, str]:
    """Return the properties of a style attribute or rule body that matter here."""
    pairs = (part.split(":", 1) for part in text.split(";") if ":" in part)
    cleaned = ((name.strip().lower(), value.replace("!important", "").strip()) for name, value in pairs)
    return {name: value for name, value in cleaned if name in PROPERTIES}


def own_style(tag: str, attributes: dict[str, str], rules: Rules) -> dict[str, str]:
    """Return the properties set on one element: attributes, then style rules by tag, class and id, then `style`."""
    style = {name: attributes[name] for name in PROPERTIES if name in attributes}
    classes = {"." + name for name in attributes.get("class", "").split()}
    for wanted in ({tag}, classes, {"#" + attributes.get("id", "")}):
        for selector, properties in rules:
            if selector in wanted:
                style.update(properties)
    return style | declarations(attributes.get("style", ""))
