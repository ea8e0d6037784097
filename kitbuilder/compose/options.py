"""A kind's options as a unit sets them: typed, with problems at the line that sets them."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Any

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.measure.length import parse_length
from kitbuilder.model.templates import KindOption, KindTemplate
from kitbuilder.model.unit import Material

# settings that kinds share: what is done to a piece after cutting
EVERY_KIND = (
    KindOption("ring", "flag", "no", about="a corner kept clear, with a faint circle, for a hole and a ring"),
    KindOption("laminate", "flag", "no", about="to be laminated after cutting"),
)
YES, NO = ("yes", "on", "true"), ("no", "off", "false", "none")


def read_options(kind: KindTemplate, material: Material | None, log: ProblemLog) -> dict[str, Any]:
    """Return every option of the kind by name: defaults, replaced by what the unit says. Lengths are millimetres."""
    offered = options_of(kind)
    values = {name: _typed(o, o.default) for name, o in offered.items()}
    for name, value in material.options if material else ():
        option = offered.get(str(name))
        place: Location | None = getattr(value, "location", None) or name.location
        if option is None:
            known = list(offered)
            near = get_close_matches(str(name), [*known, "size", "count", "stock"], n=1)
            hint = f"did you mean {near[0]!r}? " if near else ""
            listed = ", ".join(known) or "no options besides size, count and stock"
            log.add(
                f"{kind.name} has no option {str(name)!r}", "unknown-option", f"{hint}It has {listed}", name.location
            )
        elif option.type == "texts":
            values[option.name] = (value,) if isinstance(value, str) else tuple(value)
        elif not isinstance(value, str):
            log.add(f"{kind.name}: {name} is one value, not a list or a block", "bad-option", _expected(option), place)
        else:
            try:
                values[option.name] = _typed(option, str(value))
            except ValueError as error:
                log.add(f"{kind.name}: {name}: {error}", "bad-option", _expected(option), place)
    return values


def options_of(kind: KindTemplate) -> dict[str, KindOption]:
    """Return the kind's options by name, its own before those that every kind has.

    Kinds with a module draw faces of their own, which know no ring; what is kept of them may be laminated.
    """
    shared = tuple(o for o in EVERY_KIND if not kind.module or (o.name == "laminate" and kind.durable))
    return {o.name: o for o in shared} | {o.name: o for o in kind.options}


def _typed(option: KindOption, text: str) -> Any:
    lowered = text.strip().lower()
    if option.type == "texts":
        return tuple(part for part in text.split(", ") if part)
    if option.type == "flag":
        if lowered in YES or lowered in NO:
            return lowered in YES
        raise ValueError(f"{text!r} is neither yes nor no")
    if option.type == "number":
        if not lowered.isascii() or not lowered.isdigit():
            raise ValueError(f"{text!r} is not a whole number")
        if not option.least <= int(lowered) <= option.most:
            raise ValueError(f"{text} is outside {option.least} to {option.most}")
        return int(lowered)
    if option.type == "length":
        return parse_length(text).to_mm()
    if option.type == "choice":
        if lowered not in option.choices:
            raise ValueError(f"{text!r} is not one of {', '.join(option.choices)}")
        return lowered
    return text


def _expected(option: KindOption) -> str:
    wanted = {
        "flag": "write yes or no",
        "number": f"write a whole number from {option.least} to {option.most}",
        "length": "write a length with its unit, such as '10 mm'",
        "choice": f"write one of {', '.join(option.choices)}",
    }
    return wanted.get(option.type, "write some text")
