"""Located values against a model: the model itself, or every problem in a parent's words at its place."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, TypeVar

from pydantic import ValidationError

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.load.edit_yaml import quoted
from kitbuilder.load.located_yaml import Empty, Listing, Mapping, Value, cut
from kitbuilder.model.defined import Defined, Reading, UnknownKey
from kitbuilder.model.text import Placed, place_of

T = TypeVar("T", bound=Defined)


def validated(model: type[T], value: Value, log: ProblemLog) -> T | None:
    """Return the value as a model, or None with its problems in the log."""
    if not isinstance(value, Mapping):
        first = model.keys()[0]
        log.add(
            "names with their values are expected in this file",
            "names-expected",
            f"start a line with a name and a colon, such as '{first}: ...', with a space after the colon",
            place_of(value),
        )
        return None
    reading = Reading()
    made: T | None = None
    try:
        made = model.model_validate(value, context=reading, by_alias=True, by_name=False)
    except ValidationError as error:
        for one in error.errors(include_url=False):
            if not _follows(one, value, reading.unknown_keys):
                _Told(value, one, log).tell()
    for unknown in reading.unknown_keys:
        _tell_unknown(unknown, value, log)
    return made if not reading.unknown_keys else None


def _follows(error: Any, root: Mapping, unknown: list[UnknownKey]) -> bool:
    """Say whether an error only follows from another one that is told."""
    if error["type"] == "default_factory_not_called":
        return True  # a default could not be computed from a wrong value
    value = _look_up(root, error["loc"]).value
    if error["type"] == "too_short":
        return isinstance(value, Listing) and len(value) > 0  # all its items are wrong
    if error["type"] != "missing" or not isinstance(value, Mapping):
        return False
    misspelt = [_meant(one) for one in unknown if any(key is one.key for key in value)]
    return error["loc"][-1] in misspelt


@dataclass(slots=True)
class _Found:
    """The deepest value on an error's path: the key it hangs on, and whether it is an item of a list there."""

    value: Value
    key: Placed | None
    item: bool = False


def _look_up(root: Mapping, path: tuple[int | str, ...]) -> _Found:
    found = _Found(root, None)
    for step in path:
        value = found.value
        if isinstance(value, Mapping) and step in value:
            found = next(_Found(inner, key) for key, inner in value.entries if key == step)
        elif isinstance(value, Listing) and isinstance(step, int) and step < len(value):
            found = _Found(value[step], found.key, item=True)
        else:
            break
    return found


class _Told:
    """One error of pydantic's, told to a parent."""

    def __init__(self, root: Mapping, error: Any, log: ProblemLog) -> None:
        self.error = error
        self.log = log
        self.found = _look_up(root, error["loc"])
        item = "an item of " if self.found.item else ""
        self.name = f"{item}'{self.found.key}'" if self.found.key else "this"

    def tell(self) -> None:
        value = self.found.value
        kind = self.error["type"]
        facts = self.error.get("ctx", {})
        if kind == "missing":
            self._missing(str(self.error["loc"][-1]))
        elif isinstance(value, Empty):
            self._empty(value)
        elif facts.get("place"):
            self._add(facts["message"], kind, facts["hint"], facts["place"])
        elif kind == "text-expected" and isinstance(value, Mapping):
            _tell_colon(value, self.log)
        elif kind == "text-expected" and isinstance(value, Listing):
            self._add("a text is expected here, not a list", kind, _no_list(value))
        elif kind in ("tuple_type", "list_type"):
            self._list_expected(value)
        elif kind == "too_short":
            self._add(
                f"{self.name} has nothing in it; at least one is expected", "empty-list", "write one, or delete it"
            )
        elif kind in ("model_type", "dict_type"):
            self._names_expected(value)
        elif "message" in facts:
            self._add(facts["message"], kind, facts["hint"])
        else:
            self._add(
                f"{self.name} is not understood: {self.error['msg']}", "not-understood", "compare it with the starter"
            )

    def _add(self, message: str, code: str, hint: str, place: Location | None = None) -> None:
        self.log.add(message, code, hint, place or place_of(self.found.value))

    def _missing(self, key: str) -> None:
        inside = f" in {self.name}" if self.found.key else ""
        self._add(f"'{key}' is missing{inside}", "missing-key", f"write a line '{key}: ...'")

    def _empty(self, value: Empty) -> None:
        what = f"{self.name} is empty" if self.found.item else f"{self.name} has no value"
        hint = "write it after the name or the '-', or delete the line"
        if value.comment is not None:
            hint = "what follows # is a note and is left out; put quotes round a text that starts with #"
        self._add(what, "empty-value", hint)

    def _list_expected(self, value: Value) -> None:
        if isinstance(value, Mapping):
            hint = "start each item on a line of its own with '- '"
        elif isinstance(value, Placed) and value.startswith("-") and " " in value:
            hint = "write a space after each '-'"
        elif isinstance(value, Placed) and not value.rstrip().endswith((".", "!", "?")):
            hint = f"put square brackets round it: [{cut(value)}]"
        else:
            hint = "put each one on a line of its own below the name, starting with '- '"
        self._add(f"a list is expected for {self.name}", "list-expected", hint)

    def _names_expected(self, value: Value) -> None:
        found = f": '{cut(value)}'" if isinstance(value, Placed) else ""
        hint = "write them below it, one a line, two spaces further in: name: value"
        self._add(f"names with their values are expected for {self.name}{found}", "names-expected", hint)


def _no_list(value: Listing) -> str:
    return "take the square brackets away" if value.in_brackets else "write it on one line, without the '-'"


def _tell_colon(value: Mapping, log: ProblemLog) -> None:
    key, rest = next(iter(value.entries), (Placed(), Placed()))
    text = f"{key}: {rest}" if isinstance(rest, Placed) and len(value) == 1 else str(key)
    hint = "put quotes round the whole text: " + quoted(text) if key else "write a text"
    log.add(f"a text is expected here; the ':' after '{cut(key)}' splits it", "colon-in-text", hint, value.location)


def _tell_unknown(unknown: UnknownKey, root: Mapping, log: ProblemLog) -> None:
    key = unknown.key
    place = place_of(key)
    owner = _owner(root, key)
    if " " in key and owner is not None and len(owner) == 1 and not _meant(unknown):
        _tell_colon(owner, log)
        return
    near = _meant(unknown)
    hint = f"did you mean '{near}'?" if near else f"the names here are: {', '.join(unknown.known)}"
    if key[:1].isdigit():
        hint = "a comma ends a value in brackets: write 12.7, not 12,7"
    log.add(f"unknown name '{cut(key)}'", "unknown-key", hint, place)


def _meant(unknown: UnknownKey) -> str | None:
    """Return the known key that was probably meant."""
    near = get_close_matches(unknown.key.lower().replace("_", "-").replace(" ", "-"), unknown.known, n=1, cutoff=0.6)
    return near[0] if near else None


def _owner(value: Value, key: str) -> Mapping | None:
    """Return the mapping that holds this very key."""
    if isinstance(value, Mapping):
        if any(own is key for own in value):
            return value
        inner: list[Any] = list(value.values())
    else:
        inner = list(value) if isinstance(value, Listing) else []
    return next((owner for owner in (_owner(item, key) for item in inner) if owner is not None), None)
