"""How a stack comes apart, stroke by stroke: which places each stroke frees, and where its number stands.

A stack is cut as one: all its sheets share the strokes and places, so the page draws them once a stack.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from math import hypot

from kitbuilder.export.svg import mm
from kitbuilder.imposition.sheets import Sheet, SheetLayout, Stroke
from kitbuilder.measure.geometry import Rect
from kitbuilder.prep.cutting import cut_passes
from kitbuilder.prep.wording import many

BADGE_UM = 5_000  # radius of a stroke's number on the page at usual size
_FIRST_UM = 7_500  # from a stroke's end to its number
_STEP_UM = 3_000
_CLOSE_UM = 10_600  # numbers nearer than this touch


@dataclass(frozen=True, slots=True)
class Place:
    """One place of a layout, as seen from the front; `step` is the stroke that frees it, 0 when nothing is cut."""

    pile: str
    area: Rect
    step: int


@dataclass(frozen=True, slots=True)
class Play:
    """A stack's strokes and places. `told` has one sentence a step, the first one before any stroke."""

    steps: int
    told: tuple[str, ...]
    places: tuple[Place, ...]
    lines: str  # SVG of the strokes, from the front
    numbers: str  # SVG of their numbers
    piles: str  # SVG of the places


def play_of(layout: SheetLayout, sheets: Sequence[Sheet], *, inches: bool) -> Play:
    """Return how the stack of these sheets is cut."""
    areas = {p.pile: p.area for sheet in sheets for p in sheet.placements}
    steps = numbered_steps(layout.strokes)
    whole = Rect(0, 0, layout.setup.width_um, layout.setup.height_um)
    freed = freeing_steps(whole, steps, areas)
    places = tuple(Place(pile, area, freed[pile]) for pile, area in areas.items())
    spots = badge_places(steps, whole.width_um, whole.height_um)
    return Play(
        len(steps),
        _told(layout, steps, places, inches=inches),
        places,
        "".join(_line(stroke, step) for step, strokes in enumerate(steps, 1) for stroke in strokes),
        "".join(_badge(*spot, stroke) for spot, stroke in zip(spots, chain.from_iterable(steps), strict=True)),
        "".join(_place(number, place) for number, place in enumerate(places)),
    )


def freeing_steps(
    whole: Rect, steps: Sequence[Sequence[Stroke]], areas: Mapping[str, Rect]
) -> dict[str, int]:  # fmt: skip
    """Return after which step, from 1, each area lies apart from all others; 0 for an area nothing cuts.

    An area is free when the piece of paper it is on holds no other area any more and will not be cut again.
    """
    freed = dict.fromkeys(areas, 0)
    papers = [(whole, 0)]  # every piece of paper, and the step that last cut it
    for number, strokes in enumerate(steps, 1):
        for stroke in strokes:
            papers = [part for paper in papers for part in _cut(paper, stroke, number)]
    for name, area in areas.items():
        middle = (area.x_um + area.width_um // 2, area.y_um + area.height_um // 2)
        freed[name] = next((step for paper, step in papers if _holds(paper, *middle)), 0)
    return freed


def numbered_steps(strokes: Iterable[Stroke]) -> tuple[tuple[Stroke, ...], ...]:
    """Return the strokes by number, in cutting order: strips cut side by side share a number."""
    by_number: dict[int, list[Stroke]] = {}
    for stroke in strokes:
        by_number.setdefault(stroke.number, []).append(stroke)
    return tuple(tuple(by_number[number]) for number in sorted(by_number))


def _cut(paper: tuple[Rect, int], stroke: Stroke, number: int) -> list[tuple[Rect, int]]:
    rect = paper[0]
    if stroke.axis == "x":
        inside = rect.x_um < stroke.at_um < rect.right_um
        across = stroke.from_um < rect.bottom_um and stroke.to_um > rect.y_um
        left = stroke.at_um - rect.x_um
        parts = [
            Rect(rect.x_um, rect.y_um, left, rect.height_um),
            Rect(stroke.at_um, rect.y_um, rect.width_um - left, rect.height_um),
        ]
    else:
        inside = rect.y_um < stroke.at_um < rect.bottom_um
        across = stroke.from_um < rect.right_um and stroke.to_um > rect.x_um
        top = stroke.at_um - rect.y_um
        parts = [
            Rect(rect.x_um, rect.y_um, rect.width_um, top),
            Rect(rect.x_um, stroke.at_um, rect.width_um, rect.height_um - top),
        ]
    return [(part, number) for part in parts] if inside and across else [paper]


def _holds(rect: Rect, x_um: int, y_um: int) -> bool:
    return rect.x_um <= x_um < rect.right_um and rect.y_um <= y_um < rect.bottom_um


def _told(
    layout: SheetLayout, steps: Sequence[Sequence[Stroke]], places: Sequence[Place], *, inches: bool
) -> tuple[str, ...]:  # fmt: skip
    if not steps:
        return ("Nothing to cut.",)
    settings = {}
    for each in cut_passes(layout.strokes, inches=inches):
        for line in each.strokes:
            # what is under the blade, and how it is turned, is said once: it stays that way through the pass
            first = line.number == each.strokes[0].number
            settings[line.number] = f"{each.heading}. " if first else "", line.setting.replace(" ", "\u00a0")
    told = [f"{many(len(steps), 'stroke')}, none made yet."]
    for step, strokes in enumerate(steps, 1):
        heading, setting = settings[strokes[0].number]
        free = sum(place.step == step for place in places)
        frees = f" Frees {many(free, 'pile')}." if free else ""
        told.append(f"Stroke {step} of {len(steps)}. {heading}Edge stop at {setting}.{frees}")
    return tuple(told)


def _line(stroke: Stroke, step: int) -> str:
    at, start, end = mm(stroke.at_um), mm(stroke.from_um), mm(stroke.to_um)
    way = f"M{at} {start}V{end}" if stroke.axis == "x" else f"M{start} {at}H{end}"
    return f'<path class="ct" data-s="{step}" d="{way}"/>'


def badge_places(steps: Sequence[Sequence[Stroke]], width_um: int, height_um: int) -> tuple[tuple[int, int, int], ...]:
    """Return step, x and y of each line's number: on the line, near its start, clear of the numbers before it."""
    taken: list[tuple[int, int, int]] = []
    for step, strokes in enumerate(steps, 1):
        for stroke in strokes:
            taken.append((step, *_free_spot(stroke, [spot[1:] for spot in taken], width_um, height_um)))
    return tuple(taken)


def _badge(step: int, x: int, y: int, stroke: Stroke) -> str:
    # numbers keep their size when the sheet grows: they shrink towards the line, also where the rim pushed them off it
    at = f"{mm(stroke.at_um)}px {mm(y)}px" if stroke.axis == "x" else f"{mm(x)}px {mm(stroke.at_um)}px"
    circle = f'<circle cx="{mm(x)}" cy="{mm(y)}" r="{mm(BADGE_UM)}"/>'
    text = f'<text x="{mm(x)}" y="{mm(y + 2_100)}">{step}</text>'
    return f'<g class="nr" data-s="{step}" style="transform-origin:{at}">{circle}{text}</g>'


def _free_spot(stroke: Stroke, taken: Sequence[tuple[int, int]], width_um: int, height_um: int) -> tuple[int, int]:
    """Return the first spot along the stroke that touches no other number; the usual one when there is none."""
    limit = width_um if stroke.axis == "x" else height_um
    across = min(max(stroke.at_um, BADGE_UM), limit - BADGE_UM)
    spots = range(stroke.from_um + min(_FIRST_UM, (stroke.to_um - stroke.from_um) // 2), stroke.to_um, _STEP_UM)
    points = [(across, along) if stroke.axis == "x" else (along, across) for along in spots]
    return next(
        (p for p in points if all(hypot(p[0] - x, p[1] - y) >= _CLOSE_UM for x, y in taken)),
        points[0] if points else (across, stroke.from_um),
    )


def _place(number: int, place: Place) -> str:
    area = place.area
    box = f'x="{mm(area.x_um)}" y="{mm(area.y_um)}" width="{mm(area.width_um)}" height="{mm(area.height_um)}"'
    return f'<rect class="pl" data-p="{number}" data-s="{place.step}" {box}/>'
