"""Corrections to what the family is thought to own."""

from __future__ import annotations

import re
from typing import Annotated, Any, NamedTuple

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from kitbuilder.model.defined import Defined
from kitbuilder.model.field_types import Entries, out_of_range
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Line

MOST_COPIES = 999
_TIMES = re.compile(r"(?P<text>.+?)\s+[x×]\s*(?P<count>[0-9]{1,3})")


class BoxItem(NamedTuple):
    """So many pieces of a kind that say a text; each part at its place."""

    kind: Placed
    text: Placed
    copies: int


def _item(kind: Placed, text: Placed) -> BoxItem:
    found = _TIMES.fullmatch(text)
    if not found:
        return BoxItem(kind, text, 1)
    if not 1 <= int(found["count"]) <= MOST_COPIES:
        raise out_of_range(f"{text}: {found['count']}", False, f"a number from 1 to {MOST_COPIES}")
    return BoxItem(kind, text.part(*found.span("text")), int(found["count"]))


_ByKind = Annotated[tuple[tuple[Placed, tuple[Line, ...]], ...], Entries()]


class ByKind:
    """Reads a mapping from kinds to lists of texts as one tuple of `BoxItem`; ready items pass."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def read(value: Any, inner: core_schema.ValidatorFunctionWrapHandler) -> tuple[BoxItem, ...]:
            if isinstance(value, tuple):
                return value
            return tuple(_item(kind, text) for kind, texts in inner(value) for text in texts)

        return core_schema.no_info_wrap_validator_function(read, handler.generate_schema(_ByKind))


Pieces = Annotated[tuple[BoxItem, ...], ByKind()]


class Box(Defined):
    """Pieces by kind and text: `extra` are owned beside what was made, `lost` and `passed_on` are gone."""

    extra: Pieces = ()
    lost: Pieces = ()
    passed_on: Pieces = ()
