"""The chart of consonants: how wide its columns are, and where in a cell each spelling of a sound stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from typing import Any

from kitbuilder.artwork.type_metrics import FontMetrics
from kitbuilder.measure.length import MM_PER_POINT, pt
from kitbuilder.phonics import ipa

Item = Mapping[str, Any]

HEAD_MM, FOOT_MM, SIDE_MM = 28.0, 13.0, 25.0
SIGN_MM, KEYWORD_MM = 6.2, 6.2  # of a cell's height, above and below the spellings
INSET_MM, BETWEEN_MM = 2.5, 3.5  # of a sound in its part of the cell; between two spellings of a sound
COLUMNS_MM = (24.0, 14.0)  # the least width of a column, and where full ones leave no room for that
LARGEST, LEAST = 26, 18  # points of the spellings
LEADING = 1.14
KEYWORD_POINTS, KEYWORD_AIR_MM = 8.5, 3.5  # of the word below; its air on both sides together
LETTERS_TALL = 0.98  # of the size: from the top of b to the foot of p


def consonant_chart(taught: Sequence[Item], width: float, height: float, font: FontMetrics) -> dict[str, Any]:
    """Return what the face draws: a line for each manner, a cell for each place, in a cell a part for each sound.

    All spellings have one size, the largest at which they fit; a column is as wide as its fullest cell needs.
    """
    rows = [[_sounds(manner, place, taught) for place in ipa.PLACES] for manner in ipa.MANNERS]
    tall = (height - HEAD_MM - FOOT_MM) / len(rows)
    room = width - SIDE_MM
    down = max(len(_in_rows(sound["spellings"])) for row in rows for cell in row for sound in cell)
    for least, points in product(COLUMNS_MM, range(LARGEST, LEAST - 1, -1)):
        needs = [max(least, *(_need(row[i], points, font) for row in rows)) for i in range(len(ipa.PLACES))]
        block = points * MM_PER_POINT * (LETTERS_TALL + LEADING * (down - 1))
        if sum(needs) <= room and block <= tall - SIGN_MM - KEYWORD_MM:
            break
    spare = (room - sum(needs)) / len(needs)
    widths = [need + spare for need in needs]
    starts = [SIDE_MM + sum(widths[:i]) for i in range(len(widths))]
    lines = [
        {
            "name": manner,
            "plain": ipa.PLAIN_MANNERS[manner],
            "cells": tuple(_placed(c, x, w, points, tall, font) for c, x, w in zip(row, starts, widths, strict=True)),
        }
        for manner, row in zip(ipa.MANNERS, rows, strict=True)
    ]
    heads = zip(ipa.PLACES, ipa.PLAIN_PLACES, starts, widths, strict=True)
    places = tuple({"name": name, "plain": plain, "x": x, "width": w} for name, plain, x, w in heads)
    joined = [f"{i['text']} as in {i['keyword']}" for i in taught if "." in i["phoneme"]]
    return {
        "manners": tuple(lines),
        "places": places,
        "both": ", ".join(dict.fromkeys(joined)),
        "size": f"{points} pt",
        "tall": tall,
        "head": HEAD_MM,
    }


def _sounds(manner: str, place: str, taught: Sequence[Item]) -> list[dict[str, Any]]:
    """Return the sounds made there, the one without voice first; none where English has none."""
    found = []
    for voiced in (False, True):
        for phoneme, sound in ipa.CONSONANTS.items():
            if (sound.manner, sound.place, sound.voiced) != (manner, place, voiced):
                continue
            items = [item for item in taught if item["phoneme"] == phoneme]
            spellings = tuple(dict.fromkeys(str(item["text"]) for item in items))
            keyword = str(items[0]["keyword"]) if items else ""
            found.append({"spellings": spellings, "symbol": sound.symbol, "keyword": keyword})
    return found


def _in_rows(spellings: Sequence[str]) -> list[Sequence[str]]:
    """Return one row of up to two spellings, else two rows, the first the fuller."""
    if len(spellings) <= 2:
        return [spellings] if spellings else [()]
    first = -(-len(spellings) // 2)
    return [spellings[:first], spellings[first:]]


def _wide(row: Sequence[str], points: float, font: FontMetrics) -> float:
    letters = sum(font.width_um(text, pt(points).um) for text in row) / 1000
    return letters + BETWEEN_MM * max(0, len(row) - 1)


def _part_need(sound: Item, points: float, font: FontMetrics) -> float:
    keyword = font.width_um(sound["keyword"], pt(KEYWORD_POINTS).um) / 1000 + KEYWORD_AIR_MM
    return max(keyword, 2 * INSET_MM + max(_wide(row, points, font) for row in _in_rows(sound["spellings"])))


def _need(cell: Sequence[Item], points: float, font: FontMetrics) -> float:
    return sum(_part_need(sound, points, font) for sound in cell)


def _placed(
    cell: Sequence[Item], x: float, width: float, points: int, tall: float, font: FontMetrics
) -> dict[str, Any]:
    """Return the cell with the place of each part and spelling, from the cell's upper left corner."""
    needs = [_part_need(sound, points, font) for sound in cell]
    # sounds of a cell share it evenly unless one of them needs more than its half
    halves = [width / len(cell)] * len(cell) if cell else []
    if any(need > half for need, half in zip(needs, halves, strict=True)):
        spare = (width - sum(needs)) / len(needs)
        halves = [need + spare for need in needs]
    parts = []
    left = 0.0
    for sound, wide in zip(cell, halves, strict=True):
        rows = _in_rows(sound["spellings"])
        step = points * MM_PER_POINT * LEADING
        block = points * MM_PER_POINT * LETTERS_TALL + step * (len(rows) - 1)
        top = SIGN_MM + (tall - SIGN_MM - KEYWORD_MM - block) / 2
        spellings = []
        for down, row in enumerate(rows):
            at = left + (wide - _wide(row, points, font)) / 2
            for text in row:
                along = font.width_um(text, pt(points).um) / 1000
                spellings.append({"text": text, "x": at, "y": top + down * step, "width": along + 0.2})
                at += along + BETWEEN_MM
        parts.append({"x": left, "width": wide, "symbol": sound["symbol"], "keyword": sound["keyword"],
                      "spellings": tuple(spellings)})  # fmt: skip
        left += wide
    return {"x": x, "width": width, "parts": tuple(parts), "full": any(sound["spellings"] for sound in cell)}
