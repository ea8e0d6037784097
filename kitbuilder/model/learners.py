"""The children: where each is in the sequence and how much practice each gets. Codes only, never names."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import AfterValidator

from kitbuilder.model.defined import Defined
from kitbuilder.model.field_types import Whole, YesNo
from kitbuilder.model.text import NOT_BLANK, Placed, refuse
from kitbuilder.model.unit import Line

_CODE = re.compile(r"[a-z0-9](?:[a-z0-9-]{0,18}[a-z0-9])?")


def _code(text: Placed) -> Placed:
    if not _CODE.fullmatch(text):
        raise refuse(
            "not-a-code",
            f"'{text}' is not a learner's code",
            "write 1 to 20 small letters, digits or hyphens, such as wren; it is printed on the child's pages",
        )
    return text


class Learner(Defined):
    """One child: `at` is the unit now, `knows` what the child can read already, `forms` how many forms of a page."""

    code: Annotated[Placed, NOT_BLANK, AfterValidator(_code)]
    at: Annotated[int, Whole(1, 999)]
    knows: tuple[Line, ...] = ()
    forms: Annotated[int, Whole(1, 4)] = 1
    left_handed: Annotated[bool, YesNo()] = False
    age: Annotated[int, Whole(0, 120)] | None = None


class Learners(Defined):
    """The file of learners."""

    learners: tuple[Learner, ...] = ()
