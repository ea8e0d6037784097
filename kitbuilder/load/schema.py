"""JSON Schema (draft 2020-12) for the definition files, so that an editor completes and checks while a parent types."""

from __future__ import annotations

import json
import re
from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue

from kitbuilder.load.schema_words import ABOUT
from kitbuilder.load.unit_files import BOX, LEARNERS, NAMED, PRESS, SEQUENCE
from kitbuilder.model.box import Box
from kitbuilder.model.defined import HIDDEN, Defined
from kitbuilder.model.learners import Learners
from kitbuilder.model.press import Press
from kitbuilder.model.sequence import Sequence
from kitbuilder.model.unit import Unit

DRAFT = "https://json-schema.org/draft/2020-12/schema"
FOLDER = ".schema"  # beside the files, so that the reference in their first line is short
UNIT = "unit"
MODELS: dict[str, type[Defined]] = {UNIT: Unit, SEQUENCE: Sequence, LEARNERS: Learners, PRESS: Press, BOX: Box}
_LEFT_OUT = ("default", "title", "description", "properties")
_MODELINE = re.compile(r"^# yaml-language-server: \$schema=.*$", re.MULTILINE)


def schema_documents() -> dict[str, dict[str, Any]]:
    """Return the schema of each sort of file: unit, sequence, learners, press, box."""
    return {name: _document(name, model) for name, model in MODELS.items()}


def schema_files() -> dict[str, str]:
    """Return what stands in the folder of schemas: file names to text."""
    return {f"{name}.json": json.dumps(made, indent=1) + "\n" for name, made in schema_documents().items()}


def modeline(stem: str) -> str:
    """Return the comment by which editors find the schema of a file in `units`, by the file's name without ending."""
    name = stem if stem in NAMED else UNIT
    return f"# yaml-language-server: $schema={FOLDER}/{name}.json"


def with_modeline(text: str, stem: str) -> str:
    """Return the text with the right modeline; one that is there is replaced."""
    line = modeline(stem)
    found = _MODELINE.search(text)
    if found:
        return text[: found.start()] + line + text[found.end() :]
    return f"{line}\n{text}"


class _WithoutDefaults(GenerateJsonSchema):
    """Leaves defaults out: an editor would offer them as if they had to be written."""

    def default_schema(self, schema: Any) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])


def _document(name: str, model: type[Defined]) -> dict[str, Any]:
    made = model.model_json_schema(by_alias=True, schema_generator=_WithoutDefaults)
    cleaned: dict[str, Any] = _cleaned(made)
    return {"$schema": DRAFT, "$id": f"{name}.json", **cleaned}


def _cleaned(part: Any) -> Any:
    """Return a schema without what only the model needs (hidden keys, titles, nulls), described for parents."""
    if isinstance(part, list):
        return [_cleaned(one) for one in part]
    if not isinstance(part, dict):
        return part
    either = [one for one in part.get("anyOf", ()) if one != {"type": "null"}]
    if "anyOf" in part and len(either) == 1:
        return _cleaned({**{key: value for key, value in part.items() if key != "anyOf"}, **either[0]})
    kept = {key: _cleaned(value) for key, value in part.items() if key not in _LEFT_OUT}
    if "properties" in part:
        shown = {key: value for key, value in part["properties"].items() if not key.startswith(HIDDEN)}
        kept["properties"] = {key: _described(key, _cleaned(value)) for key, value in shown.items()}
    if "required" in kept:
        kept["required"] = [key for key in kept["required"] if not key.startswith(HIDDEN)]
    return kept


def _described(key: str, part: dict[str, Any]) -> dict[str, Any]:
    return {"description": ABOUT[key], **part} if key in ABOUT else part
