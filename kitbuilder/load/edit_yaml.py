"""One value of a YAML text replaced or added, with every comment and every other line left as it is."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import yaml

from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.located_yaml import PARSER, Empty, Mapping, Value, read_yaml
from kitbuilder.model.text import Placed

_INDENT = "  "


def set_value(text: str, path: tuple[str, ...], value: str, keep_old_as_comment: bool) -> str:
    """Return the text with the value at `path` set to `value` (YAML for one text, quotes included where needed).

    A missing key is added at the end of the deepest mapping that is there. The old value, when kept, stands as a
    comment on a line above. Line ends stay as they are.

    Raises:
        ProblemsFound: when the text is not YAML that we take.
        ValueError: when the path leads through something that is no mapping, or the value is not one text.
    """
    ends = "\r\n" if "\r\n" in text else "\n"
    flat = text.replace("\r\n", "\n")
    before = _read(flat) if flat.strip() and _has_content(flat) else None
    spot = _find(flat, path)
    lines = flat.split("\n")
    if spot.value is None:
        _add(lines, spot, path[spot.depth :], value)
    else:
        _replace(lines, spot, value, keep_old_as_comment)
    made = "\n".join(lines)
    _check(before, _read(made), path, value)
    return made.replace("\n", ends)


@dataclass(slots=True)
class _Spot:
    """Where a value stands: `depth` steps of the path are there; `inside` is the deepest mapping, None for no file."""

    depth: int
    inside: Any
    value: Any = None
    key: Any = None


def _has_content(text: str) -> bool:
    return any(line.strip() and not line.lstrip().startswith("#") for line in text.split("\n"))


def _read(text: str) -> Mapping:
    log = ProblemLog()
    value = read_yaml(text, "this file", log)
    log.stop_if_any()
    if not isinstance(value, Mapping):
        raise ValueError("names with their values are expected in the file to be edited")
    return value


def _find(text: str, path: tuple[str, ...]) -> _Spot:
    # `_read` has refused aliases, depth and size before: composing recursively is safe here.
    node: Any = yaml.compose(text, Loader=PARSER)
    spot = _Spot(0, node)
    for step in path:
        if node is None:
            return spot
        if not isinstance(node, yaml.MappingNode):
            if isinstance(node, yaml.ScalarNode) and not node.value:
                return spot  # a name with nothing after it: the mapping is still to be written
            raise ValueError(f"'{step}' cannot be set: what holds it is no mapping")
        found = next(((key, value) for key, value in node.value if key.value == step), None)
        if found is None:
            return _Spot(spot.depth, node)
        spot = _Spot(spot.depth + 1, node, found[1], found[0])
        node = found[1]
    if not isinstance(node, yaml.ScalarNode):
        raise ValueError(f"'{path[-1]}' holds more than one text")
    return spot


def _replace(lines: list[str], spot: _Spot, value: str, keep_old: bool) -> None:
    start, end = spot.value.start_mark, spot.value.end_mark
    first, last = lines[start.line], lines[end.line]
    old = " ".join("\n".join(lines[start.line : end.line + 1])[start.column : _tail(lines, start, end)].split())
    head = first[: start.column]
    if not old and not head.endswith(" "):
        head += " "
    lines[start.line : end.line + 1] = [_aligned(head + value, last[end.column :], int(end.column))]
    if keep_old and old and old != value:
        row = spot.key.start_mark.line
        indent = lines[row][: len(lines[row]) - len(lines[row].lstrip())]
        lines.insert(row, f"{indent}# was {spot.key.value}: {old}")


def _aligned(text: str, rest: str, column: int) -> str:
    """Return the line with its comment in the column where it stood, if there is room for it."""
    comment = rest.lstrip()
    if not comment.startswith("#"):
        return text + rest
    stood = column + len(rest) - len(comment)
    return text.ljust(stood - 2) + "  " + comment if len(text) < stood - 1 else f"{text}  {comment}"


def plain_or_quoted(text: str) -> str:
    """Return a text as it is written in YAML: plain when that is safe."""
    return text if re.fullmatch(r"\w[\w.%+/-]*(?: [\w.%+/-]+)*", text) else quoted(text)


def quoted(text: str) -> str:
    """Return a text in quotes of a sort that it does not hold."""
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"


def _tail(lines: list[str], start: Any, end: Any) -> int:
    return sum(len(line) + 1 for line in lines[start.line : end.line]) + int(end.column)


def _add(lines: list[str], spot: _Spot, rest: tuple[str, ...], value: str) -> None:
    if spot.inside is None or not spot.inside.value:
        where, indent = len(lines), ""
        while where and not lines[where - 1].strip():
            where -= 1
    elif spot.inside.flow_style:
        mark = spot.inside.end_mark
        line = lines[mark.line]
        nested = "".join(f"{key}: {{" for key in rest[:-1]) + f"{rest[-1]}: {value}" + "}" * (len(rest) - 1)
        lines[mark.line] = f"{line[: mark.column - 1].rstrip()}, {nested}{line[mark.column - 1 :]}"
        return
    else:
        indent = " " * spot.inside.start_mark.column
        where = _last_line(spot.inside.value[-1][1]) + 1
    added = [f"{indent}{_INDENT * depth}{key}:" for depth, key in enumerate(rest)]
    added[-1] += f" {value}"
    lines[where:where] = added


def _last_line(node: Any) -> int:
    """Return the last line on which a node has text (the end of a block collection lies after it)."""
    if isinstance(node, yaml.ScalarNode) or node.flow_style or not node.value:
        return int(node.end_mark.line) - (1 if getattr(node, "style", None) in ("|", ">") else 0)
    last = node.value[-1]
    return _last_line(last[1] if isinstance(last, tuple) else last)


def _check(before: Mapping | None, after: Mapping, path: tuple[str, ...], value: str) -> None:
    """Make sure that this value changed and nothing else did."""
    wanted = _read(f"value: {value}")["value"]
    old = _leaves(before, ()) if before is not None else {}
    new = _leaves(after, ())
    if not isinstance(wanted, Placed) or new.get(path) != wanted:
        raise ValueError(f"'{path[-1]}' could not be set to {value!r}")
    if {**old, path: wanted} != new:
        raise ValueError(f"setting '{path[-1]}' would change something else")


def _leaves(value: Value, path: tuple[str, ...]) -> dict[tuple[str, ...], Value]:
    """Return the texts and lists of a mapping by their paths."""
    if isinstance(value, Mapping):
        return {where: leaf for key, inner in value.items() for where, leaf in _leaves(inner, (*path, key)).items()}
    return {} if isinstance(value, Empty) else {path: value}
