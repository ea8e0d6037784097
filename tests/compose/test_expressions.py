"""Expressions compute what a face needs, and attacks on them end in one sentence."""

from __future__ import annotations

import time
from typing import Any

import pytest

from kitbuilder.compose.expression_filters import ExpressionError
from kitbuilder.compose.expressions import compile_expression, compile_value

SCOPE: dict[str, Any] = {"width": 62.0, "n": 3, "item": {"text": "sh", "group": "consonant team"}, "words": ("a", "b")}


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("width / 2 - 1", 30.0),
        ("-n", -3),
        ("7 // 2 + 7 % 4", 6),
        ("item.text | upper", "SH"),
        ("item['group']", "consonant team"),
        ("words[1]", "b"),
        ("words | length", 2),
        ("words | join('-')", "a-b"),
        ("'wide' if width > 50 and n != 4 else 'slim'", "wide"),
        ("item.group in ['vowel', 'consonant team']", True),
        ("not n == 3", False),
        ("'Unit ' ~ n ~ '.'", "Unit 3."),
        ("'otter' | letters | length", 5),
        ("4 | count", (0, 1, 2, 3)),
        ("'' | or_else('x')", "x"),
        ("n | larger(9) | smaller(5)", 5),
        ("1 < n < 5", True),
    ],
)
def test_expressions_compute_what_faces_need(source: str, expected: object) -> None:
    assert compile_expression(source)(SCOPE) == expected


def test_a_value_of_one_expression_keeps_its_type_and_a_mixture_is_text() -> None:
    assert compile_value("{{ width }}")(SCOPE) == 62.0
    assert compile_value("{{ width }} mm by {{ n }}")(SCOPE) == "62 mm by 3"
    assert compile_value("plain text")(SCOPE) == "plain text"


@pytest.mark.parametrize(
    "attack",
    [
        "'a' * 10**9",
        "'a' * 1000000000",
        "9 ** 9 ** 9",
        "1e400",
        "99999999999999999999",
        "'%1000000000d' | format(1)",
        "'%1000000000d' % 1",
        "'x' | center(1000000000)",
        "'x' | indent(1000000000)",
        "words | batch(1000000000)",
        "range(1000000000)",
        "lipsum(100)",
        "cycler('a')",
        "self",
        "item.__class__",
        "item.text.__class__.__mro__",
        "''.__class__",
        "item.text.upper()",
        "words[0:1]",
        "words.append",
        "item | attr('__class__')",
        "item is defined",
        "{'a': 1}",
        "1000000000 | count",
        "(1, 2) * 1000000000",
        "true * 5",
        "1 / 0",
        "nothing_here",
        "words[7]",
        "'a' < 1",
        "'yes' if n",
        "open('/etc/passwd')",
        "n }}{% for x in words %}{{ x",
        "",
        "+".join(["1"] * 300),
        "(" * 40 + "1" + ")" * 40 + "+" + "-" * 60 + "1",
    ],
)
def test_attacks_and_slips_end_in_a_sentence_at_once(attack: str) -> None:
    started = time.perf_counter()
    with pytest.raises(ExpressionError) as caught:
        compile_expression(attack)(SCOPE)
    assert str(caught.value)
    assert time.perf_counter() - started < 1, "an attack must be refused before it costs anything"


def test_text_may_not_grow_without_end() -> None:
    scope = {"long": "x" * 1500}
    with pytest.raises(ExpressionError, match="2000"):
        compile_expression("long ~ long")(scope)
    with pytest.raises(ExpressionError, match="2000"):
        compile_value("{{ long }}{{ long }}")(scope)


def test_statements_are_not_expressions() -> None:
    for text in ("{% for x in y %}{% endfor %}", "{{ unclosed", "a {% b %}"):
        with pytest.raises(ExpressionError):
            compile_value(text)
