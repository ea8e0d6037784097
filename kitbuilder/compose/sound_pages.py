"""Lists for pages on the sounds in words: boxes for sounds, a sound left out, chains of words. One item a page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from kitbuilder.compose.taking_turns import in_turn
from kitbuilder.diagnostics import Location
from kitbuilder.phonics.chains import ChainStep
from kitbuilder.phonics.correspondences import VOWEL_SOUNDS
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.sound_boxes import Box, sound_boxes

Item = Mapping[str, Any]
_Found = tuple[str, str, list[tuple[str, str]], list[int]]  # word, picture, links, which of them are new
Asked = tuple[str, str]  # a word, and the picture that asks for it, empty where an adult says it

BOX_MM, WIDE_BOX_MM = 42, 80  # a tile of 38 mm, or 76 mm for three letters and more, and 4 mm of room
UPRIGHT_BOXES, MOST_BOXES = 4, 5  # of 42 mm side by side on an upright page, on a wide one
UPRIGHT_ROWS, WIDE_ROWS = 3, 2
GAP_ROWS, LEAST_GAP_ROWS = 6, 3  # of a page; with fewer there is one form less
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


def half_new(words: Sequence[Asked], review: Sequence[Asked], wanted: int) -> tuple[Asked, ...]:
    """Return the unit's words that a picture asks for, then review ones, but half of those wanted from the unit.

    Behind the wanted ones come all others, for where some of them will not do.
    """
    pictured = [asked for asked in words if asked[1]]
    bare = [asked for asked in words if not asked[1]]
    said = max(0, min(len(bare), wanted // 2 - len(pictured)))
    shown = [*pictured, *review][: wanted - said]
    first = [*shown[: len(pictured)], *bare[:said], *shown[len(pictured) :]]
    return tuple(dict.fromkeys((*first, *pictured, *review, *bare)))


def sound_box_pages(
    words: Sequence[Asked], wanted: int, reader: Reader, unit: int, place: Location | None
) -> tuple[Item, ...]:
    """Return pages of the first `wanted` words with a box for each sound: up to four boxes upright, five on wide pages.

    Pages are filled evenly, so that none is left with a single row where another has three. A single wide row would
    have a page for itself: the next word takes its place.
    """
    upright: list[Item] = []
    wide: list[Item] = []
    for word, picture in words:
        row = {**_boxed(sound_boxes(word, reader, unit)), "word": word, "picture": picture}
        if row["count"] > 1 and row["width"] <= UPRIGHT_BOXES * BOX_MM:
            upright.append(row)
        elif UPRIGHT_BOXES * BOX_MM < row["width"] <= MOST_BOXES * BOX_MM and len(upright) + len(wide) < wanted:
            wide.append(row)
        if len(upright) + (len(wide) if len(wide) > 1 else 0) >= wanted:
            break
    if len(wide) == 1 and len(upright) >= wanted:
        wide = []
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
    across = next((box.letters for box in boxes if box.spans > 1), "")  # x: one letter, two sounds
    return {
        "cells": tuple(cells), "links": tuple(links), "width": x, "count": len(boxes), "said": said, "across": across
    }  # fmt: skip


def sound_gap_pages(
    words: Sequence[Asked], reader: Reader, unit: int, position: str, forms: int, place: Location | None
) -> tuple[Item, ...]:
    """Return a page a form: up to six words of consonant, vowel, consonant with one sound left out.

    Words that end in l, r or x are no such words (Common Core State Standards, RF.K.2d). Words with a sound this unit
    brings come first, one for each of its spellings, then those with a picture; that sound is left out, else any; of
    several the one left out least often so far, so that initial, medial and final come in turn where the words allow
    it. What is left of two words is never the same: hu_ is `hum` and `hut`.
    """
    fresh = reader.fresh(unit)
    found: list[_Found] = []
    for word, picture in words:
        links = [(s.correspondence.grapheme, s.correspondence.phoneme) for s in reader.verdict(word, unit).segments]
        if _three_sounds(links):
            found.append((word, picture, links, [i for i, link in enumerate(links) if link in fresh]))
    rows: list[Item] = []
    places: Counter[int] = Counter()
    seen: set[tuple[str, ...]] = set()
    found.sort(key=lambda each: not each[1])
    for word, picture, links, new in _best_first(found):
        can = (PLACES.index(position),) if position in PLACES else tuple(new) or (0, 1, 2)
        ways = {i: tuple("" if i == at else grapheme for at, (grapheme, _) in enumerate(links)) for i in can}
        free = [i for i in can if ways[i] not in seen]
        if not free:
            continue
        gap = min(free, key=lambda i: (places[i], i))
        places[gap] += 1
        seen.add(ways[gap])
        cells = tuple({"letters": grapheme, "gap": i == gap} for i, (grapheme, _) in enumerate(links))
        rows.append({"word": word, "picture": picture, "cells": cells, "gap": PLACES[gap]})
    pages = [
        {"rows": page, "form": i, "pictured": any(row["picture"] for row in page)}
        for i, page in enumerate(_forms(rows, forms), 1)
    ]
    return numbered_pages(pages, place)


def _best_first(found: Sequence[_Found]) -> Iterable[_Found]:
    """Yield a word for each new spelling, then new ones with pictures, new ones without, and review."""

    def spellings(each: _Found) -> list[str]:
        return [each[2][i][0] for i in each[3]]

    new = in_turn([each for each in found if each[3]], spellings)
    kinds = len({spelling for each in new for spelling in spellings(each)})
    yield from new[:kinds]
    for pictured in (True, False):
        yield from in_turn([each for each in new[kinds:] if bool(each[1]) is pictured], spellings)
    yield from (each for each in found if not each[3])


def _forms(rows: Sequence[Item], forms: int) -> Iterable[tuple[Item, ...]]:
    """Return a page of rows a form, dealt in turn so that every form has some of the best; fewer forms for few rows."""
    count = max(1, min(forms, len(rows) // LEAST_GAP_ROWS))
    dealt = rows[: count * GAP_ROWS]
    return (tuple(dealt[form::count]) for form in range(count)) if dealt else ()


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
    different = dict.fromkeys(tuple(steps) for steps in chains if len(steps) > 2)  # a first unit has but one
    for form, steps in enumerate(different, 1):
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
