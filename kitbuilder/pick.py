"""Which pieces of a pack to print again: by the id printed on them, by set, kind, unit or what they say."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from kitbuilder.diagnostics import ProblemLog, stop
from kitbuilder.load.pack import Pack

Row = Mapping[str, Any]
_TIMES = re.compile(r"[x×](\d{1,2})")
_LETTER = re.compile(r"(.*?)([A-Z])")


@dataclass(frozen=True, slots=True)
class Choice:
    """What to print again; empty fields leave all. `ids` may be followed by x2, x3, ..."""

    ids: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    units: tuple[int, ...] = ()
    learners: tuple[str, ...] = ()
    saying: tuple[str, ...] = ()


def pick_rows(pack: Pack, choice: Choice) -> tuple[Row, ...]:
    """Return the manifest rows to print again, in the pack's order, repeats behind each other.

    Raises:
        ProblemsFound: for ids that are not in the pack (with the nearest), wrong check letters, or an empty choice.
    """
    log = ProblemLog()
    rows = tuple(pack.rows.values())
    if choice.ids:
        counts = _counted(pack, choice.ids, log)
        log.stop_if_any()
        rows = tuple(row for row in rows for _ in range(counts.get(row["id"], 0)))
    rows = tuple(row for row in rows if _matches(row, choice))
    if not rows:
        raise stop("nothing in this pack is like that", "nothing-picked", _offer(pack, choice))
    return rows


def _matches(row: Row, choice: Choice) -> bool:
    if choice.kinds and row["kind"] not in choice.kinds:
        return False
    if choice.units and row["unit"] not in choice.units:
        return False
    if choice.learners and row["learner"] not in choice.learners:
        return False
    return not choice.saying or any(_says(row, text) for text in choice.saying)


def _says(row: Row, text: str) -> bool:
    wanted = text.casefold()
    title = str(row.get("title") or "").casefold()
    return wanted == title or wanted in [str(t).casefold() for side in row["text"].values() for t in side]


def _counted(pack: Pack, ids: Sequence[str], log: ProblemLog) -> dict[str, int]:
    counts: dict[str, int] = {}
    for text, times in _with_times(ids):
        found = _rows_named(pack, text)
        if not found:
            _unknown(pack, text, log)
        for row in found:
            counts[row["id"]] = counts.get(row["id"], 0) + times
    return counts


def _with_times(ids: Iterable[str]) -> Iterator[tuple[str, int]]:
    """Yield ids with how often: `03-LC-4K x2` and `03-LC-4Kx2` both mean twice."""
    waiting: str | None = None
    for text in ids:
        times = _TIMES.fullmatch(text.lower())
        if times and waiting is not None:
            yield waiting, max(1, int(times[1]))
            waiting = None
            continue
        if waiting is not None:
            yield waiting, 1
        glued = re.fullmatch(r"(.+?)[x×](\d{1,2})", text)
        waiting = text
        if glued:
            yield glued[1], max(1, int(glued[2]))
            waiting = None
    if waiting is not None:
        yield waiting, 1


def _rows_named(pack: Pack, text: str) -> list[Row]:
    wanted = text.strip().upper()
    rows = pack.rows.values()
    exact = [r for r in rows if wanted in (r["id"].upper(), r["piece"].upper())]
    if exact:
        return exact
    sets = [r for r in rows if r["set"].upper() == wanted or r["set"].upper().startswith(wanted + "-")]
    if sets:
        return sets
    # an id without its check letter, as one might write it down
    return [r for r in rows if (m := _LETTER.fullmatch(r["piece"].upper())) and m[1] == wanted]


def _unknown(pack: Pack, text: str, log: ProblemLog) -> None:
    wanted = text.strip().upper()
    pieces = sorted({str(r["piece"]) for r in pack.rows.values()})
    typed = _LETTER.fullmatch(wanted)
    for piece in pieces:
        known = _LETTER.fullmatch(piece.upper())
        if typed and known and typed[1] == known[1]:
            log.add(
                f"{text} is not in this pack: here that number is {piece}",
                "wrong-check-letter",
                "the last letter comes from the drawing: this may be a card of another pack, or a letter was misread",
            )
            return
    near = get_close_matches(wanted, [*pieces, *sorted({str(r["set"]) for r in pack.rows.values()})], n=3, cutoff=0.5)
    hint = f"did you mean {' or '.join(near)}?" if near else "the ids are printed small on every piece, like 03-LC-4K"
    log.add(f"there is no {text!r} in this pack", "unknown-id", hint)


def _offer(pack: Pack, choice: Choice) -> str:
    kinds = sorted({str(r["kind"]) for r in pack.rows.values()})
    if choice.saying:
        titles = sorted({str(r.get("title") or "") for r in pack.rows.values()} - {""})
        near = [t for text in choice.saying for t in get_close_matches(text, titles, n=3)]
        if near:
            return f"did you mean {' or '.join(near)}?"
    return f"this pack holds {', '.join(kinds)} for unit(s) {', '.join(str(u) for u in pack.manifest['units'])}"
