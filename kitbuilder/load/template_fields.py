"""The keys of a template file, each asked for once; what nobody asked for is a problem with the nearest known key."""

from __future__ import annotations

from difflib import get_close_matches

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.load.located_yaml import Empty, Listing, Mapping, Value
from kitbuilder.measure.length import Length, parse_length
from kitbuilder.model.text import Placed

_YES, _NO = ("yes", "on", "true"), ("no", "off", "false")


class TemplateFields:
    """Typed access to a mapping; problems go to the log with the place of the value."""

    def __init__(self, value: Mapping, code: str, log: ProblemLog) -> None:
        self.location = value.location
        self.log = log
        self._code = code
        self._left = {str(key): (key, item) for key, item in value.entries}
        self._asked: list[str] = []

    def problem(self, message: str, place: Location | None) -> None:
        self.log.add(message, self._code, "correct the template; the shipped ones show the form", place)

    def value(self, key: str) -> Value | None:
        self._asked.append(key)
        pair = self._left.pop(key, None)
        return pair[1] if pair else None

    def text(self, key: str, default: str | None = None) -> Placed:
        value = self.value(key)
        if isinstance(value, Placed):
            return value
        if value is not None and not isinstance(value, Empty):
            self.problem(f"'{key}' is one text", value.location)
        elif default is None:
            self.problem(f"'{key}' is missing", self.location)
        return Placed(default or "", self.location)

    def texts(self, key: str) -> tuple[Placed, ...]:
        value = self.value(key)
        if value is None:
            return ()
        if not isinstance(value, Listing):
            self.problem(f"'{key}' is a list", value.location)
            return ()
        return tuple(item for item in value.items if isinstance(item, Placed))

    def flag(self, key: str, *, default: bool) -> bool:
        text = self.text(key, "yes" if default else "no")
        if text.lower() not in _YES + _NO:
            self.problem(f"'{key}' is yes or no, not {str(text)!r}", text.location)
        return text.lower() in _YES

    def number(self, key: str, default: int) -> int:
        text = self.text(key, str(default))
        if not (text.isascii() and text.isdigit()) or len(text) > 6:
            self.problem(f"'{key}' is a whole number, not {str(text)!r}", text.location)
            return default
        return int(text)

    def length(self, key: str, default: Length) -> Length:
        value = self.value(key)
        if value is None:
            return default
        try:
            return parse_length(str(value))
        except ValueError as error:
            self.problem(f"'{key}': {error}", value.location)
            return default

    def mapping(self, key: str) -> Mapping | None:
        value = self.value(key)
        if value is None or isinstance(value, Mapping):
            return value
        self.problem(f"'{key}' has its entries below it, one a line", value.location)
        return None

    def listing(self, key: str) -> Listing | None:
        value = self.value(key)
        if value is None or isinstance(value, Listing):
            return value
        self.problem(f"'{key}' is a list", value.location)
        return None

    def close(self) -> None:
        """Note every key that was never asked for."""
        for name, (key, _) in self._left.items():
            near = get_close_matches(name, self._asked, n=1)
            hint = f"did you mean '{near[0]}'?" if near else f"known keys are {', '.join(sorted(self._asked))}"
            self.log.add(f"unknown key '{name}'", "unknown-key", hint, key.location)
