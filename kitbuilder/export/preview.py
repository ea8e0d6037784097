"""The plan as one page for a browser: every sheet, front and back, with its cuts; nothing is fetched from anywhere."""

from __future__ import annotations

import base64
import hashlib
import json
import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

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
    parts = preview_parts(
        plan,
        press,
        guide_html=guide_html,
        problems=problems,
        warnings=warnings,
        bitmaps=bitmaps or {},
        font_files=font_files,
        make_first=make_first,
        kinds=kinds,
    )
    aside = target.with_name(target.name + ".part")
    with aside.open("w", encoding="utf-8", newline="\n") as file:
        file.writelines(parts)
    os.replace(aside, target)


def preview_parts(
    plan: PackPlan,
    press: Press,
    *,
    guide_html: str,
    problems: Sequence[Problem],
    warnings: Sequence[str],
    bitmaps: Mapping[str, bytes],
    font_files: Callable[[str], Path],
    make_first: str,
    kinds: Mapping[str, str] | None,
) -> Iterator[str]:
    """Return the page's text in parts: a year's page is too large to be put together, changed and coded at once."""
    shared, shared_svg = shared_drawings(plan, bitmaps)
    pens = Pens(shared, bitmaps, press.printer.edges, backs_two_sided(profile_of(press)))
    view = pack_view(plan, pens, shared_svg, inches=press.trimmer.inches, kinds=kinds)
    script = f"(() => {{\n'use strict';\n{_shipped_text('sheets.js')}{_shipped_text('again.js')}}})();"
    facts = {
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
        "data": _json({**view.data, "pack": plan.name}),
        "style": Markup(f"{_FONTS}{_shipped_text('preview.css')}{TEXT_STYLE}"),
        "script": Markup(script),
        "script_hash": base64.b64encode(hashlib.sha256(script.encode()).digest()).decode(),
    }
    # made twice, first to see which letters its fonts need: to keep a year's page would cost more than to make it
    characters: set[str] = set()
    for part in _template().generate(facts):
        characters.update(part)
    rules = _font_rules(plan, frozenset(characters), font_files)
    return _with_fonts(_template().generate(facts), rules)


def _with_fonts(parts: Iterable[str], rules: str) -> Iterator[str]:
    waiting = True
    for part in parts:
        yield str(part).replace(_FONTS, rules, 1) if waiting else part  # str: the rules are not escaped
        waiting = waiting and _FONTS not in part


def _font_rules(plan: PackPlan, characters: frozenset[str], font_files: Callable[[str], Path]) -> str:
    frames = {f for flat in plan.flats for f in (flat.front, flat.back) if f is not None}
    marks = {f for _, _, s in plan.sheets() for f in (s.front_marks, s.back_marks) if f is not None}
    names = {DEFAULT_FONT, BOLD_FONT}.union(*(fonts_of(frame) for frame in frames | marks))
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


def _json(data: Mapping[str, Any]) -> Markup:
    """Return JSON that can stand inside a script element: nothing in it ends or opens one (HTML standard, 4.12.1.3)."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
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
