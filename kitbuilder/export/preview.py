"""The plan as one page for a browser: every sheet, front and back, with its cuts; nothing is fetched from anywhere."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import shutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, TextIO

from markupsafe import Markup

from kitbuilder.artwork.drawings import fonts_of
from kitbuilder.artwork.fonts import BOLD_FONT, DEFAULT_FONT, font_file
from kitbuilder.artwork.shipped import shipped
from kitbuilder.diagnostics import Problem
from kitbuilder.export.preview_drawing import Pens, shared_drawings
from kitbuilder.export.preview_fonts import font_rule
from kitbuilder.export.preview_sheets import pack_view
from kitbuilder.export.preview_words import totals
from kitbuilder.export.svg import TEXT_STYLE
from kitbuilder.imposition.by_hand import backs_two_sided
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.workplace import profile_of
from kitbuilder.model.press import Press
from kitbuilder.prep.wording import kind_title, many, units_words

_FONTS = "/* fonts */"  # where the page's style sheet takes them
_ALWAYS = frozenset(map(chr, range(32, 127))) | frozenset("–’‘“”·×✓…")


@dataclass(frozen=True, slots=True)
class SetView:
    """The pieces of one kind for one unit."""

    id: str
    title: str
    unit: int
    learner: str
    things: str


def write_preview(
    plan: PackPlan,
    press: Press,
    target: Path,
    *,
    guide_html: str = "",
    problems: Sequence[Problem] = (),
    warnings: Sequence[str] = (),
    bitmaps: Mapping[str, bytes] | None = None,
    font_files: Callable[[str], Path] = font_file,
    make_first: str = "",
    kinds: Mapping[str, str] | None = None,
) -> None:
    """Write the page. `guide_html` is put in as it is; all else is escaped. The plan's own warnings are always shown.

    `bitmaps` are the family's own pictures by digest, `kinds` titles by kind. `make_first` is the command that
    makes the pack, when there is only a plan so far.

    Raises:
        ValueError: when a frame uses a bitmap that is not in `bitmaps`.
        OSError: when the target cannot be written.
    """
    facts = _facts(
        plan,
        press,
        guide_html=guide_html,
        problems=problems,
        warnings=warnings,
        bitmaps=bitmaps or {},
        make_first=make_first,
        kinds=kinds,
    )
    # a year's page is too large to be put together in memory, and which letters its fonts need is known at its end only
    aside, rest = target.with_name(target.name + ".part"), target.with_name(target.name + ".rest")
    try:
        with rest.open("w+", encoding="utf-8", newline="\n") as body:
            head, characters = _generated(facts, body)
            body.seek(0)
            with aside.open("w", encoding="utf-8", newline="\n") as file:
                file.write(head.replace(_FONTS, _font_rules(plan, characters, font_files), 1))
                shutil.copyfileobj(body, file)
        os.replace(aside, target)
    finally:
        rest.unlink(missing_ok=True)
        aside.unlink(missing_ok=True)


def _generated(facts: Mapping[str, Any], body: TextIO) -> tuple[str, frozenset[str]]:
    """Return the page up to the place of its fonts and all its characters; what follows is written to `body`."""
    head = ""
    characters: set[str] = set()
    for part in _template().generate(facts):
        characters.update(part)
        if _FONTS in head:
            body.write(part)
        else:
            head += str(part)  # str: the rules are not escaped
    return head, frozenset(characters)


def _facts(
    plan: PackPlan,
    press: Press,
    *,
    guide_html: str,
    problems: Sequence[Problem],
    warnings: Sequence[str],
    bitmaps: Mapping[str, bytes],
    make_first: str,
    kinds: Mapping[str, str] | None,
) -> dict[str, Any]:
    """Return what the page's template asks for."""
    shared, shared_svg = shared_drawings(plan, bitmaps)
    pens = Pens(shared, bitmaps, press.printer.edges, backs_two_sided(profile_of(press)))
    view = pack_view(plan, pens, shared_svg, inches=press.trimmer.inches, kinds=kinds)
    script = f"(() => {{\n'use strict';\n{_shipped_text('sheets.js')}{_shipped_text('again.js')}}})();"
    return {
        "language": plan.language,
        "title": f"{plan.title}: {units_words(plan.units)}",
        "pack": plan.name,
        "totals": totals(plan),
        "runs": view.runs,
        "sets": _sets(plan, kinds),
        "problems": problems,
        "warnings": tuple(dict.fromkeys((*plan.warnings, *plan.notes, *warnings))),
        "guide": Markup(guide_html),
        "make_first": make_first,
        "defs": view.defs,
        "data": _json_parts({**view.data, "pack": plan.name}),
        "style": Markup(f"{_FONTS}{_shipped_text('preview.css')}{TEXT_STYLE}"),
        "script": Markup(script),
        "script_hash": base64.b64encode(hashlib.sha256(script.encode()).digest()).decode(),
    }


def _font_rules(plan: PackPlan, characters: frozenset[str], font_files: Callable[[str], Path]) -> str:
    names = {DEFAULT_FONT, BOLD_FONT}.union(*map(fonts_of, (*plan.frames(), *plan.marks())))
    return "".join(font_rule(name, font_files(name), characters | _ALWAYS) for name in sorted(names))


def _sets(plan: PackPlan, kinds: Mapping[str, str] | None) -> tuple[SetView, ...]:
    things: dict[str, dict[str, None]] = {}
    first: dict[str, Flat] = {}
    for flat in plan.flats:
        if flat.role == "piece":
            things.setdefault(flat.set_id, {})[flat.piece_id] = None
            first.setdefault(flat.set_id, flat)
    return tuple(
        SetView(
            own,
            kind_title(first[own].kind, kinds),
            first[own].unit,
            first[own].learner or "",
            many(len(ids), "piece"),
        )
        for own, ids in things.items()
    )


def _json_parts(data: Mapping[str, Any]) -> Iterator[Markup]:
    """Yield an object as JSON that can stand inside a script element; what is iterated over comes row by row.

    Nothing in it ends or opens an element (HTML standard, 4.12.1.3).
    """
    for number, (key, value) in enumerate(data.items()):
        yield Markup(f'{"," if number else "{"}"{key}":')
        if isinstance(value, Iterator):
            yield Markup("[")
            for at, row in enumerate(value):
                yield Markup("," if at else "") + _json(row)
            yield Markup("]")
        else:
            yield _json(value)
    yield Markup("}")


def _json(value: Any) -> Markup:
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e"))


@cache
def _template() -> Any:
    # jinja2 takes a while to load: only when a page is written
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("page.html")


def _shipped_text(name: str) -> str:
    return (_folder() / name).read_text(encoding="utf-8")


def _folder() -> Path:
    return shipped("templates") / "preview"
