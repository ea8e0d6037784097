"""The short list of filters that template expressions may use; each bounds what it gives back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kitbuilder.compose.type_filters import common_size, height

LONGEST_TEXT = 2_000
LONGEST_LIST = 2_000


class ExpressionError(ValueError):
    """A template expression that may not, or cannot, be computed; the message is for whoever wrote the template."""


def bounded(text: str) -> str:
    """Return the text, or refuse it when it is longer than anything that could be printed on a face."""
    if len(text) > LONGEST_TEXT:
        raise ExpressionError(f"the text grew to {len(text)} characters; {LONGEST_TEXT} is the most")
    return text


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise ExpressionError(f"this filter needs text, not {value!r:.40}")
    return value


def _sequence(value: Any) -> tuple[Any, ...]:
    if not isinstance(value, tuple | list):
        raise ExpressionError(f"this filter needs a list, not {value!r:.40}")
    return tuple(value)


def _number(value: Any) -> float:
    if not isinstance(value, int | float) or isinstance(value, bool):
        raise ExpressionError(f"this filter needs a number, not {value!r:.40}")
    return value


def _length(value: Any) -> int:
    if not isinstance(value, str | tuple | list):
        raise ExpressionError(f"only text and lists have a length, not {value!r:.40}")
    return len(value)


def _counted(value: Any) -> tuple[int, ...]:
    count = _number(value)
    if count != int(count) or not 0 <= count <= LONGEST_LIST:
        raise ExpressionError(f"counting needs a whole number from 0 to {LONGEST_LIST}, not {value!r}")
    return tuple(range(int(count)))


def _join(value: Any, between: Any = "") -> str:
    return bounded(_text(between).join(str(v) for v in _sequence(value)))


FILTERS: dict[str, Callable[..., Any]] = {
    "upper": lambda v: _text(v).upper(),
    "lower": lambda v: _text(v).lower(),
    "capital": lambda v: _text(v)[:1].upper() + _text(v)[1:],
    "length": _length,
    "first": lambda v: _sequence(v)[0],
    "last": lambda v: _sequence(v)[-1],
    "join": _join,
    "letters": lambda v: tuple(_text(v)),
    "words": lambda v: tuple(_text(v).split()),
    "count": _counted,
    "round": lambda v: round(_number(v)),
    "larger": lambda v, other: max(_number(v), _number(other)),
    "smaller": lambda v, other: min(_number(v), _number(other)),
    "text_height": lambda v, width, size, leading: height(v, *map(_number, (width, size, leading))),
    "common_size": lambda v, *measures: common_size(v, *map(_number, measures)),
    "or_else": lambda v, other: v if v not in (None, "", ()) else other,
}
