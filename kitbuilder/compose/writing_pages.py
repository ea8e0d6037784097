"""What stands on handwriting pages: each new letter as a model with help marks, dotted to trace and fading, then room.

Worked out apart from drawing, so that a checklist can say how many pages there will be.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from kitbuilder.artwork.letter_strokes import letter_shape, text_width
from kitbuilder.compose.job_scope import ruling_of
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Item, Sources
from kitbuilder.diagnostics import stop

HEAD_MM, FOOT_MM = 13.0, 9.0
LEAST_GAP_MM = 4.8  # between a descender line and the next top line
FADING = ("#4a4a4a", "#8a8a8a", "#b8b8b8")  # dots to trace, paler each time
_BESIDE = 36.0  # between two letters in a row, in hundredths of the height
_BESIDE_TEAMS = 60.0  # nearer, two teams read as one word
_INSET_MM = 4.0  # the first letter's number stands left of it

Row = Mapping[str, Any]
_FREE: Row = {"cells": (), "said": ""}


@dataclass(frozen=True, slots=True)
class PageLines:
    """What a page gives: mm from baseline to top line, between rows, width, rows on a page; model on the right."""

    height: float
    gap: float
    width: float
    rows: int
    left_handed: bool


def writing_pages(job: Job, sources: Sources, form: int) -> tuple[tuple[Row, ...], ...]:
    """Return the rows of each page of a form; no page when the unit has neither letters nor words to write.

    A row is `cells` (text, look, colour, x and width in mm, help marks, start dots) and what is `said` above it.
    """
    lines = page_lines(job)
    return tuple(_paginated(*_blocks(job, sources, lines, form), lines))


def page_lines(job: Job) -> PageLines:
    """Return what a page of the job gives; raises ProblemsFound when not even one row fits."""
    height = ruling_of(job)
    page = job.format
    clear = page.keep_clear
    width = (page.trim.width - clear.left - clear.right).to_mm()
    tall = (page.trim.height - clear.top - clear.bottom).to_mm() - HEAD_MM - FOOT_MM
    gap = max(LEAST_GAP_MM, 0.3 * height)
    rows = int((tall + gap) // (1.5 * height + gap))
    left_handed = bool(job.learner and job.learner.left_handed)
    if rows < 1:
        raise stop(
            f"no line of handwriting {height:g} mm high fits on the page",
            "does-not-fit",
            "give handwriting a smaller 'height'",
            job.asked_at,
        )
    return PageLines(height, gap, width, rows, left_handed)


def _blocks(job: Job, sources: Sources, lines: PageLines, form: int) -> tuple[list[list[Row]], list[Row]]:
    """Return rows that belong together (a letter small and capital, or a team, with a word), and more words."""
    own = _own_words(job)
    wanted = "".join(str(job.options["letters"]).split())
    if wanted:
        return [[_letter_row(c, own, lines)] for c in dict.fromkeys(wanted) if _known(c, job)], []
    words = sources.words(job) if job.options["words"] else ()
    letters, teams = _new_letters(job, sources)
    blocks = []
    used: set[str] = set()
    for text in (*letters, *teams):
        rows = [_letter_row(text, own, lines)]
        if len(text) == 1 and job.options["capitals"]:
            rows.append(_letter_row(text.upper(), own, lines))
        word = _word_with(text, words, used, lines, form)
        blocks.append([*rows, _word_row(word, lines)] if word else rows)
    short = [str(w["text"]) for w in words if _fits_twice(str(w["text"]), lines)]
    rest = [_word_row(word, lines) for word in short if word not in used]
    if not blocks:
        return [[row] for row in rest[: lines.rows // 2]], []
    return blocks, rest[form - 1 :: job.forms]


def _known(char: str, job: Job) -> bool:
    if letter_shape(char) is None:
        raise stop(
            f"handwriting has no strokes for {char!r}",
            "no-strokes",
            "letters are a to z, A to Z and 0 to 9",
            job.asked_at,
        )
    return True


def _new_letters(job: Job, sources: Sources) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the letters no earlier unit brought, then the unit's teams; all its letters when none is new."""
    before = {c for u in sources.home.units if u.unit < job.unit.unit for t in u.teach for c in str(t.grapheme)}
    graphemes = [str(t.grapheme) for t in job.unit.teach]
    letters = tuple(dict.fromkeys(c for g in graphemes for c in g if letter_shape(c)))
    teams = tuple(dict.fromkeys(g for g in graphemes if len(g) > 1 and "_" not in g))
    new = tuple(c for c in letters if c not in before)
    return (new, teams) if new or teams else (letters, ())


def _own_words(job: Job) -> dict[str, str]:
    """Return the family's own words for writing a letter, from `say: "a: round and down; b: ..."`."""
    found: dict[str, str] = {}
    for part in filter(str.strip, str(job.options["say"]).split(";")):
        letter, colon, words = part.partition(":")
        if not colon or letter_shape(letter.strip()) is None or not words.strip():
            raise stop(
                f"handwriting: say: {part.strip()!r} does not say how a letter is written",
                "bad-option",
                'write the letter, a colon and your words, with a semicolon between two letters: "a: round; l: down"',
                job.asked_at,
            )
        found[letter.strip()] = words.strip()
    return found


def _letter_row(text: str, own: Mapping[str, str], lines: PageLines) -> Row:
    """Return a model with all help marks, three dotted and fading to trace, and room to write."""
    shape = letter_shape(text) if len(text) == 1 else None
    said = own.get(text) or (shape.words if shape else "")
    model = {"text": text, "look": "road", "colour": "#111111", "help": True}
    traces: list[Row] = [
        {"text": text, "look": "dotted", "colour": colour, "help": False, "starts": i < 2}
        for i, colour in enumerate(FADING)
    ]
    beside = _BESIDE if shape else _BESIDE_TEAMS
    step = (max(text_width(text), 20) + beside) * lines.height / 100
    traces = traces[: max(1, int((lines.width - _INSET_MM) / step) - 2)]
    cells: list[Row] = [] if lines.left_handed else [{**model, "x": _INSET_MM}]
    # the writing hand of a left-handed child would cover a model on the left
    first = len(cells)
    cells += ({**cell, "x": _INSET_MM + (first + i) * step} for i, cell in enumerate(traces))
    if lines.left_handed:
        cells.append({**model, "x": lines.width - _INSET_MM - text_width(text) * lines.height / 100})
    return {"cells": _placed(cells, lines), "said": f"{text}:  {said}" if said else ""}


def _word_row(word: str, lines: PageLines) -> Row:
    """Return a word in full, dotted to trace, once more paler when there is room for that, and room to write.

    For a left-handed child it stands in full at the right end: the hand covers what is on the left.
    """
    wide = (text_width(word) + 2 * _BESIDE) * lines.height / 100
    model = {"text": word, "look": "solid", "colour": "#111111", "help": False}
    first = 0 if lines.left_handed else 1
    count = 2 if 4 * wide <= lines.width else 1
    cells: list[Row] = [
        {"text": word, "look": "dotted", "colour": FADING[i], "help": False, "starts": i == 0,
         "x": _INSET_MM + (first + i) * wide}
        for i in range(count)
    ]  # fmt: skip
    end = lines.width - _INSET_MM - text_width(word) * lines.height / 100
    cells.append({**model, "x": end if lines.left_handed else _INSET_MM})
    return {"cells": _placed(cells, lines), "said": ""}


def _placed(cells: Iterable[Mapping[str, Any]], lines: PageLines) -> tuple[Row, ...]:
    def width(cell: Mapping[str, Any]) -> float:
        return text_width(str(cell["text"])) * lines.height / 100 + 0.1

    return tuple({"starts": cell["help"], **cell, "width": width(cell)} for cell in cells)


def _word_with(text: str, words: Sequence[Item], used: set[str], lines: PageLines, form: int) -> str:
    """Return a word of the unit that has these letters, short enough to write it twice; each form another one."""
    held = [w for w in words if text in w["graphemes"] and str(w["text"]) not in used]
    held = [w for w in held if _fits_twice(str(w["text"]), lines)]
    sounding = [w for w in held if text in w["fresh"]]  # `is` for the s of rose, `us` only where there is no such word
    fit = [str(w["text"]) for w in sounding or held]
    if not fit:
        return ""
    word = fit[(form - 1) % len(fit)]
    used.add(word)
    return word


def _fits_twice(word: str, lines: PageLines) -> bool:
    spelt = all(letter_shape(c) for c in word)
    return spelt and 2 * (text_width(word) + 2 * _BESIDE) * lines.height / 100 <= lines.width


def _paginated(blocks: Sequence[Sequence[Row]], more: Sequence[Row], lines: PageLines) -> list[tuple[Row, ...]]:
    """Return the pages, evenly filled; a block is not divided when a page can hold it.

    Every block has a free line behind it, but the last of a page that is full without; what is left are more words in
    turn with free lines.
    """
    fewest = _dealt(blocks, lines.rows, len(blocks))
    even = _dealt(blocks, lines.rows, -(-len(blocks) // max(1, len(fewest))))
    waiting = list(more)
    pages = []
    for page in even if len(even) <= len(fewest) else fewest:
        left = lines.rows - sum(len(block) for block in page)
        rows: list[Row] = []
        for block in page:
            rows += [*block, *[_FREE] * (left > 0)]
            left -= left > 0
        while left > 0:
            rows += [waiting.pop(0) if waiting and left > 1 else _FREE, _FREE][:left]
            left = lines.rows - len(rows)
        pages.append(tuple(rows))
    return pages


def _dealt(blocks: Sequence[Sequence[Row]], rows: int, most: int) -> list[list[Sequence[Row]]]:
    """Return the blocks of each page, at most `most`, a free line between two; a block longer than a page is cut."""
    pages: list[list[Sequence[Row]]] = []
    for block in (whole[i : i + rows] for whole in blocks for i in range(0, len(whole), rows)):
        if not pages or len(pages[-1]) == most or sum(len(each) + 1 for each in pages[-1]) + len(block) > rows:
            pages.append([])
        pages[-1].append(block)
    return pages
