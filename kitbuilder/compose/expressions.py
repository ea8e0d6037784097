"""Caged expressions: the `{{ ... }}` of kind and face templates, compiled to closures that can do very little.

Jinja's parser reads the expression; nothing of Jinja runs it. Only the node types listed here are compiled, attributes
are looked up in mappings only, arithmetic takes numbers only (no powers), there are no globals, no calls and no
statements, and every result is bounded. A template from a stranger can therefore draw an ugly card, and nothing else.
"""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Mapping
from functools import cache, lru_cache
from typing import Any

from kitbuilder.compose.expression_filters import FILTERS, ExpressionError, bounded

LONGEST_EXPRESSION = 400
DEEPEST_EXPRESSION = 30
LARGEST_NUMBER = 1e9

Scope = Mapping[str, Any]
Evaluate = Callable[[Scope], Any]

_HOLE = re.compile(r"\{\{(.*?)\}\}", re.S)
_COMPARE: dict[str, Callable[[Any, Any], Any]] = {
    "eq": operator.eq,
    "ne": operator.ne,
    "lt": operator.lt,
    "lteq": operator.le,
    "gt": operator.gt,
    "gteq": operator.ge,
}
_ARITHMETIC: dict[str, Callable[[Any, Any], Any]] = {
    "Add": operator.add,
    "Sub": operator.sub,
    "Mul": operator.mul,
    "Div": operator.truediv,
    "FloorDiv": operator.floordiv,
    "Mod": operator.mod,
}


def compile_value(text: str) -> Evaluate:
    """Return a function of the scope for a template value: literal text, one `{{ expression }}`, or both mixed.

    A value that is one expression gives that expression's own type; a mixture gives text.

    Raises:
        ExpressionError: when an expression is too long, too deep, not an expression, or uses what is not allowed.
    """
    holes = list(_HOLE.finditer(text))
    if not holes:
        if "{{" in text or "{%" in text:
            raise ExpressionError(f"{text!r} has a brace that is not closed, or a statement; use {{{{ ... }}}}")
        return lambda scope: text
    if len(holes) == 1 and holes[0].span() == (0, len(text)):
        return compile_expression(holes[0][1])
    parts: list[Evaluate] = []
    at = 0
    for hole in holes:
        literal = text[at : hole.start()]
        if literal:
            parts.append(lambda scope, literal=literal: literal)  # type: ignore[misc]  # default binds the loop value
        parts.append(compile_expression(hole[1]))
        at = hole.end()
    if text[at:]:
        tail = text[at:]
        parts.append(lambda scope: tail)
    return lambda scope: bounded("".join(as_text(part(scope)) for part in parts))


@lru_cache(maxsize=2048)  # kinds and faces say the same again and again: {{ left }}
def compile_expression(source: str) -> Evaluate:
    """Return a function of the scope for one expression, written without its braces."""
    from jinja2 import TemplateSyntaxError, nodes

    if len(source) > LONGEST_EXPRESSION:
        raise ExpressionError(f"the expression is {len(source)} characters long; {LONGEST_EXPRESSION} is the most")
    if "{" in source or "%}" in source:
        raise ExpressionError(f"{source.strip()!r}: braces are not allowed inside an expression")
    try:
        tree = _parser().parse("{{ " + source + " }}")  # the blank keeps a leading minus apart from the brace
    except (TemplateSyntaxError, RecursionError) as error:
        raise ExpressionError(f"{source.strip()!r} cannot be read as an expression: {error}") from None
    output = tree.body[0] if len(tree.body) == 1 else None
    if not isinstance(output, nodes.Output) or len(output.nodes) != 1:
        raise ExpressionError(f"{source.strip()!r} is not one expression")
    return _compile(output.nodes[0], 0)


@cache
def _parser() -> Any:
    from jinja2 import Environment  # not needed to say what is wrong with a unit

    return Environment(optimized=False)


def as_text(value: Any) -> str:
    """Return how a value reads inside text: numbers without a needless `.0`, nothing for None."""
    if value is None:
        return ""
    if isinstance(value, float) and value == int(value):
        return str(int(value))
    if isinstance(value, float):
        return f"{value:.3f}".rstrip("0")
    return str(value)


def _compile(node: Any, depth: int) -> Evaluate:
    if depth > DEEPEST_EXPRESSION:
        raise ExpressionError(f"the expression is nested deeper than {DEEPEST_EXPRESSION} levels")
    name = type(node).__name__
    if name in _ARITHMETIC:
        return _arithmetic(_ARITHMETIC[name], _compile(node.left, depth + 1), _compile(node.right, depth + 1))
    rule = _RULES.get(name)
    if rule is None:
        raise ExpressionError(f"{_plain_name(name)} may not be used in a template")
    return rule(node, depth + 1)


def _plain_name(name: str) -> str:
    known = {"Pow": "a power (**)", "Call": "a call", "Dict": "a mapping", "Test": "a test (is ...)"}
    return known.get(name, f"{name!r}")


def _arithmetic(apply: Callable[[Any, Any], Any], left: Evaluate, right: Evaluate) -> Evaluate:
    def run(scope: Scope) -> Any:
        a, b = left(scope), right(scope)
        if not (_is_number(a) and _is_number(b)):
            raise ExpressionError(f"arithmetic needs two numbers, not {a!r} and {b!r}; join text with ~")
        try:
            result = apply(a, b)
        except ZeroDivisionError:
            raise ExpressionError("division by zero") from None
        if not abs(result) <= LARGEST_NUMBER:
            raise ExpressionError("the result is larger than any sheet of paper")
        return result

    return run


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _name(node: Any, depth: int) -> Evaluate:
    wanted = str(node.name)

    def run(scope: Scope) -> Any:
        if wanted not in scope:
            raise ExpressionError(f"there is no {wanted!r} here; known are {', '.join(sorted(scope))}")
        return scope[wanted]

    return run


def _attribute(node: Any, depth: int) -> Evaluate:
    return _lookup(_compile(node.node, depth), str(node.attr))


def _item(node: Any, depth: int) -> Evaluate:
    from jinja2 import nodes

    inner = _compile(node.node, depth)
    if isinstance(node.arg, nodes.Slice):
        raise ExpressionError("a slice may not be used in a template")
    index = _compile(node.arg, depth)

    def run(scope: Scope) -> Any:
        holder, at = inner(scope), index(scope)
        if isinstance(holder, Mapping):
            return _of_mapping(holder, at)
        if isinstance(holder, tuple | list) and type(at) is int:
            if not -len(holder) <= at < len(holder):
                raise ExpressionError(f"there is no item {at} in a list of {len(holder)}")
            return holder[at]
        raise ExpressionError(f"cannot take {at!r} of {type(holder).__name__}")

    return run


def _lookup(inner: Evaluate, key: str) -> Evaluate:
    def run(scope: Scope) -> Any:
        holder = inner(scope)
        if not isinstance(holder, Mapping):
            raise ExpressionError(f"{key!r} can only be taken of a mapping, not of {holder!r:.40}")
        return _of_mapping(holder, key)

    return run


def _of_mapping(holder: Mapping[Any, Any], key: Any) -> Any:
    if key not in holder:
        raise ExpressionError(f"there is no {key!r} here; known are {', '.join(sorted(map(str, holder)))}")
    return holder[key]


def _constant(node: Any, depth: int) -> Evaluate:
    value = node.value
    if _is_number(value) and abs(value) > LARGEST_NUMBER:
        raise ExpressionError("the number is larger than any sheet of paper")
    return lambda scope: value


def _text(node: Any, depth: int) -> Evaluate:
    value = str(node.data)
    return lambda scope: value


def _negative(node: Any, depth: int) -> Evaluate:
    inner = _compile(node.node, depth)
    return _arithmetic(operator.sub, lambda scope: 0, inner)


def _not(node: Any, depth: int) -> Evaluate:
    inner = _compile(node.node, depth)
    return lambda scope: not inner(scope)


def _and(node: Any, depth: int) -> Evaluate:
    left, right = _compile(node.left, depth), _compile(node.right, depth)
    return lambda scope: left(scope) and right(scope)


def _or(node: Any, depth: int) -> Evaluate:
    left, right = _compile(node.left, depth), _compile(node.right, depth)
    return lambda scope: left(scope) or right(scope)


def _concat(node: Any, depth: int) -> Evaluate:
    parts = [_compile(n, depth) for n in node.nodes]
    return lambda scope: bounded("".join(as_text(p(scope)) for p in parts))


def _compare(node: Any, depth: int) -> Evaluate:
    first = _compile(node.expr, depth)
    steps = [(op.op, _compile(op.expr, depth)) for op in node.ops]

    def run(scope: Scope) -> Any:
        left = first(scope)
        for name, expression in steps:
            right = expression(scope)
            try:
                if name in ("in", "notin"):
                    held = (left in right) == (name == "in")
                else:
                    held = bool(_COMPARE[name](left, right))
            except TypeError:
                raise ExpressionError(f"cannot compare {left!r} with {right!r}") from None
            if not held:
                return False
            left = right
        return True

    return run


def _choice(node: Any, depth: int) -> Evaluate:
    if node.expr2 is None:
        raise ExpressionError("an 'if' inside an expression needs an 'else'")
    test, yes, no = (_compile(n, depth) for n in (node.test, node.expr1, node.expr2))
    return lambda scope: yes(scope) if test(scope) else no(scope)


def _list(node: Any, depth: int) -> Evaluate:
    items = [_compile(n, depth) for n in node.items]
    return lambda scope: tuple(item(scope) for item in items)


def _filter(node: Any, depth: int) -> Evaluate:
    if node.name not in FILTERS:
        raise ExpressionError(f"there is no filter {node.name!r}; known are {', '.join(sorted(FILTERS))}")
    if node.kwargs or node.dyn_args or node.dyn_kwargs or node.node is None:
        raise ExpressionError(f"the filter {node.name!r} takes plain arguments only")
    apply = FILTERS[node.name]
    inner = _compile(node.node, depth)
    arguments = [_compile(n, depth) for n in node.args]

    def run(scope: Scope) -> Any:
        try:
            return apply(inner(scope), *(a(scope) for a in arguments))
        except (TypeError, ValueError, IndexError) as error:
            raise ExpressionError(f"the filter {node.name!r} cannot be used so: {error}") from None

    return run


_RULES: dict[str, Callable[[Any, int], Evaluate]] = {
    "Name": _name,
    "Getattr": _attribute,
    "Getitem": _item,
    "Const": _constant,
    "TemplateData": _text,
    "Neg": _negative,
    "Not": _not,
    "And": _and,
    "Or": _or,
    "Concat": _concat,
    "Compare": _compare,
    "CondExpr": _choice,
    "List": _list,
    "Tuple": _list,
    "Filter": _filter,
}
