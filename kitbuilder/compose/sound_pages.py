"""Lists for pages on the sounds in words: boxes for sounds, a sound left out, chains of words. One item a page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from kitbuilder.diagnostics import Location
from kitbuilder.phonics.chains import ChainStep
from kitbuilder.phonics.correspondences import VOWEL_SOUNDS
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.sound_boxes import Box, sound_boxes

Item = Mapping[str, Any]

BOX_MM, WIDE_BOX_MM = 42, 80  # a tile of 38 mm, or 76 mm for three letters and more, and 4 mm of room
UPRIGHT_BOXES, MOST_BOXES = 4, 5  # of 42 mm side by side on an upright page, on a wide one
UPRIGHT_ROWS, WIDE_ROWS = 3, 2
GAP_ROWS = 6
PLACES = ("initial", "medial", "final")  # as Common Core State Standards RF.K.2d calls the sounds of a CVC word


def chunks(items: Sequence[Item], size: int) -> Iterable[tuple[Item, ...]]:
    for start in range(0, len(items), size):
        yield tuple(items[start : start + size])


def even_chunks(items: Sequence[Item], most: int) -> Iterable[tuple[Item, ...]]:
    """Yield as few chunks as `most` allows, none more than one item longer than another, longer ones first."""
    count = -(-len(items) // most)
    start = 0
    for left in range(count, 0, -1):
        end = start - (start - len(items)) // left
        yield tuple(items[start:end])
        start = end


def numbered_pages(pages: Iterable[Item], place: Location | None) -> tuple[Item, ...]:
    """Return the pages with their number, how many there are, and the line that asked for them."""
    found = tuple(pages)
    return tuple(
        {"text": f"page {i}", "number": i, "of": len(found), "place": place, **page} for i, page in enumerate(found, 1)
    )


def sound_box_pages(words: Sequence[Item], reader: Reader, unit: int, place: Location | None) -> tuple[Item, ...]:
    """Return pages of words with a box for each sound: up to four boxes upright, five on wide pages.

    Pages are filled evenly, so that none is left with a single row where another has three.
    """
    rows = [(word, boxes) for word in words if (boxes := sound_boxes(str(word["text"]), reader, unit))]
    made = [{**_boxed(boxes), "word": word["text"], "picture": word["picture"]} for word, boxes in rows]
    upright = [row for row in made if row["count"] > 1 and row["width"] <= UPRIGHT_BOXES * BOX_MM]
    wide = [row for row in made if UPRIGHT_BOXES * BOX_MM < row["width"] <= MOST_BOXES * BOX_MM]
    pages = [{"wide": False, "rows": rows} for rows in even_chunks(upright, UPRIGHT_ROWS)]
    pages += [{"wide": True, "rows": rows} for rows in even_chunks(wide, WIDE_ROWS)]
    return numbered_pages(pages, place)


def blank_box_pages(place: Location | None) -> tuple[Item, ...]:
    """Return pages of empty boxes: two, three and four on an upright page, five and five on a wide one."""

    def row(count: int) -> Item:
        return {**_boxed(tuple(Box("", "") for _ in range(count))), "word": "", "picture": ""}

    pages = ({"wide": False, "rows": tuple(map(row, (2, 3, 4)))}, {"wide": True, "rows": (row(5), row(5))})
    return numbered_pages(pages, place)


def _boxed(boxes: Sequence[Box]) -> dict[str, Any]:
    """Return the boxes' places in mm from the row's left end.

    `cells`: x, width, silent (a letter without a sound of its own stands there), joined (letters of the box before lie
    across it). `links`: from the middle of a vowel's box to the middle of the e that belongs to it, `a_e` in cake.
    """
    cells: list[dict[str, Any]] = []
    middles: list[float] = []
    links = []
    x = 0
    for box in boxes:
        width = WIDE_BOX_MM if len(box.letters) > 2 and box.spans < 2 else BOX_MM
        cells.append({"x": x, "width": width, "silent": False, "joined": box.spans == 0})
        middles.append(x + width / 2)
        x += width
        if box.behind:
            cells.append({"x": x, "width": BOX_MM, "silent": True, "joined": False})
            if box.partner is not None:
                links.append((middles[box.partner], x + BOX_MM / 2))
            x += BOX_MM
    said = " ".join(box.letters + (f"({box.behind})" if box.behind else "") for box in boxes if box.spans)
    return {"cells": tuple(cells), "links": tuple(links), "width": x, "count": len(boxes), "said": said}


def sound_gap_pages(
    words: Sequence[Item], reader: Reader, unit: int, position: str, forms: int, place: Location | None
) -> tuple[Item, ...]:
    """Return a page a form: six words of consonant, vowel, consonant with one sound left out.

    Words that end in l, r or x are no such words (Common Core State Standards, RF.K.2d). Words with a picture come
    first; the sound left out is one this unit brings (each at most twice), else any; of these the position that was
    left out least often so far, so that initial, medial and final come in turn where the words allow it.
    """
    fresh = reader.taught(unit).covered - reader.taught(unit - 1).covered
    rows: list[Item] = []
    places: Counter[int] = Counter()
    for word in sorted(words, key=lambda w: not w["picture"]):
        links = [s.correspondence for s in reader.verdict(str(word["word"]), unit).segments]
        if not _three_sounds([(link.grapheme, link.phoneme) for link in links]):
            continue
        used = [cell["letters"] for row in rows for cell in row["cells"] if cell["gap"]]
        new = [
            i
            for i, link in enumerate(links)
            if (link.grapheme, link.phoneme) in fresh and used.count(link.grapheme) < 2
        ]
        gap = PLACES.index(position) if position in PLACES else min(new or (0, 1, 2), key=lambda i: (places[i], i))
        places[gap] += 1
        cells = tuple({"letters": link.grapheme, "gap": i == gap} for i, link in enumerate(links))
        rows.append({"word": word["word"], "picture": word["picture"], "cells": cells, "gap": PLACES[gap]})
    pages = [{"rows": page, "form": i} for i, page in enumerate(chunks(rows, GAP_ROWS), 1)]
    return numbered_pages(pages[:forms], place)


def _three_sounds(links: Sequence[tuple[str, str]]) -> bool:
    if len(links) != 3 or any("." in phoneme or "_" in grapheme for grapheme, phoneme in links):
        return False
    first, middle, last = (phoneme for _, phoneme in links)
    vowels = first not in VOWEL_SOUNDS and middle in VOWEL_SOUNDS and last not in VOWEL_SOUNDS
    return vowels and last not in ("L", "R") and links[2][0] != "x"


def word_chain_pages(
    chains: Iterable[Sequence[ChainStep]], graphemes: Mapping[str, Sequence[str]], place: Location | None
) -> tuple[Item, ...]:
    """Return a page a chain: the first word, then a row for each next word, and the solutions."""
    pages = []
    for form, steps in enumerate((steps for steps in chains if len(steps) > 2), 1):
        rows = tuple(
            {"number": i, "word": step.word, "boxes": len(graphemes[step.word]), "change": _change(step)}
            for i, step in enumerate(steps, 1)
        )
        pages.append({"first": steps[0].word, "rows": rows[1:], "all": rows, "form": form})
    return numbered_pages(pages, place)


def _change(step: ChainStep) -> str:
    if step.change == "swap":
        return f"{step.old} to {step.new}"
    return f"add {step.new}" if step.change == "add" else f"take away {step.old}" if step.change else ""
