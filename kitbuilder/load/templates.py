"""Kind and face templates: the shipped ones, with the family's own in their place or beside them."""

from __future__ import annotations

import re
from collections.abc import Mapping as MappingType
from dataclasses import dataclass
from pathlib import Path

from kitbuilder.artwork.shipped import shipped
from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.load.located_yaml import Empty, Listing, Mapping, Value, read_yaml
from kitbuilder.load.template_fields import TemplateFields
from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import mm, parse_length
from kitbuilder.model.templates import (
    CAUTIONS,
    FaceTemplate,
    KindOption,
    KindSize,
    KindTemplate,
    RawList,
    RawMap,
    RawValue,
)
from kitbuilder.model.text import Placed

PARTS = ("page", "wide page", "half page", "quarter page", "eighth page")
OPTION_TYPES = ("flag", "number", "length", "text", "texts", "choice")
_CODE = re.compile(r"[A-Z]{2}")
_SIZE = re.compile(r"\s*(.+?)\s+[x×]\s+(.+?)\s*")
_EMPTY_LIST = RawList(())


@dataclass(frozen=True, slots=True)
class Templates:
    """Kinds in the order they are listed and made; faces by name."""

    kinds: MappingType[str, KindTemplate]
    faces: MappingType[str, FaceTemplate]


def load_templates(home: Path | None, log: ProblemLog) -> Templates:
    """Return all templates; a family's file with the name of a shipped one takes its place."""
    faces: dict[str, FaceTemplate] = {}
    kinds: dict[str, KindTemplate] = {}
    folders = [(shipped("templates"), "")]
    if home and (home / "templates").resolve() != shipped("templates").resolve():
        folders.append((home / "templates", "templates/"))
    for folder, shown in folders:
        for path in _yaml_files(folder / "faces"):
            face = _read_face(path, f"{shown}faces/{path.name}" if shown else f"shipped {path.name}", log)
            if face:
                faces[face.name] = face
        for path in _yaml_files(folder / "kinds"):
            kind = _read_kind(path, f"{shown}kinds/{path.name}" if shown else f"shipped {path.name}", log)
            if kind:
                kinds[kind.name] = kind
    _check_codes(kinds, log)
    _check_faces(kinds, faces, log)
    return Templates(dict(sorted(kinds.items(), key=lambda pair: (pair[1].place, pair[0]))), faces)


def _yaml_files(folder: Path) -> list[Path]:
    if not folder.is_dir():
        return []
    return sorted(p for p in folder.iterdir() if p.suffix in (".yaml", ".yml") and p.is_file())


def _read_face(path: Path, name: str, log: ProblemLog) -> FaceTemplate | None:
    value = read_yaml(path, name, log)
    if value is None:
        return None
    if not isinstance(value, Mapping):
        log.add("a face starts with 'face: NAME'", "bad-face", "see the shipped faces for the form", _place(value))
        return None
    fields = TemplateFields(value, "bad-face", log)
    face = fields.text("face")
    let = fields.mapping("let")
    draw = fields.listing("draw")
    fields.close()
    if not face:
        return None
    raw = to_raw(draw) if draw is not None else _EMPTY_LIST
    assert isinstance(raw, RawList)
    return FaceTemplate(str(face), tuple((k, to_raw(v)) for k, v in let.entries) if let else (), raw, value.location)


def _read_kind(path: Path, name: str, log: ProblemLog) -> KindTemplate | None:
    value = read_yaml(path, name, log)
    if value is None:
        return None
    if not isinstance(value, Mapping):
        log.add("a kind starts with 'kind: NAME'", "bad-kind", "see the shipped kinds for the form", _place(value))
        return None
    f = TemplateFields(value, "bad-kind", log)
    kind, code = f.text("kind"), f.text("code")
    if code and not _CODE.fullmatch(code):
        f.problem(f"code is two capital letters, not {str(code)!r}", code.location)
    faces = tuple((role, str(face)) for role in ("front", "back") if (face := f.text(role, "")))
    made = KindTemplate(
        name=str(kind),
        code=str(code),
        title=str(f.text("title", str(kind))),
        about=str(f.text("about", "")),
        stock=str(f.text("stock", "plain")),
        sizes=_sizes(f.value("size"), f),
        wide=_one_size(str(wide), f) if (wide := f.text("wide-size", "")) else None,
        keep_clear=f.length("keep-clear", mm(4)),
        durable=f.flag("durable", default=False),
        made_for=str(f.text("made-for", "")),
        faces=faces,
        copies=str(f.text("copies", "1")),
        colour=str(f.text("colour", "")),
        piece_name=str(f.text("name", "")),
        panels=str(f.text("panels", "1")),
        picked=str(f.text("picked", "")),
        may_turn=f.flag("may-turn", default=True),
        binding=str(f.text("binding", "none")),
        module=str(f.text("module", "")),
        options=_options(f.mapping("options"), f),
        cautions=_cautions(f),
        make=str(f.text("make", "")),
        spares=f.flag("spares", default=True),
        checked=f.flag("checked", default=True),
        place=f.number("place", 50),
        location=value.location,
    )
    if not made.module and not made.faces:
        f.problem("a kind needs a 'front' face, or a module", value.location)
    if not made.module and not made.made_for:
        f.problem("'made-for' is missing: the list this kind is made for", value.location)
    f.close()
    return made if kind and code else None


def _cautions(f: TemplateFields) -> tuple[str, ...]:
    asked = f.texts("cautions")
    for name in asked:
        if name not in CAUTIONS:
            f.problem(f"there is no caution {str(name)!r}; there are {', '.join(CAUTIONS)}", name.location)
    return tuple(str(name) for name in asked if name in CAUTIONS)


def _sizes(value: Value | None, f: TemplateFields) -> tuple[tuple[str, KindSize], ...]:
    if isinstance(value, Mapping):
        pairs = [(str(k), _one_size(str(v), f)) for k, v in value.entries if isinstance(v, Placed)]
        for key, _ in value.entries:
            if key not in ("a4", "letter"):
                f.problem(f"sizes are given for a4 and letter, not for {str(key)!r}", key.location)
        return tuple((k, s) for k, s in pairs if s)
    if isinstance(value, Placed):
        size = _one_size(str(value), f, value)
        return (("any", size),) if size else ()
    f.problem("'size' is missing: a size such as '62 mm x 87 mm', or " + ", ".join(PARTS), f.location)
    return ()


def _one_size(text: str, f: TemplateFields, place: Placed | None = None) -> KindSize | None:
    where = place.location if place is not None else f.location
    if text in PARTS:
        return KindSize(None, text)
    found = _SIZE.fullmatch(text)
    try:
        if not found:
            raise ValueError(f"{text!r} is not a size")
        size = Size(parse_length(found[1]), parse_length(found[2]))
    except ValueError as error:
        f.problem(f"{error}; write '62 mm x 87 mm', or one of {', '.join(PARTS)}", where)
        return None
    if size.width.um <= 0 or size.height.um <= 0:
        f.problem(f"{text!r} has no area", where)
        return None
    return KindSize(size)


def _options(value: Mapping | None, f: TemplateFields) -> tuple[KindOption, ...]:
    options = []
    for name, entry in value.entries if value else ():
        if not isinstance(entry, Mapping):
            f.problem(f"option {str(name)!r} needs a type and a default below it", name.location)
            continue
        inner = TemplateFields(entry, "bad-kind", f.log)
        kind = str(inner.text("type", "text"))
        if kind not in OPTION_TYPES:
            inner.problem(f"an option's type is one of {', '.join(OPTION_TYPES)}, not {kind!r}", entry.location)
            continue
        options.append(
            KindOption(
                str(name),
                kind,
                str(inner.text("default", "")),
                tuple(str(c) for c in inner.texts("choices")),
                str(inner.text("about", "")),
                inner.number("least", 0),
                inner.number("most", 10_000),
            )
        )
        inner.close()
    return tuple(options)


def _check_codes(kinds: MappingType[str, KindTemplate], log: ProblemLog) -> None:
    seen: dict[str, str] = {}
    for kind in kinds.values():
        if kind.code in seen:
            log.add(
                f"kinds {seen[kind.code]!r} and {kind.name!r} share the code {kind.code!r}",
                "same-code",
                "ids would be mixed up: give one of them another two letters",
                kind.location,
            )
        seen[kind.code] = kind.name


def _check_faces(kinds: MappingType[str, KindTemplate], faces: MappingType[str, FaceTemplate], log: ProblemLog) -> None:
    for kind in kinds.values():
        for _, face in kind.faces:
            if face not in faces:
                log.add(
                    f"kind {kind.name!r} uses the face {face!r}, which does not exist",
                    "unknown-face",
                    "add templates/faces/" + face + ".yaml, or name a face that exists",
                    kind.location,
                )


def to_raw(value: Value) -> RawValue:
    """Return the value as a template keeps it; nothing written is empty text."""
    if isinstance(value, Mapping):
        return RawMap(tuple((key, to_raw(inner)) for key, inner in value.entries), value.location)
    if isinstance(value, Listing):
        return RawList(tuple(to_raw(inner) for inner in value.items), value.location)
    if isinstance(value, Empty):
        return Placed("", value.location)
    return value


def _place(value: Value) -> Location | None:
    return value.location
