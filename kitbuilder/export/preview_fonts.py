"""The fonts of a page, inside the page: only the letters it uses, packed as WOFF (W3C WOFF 1.0, zlib)."""

from __future__ import annotations

import base64
from functools import lru_cache
from io import BytesIO
from pathlib import Path

# nothing is shaped in print either: one glyph a character, so the tables for shaping are left out
_UNUSED_TABLES = ["GSUB", "GPOS", "GDEF", "Silf", "Glat", "Gloc", "Sill", "Silt", "Feat", "DSIG", "kern"]


def font_rule(name: str, file: Path, characters: frozenset[str]) -> str:
    """Return the CSS rule that gives a page this font's outlines of these characters, under the name frames use.

    Characters the font lacks are left out. Same font, same characters: same bytes.
    """
    coded = base64.b64encode(_packed(file, characters)).decode("ascii")
    family = "".join(c if c.isalnum() or c in " _-" else f"\\{ord(c):x} " for c in name)
    return f"@font-face{{font-family:'{family}';src:url(data:font/woff;base64,{coded}) format('woff')}}"


@lru_cache(maxsize=8)
def _packed(file: Path, characters: frozenset[str]) -> bytes:
    # fontTools' subsetter takes a while to load: only when a page is written
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    options = Options(layout_features=[], hinting=False, notdef_outline=True, glyph_names=False, recalc_timestamp=False)
    options.drop_tables += _UNUSED_TABLES
    options.ignore_missing_unicodes = True
    with TTFont(file, lazy=True, recalcTimestamp=False) as font:
        subsetter = Subsetter(options)
        subsetter.populate(unicodes=sorted(map(ord, characters)))
        subsetter.subset(font)
        font.flavor = "woff"
        out = BytesIO()
        font.save(out)
    return out.getvalue()
