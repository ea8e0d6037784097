"""Booklets folded on paper that is only imagined: which page does a reader meet first, and is it upright?

A flat that folds once has two panels, each with a page before and a page behind. Nested flats are read from the
outermost front inward on one side of the fold, and back outward on the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from judge_paper import Area, covered, point_on_page


@dataclass(frozen=True)
class Panel:
    """A page on a side of a flat, the flat turned so that its fold stands upright: left or right of the fold."""

    page: int
    right: bool
    turns: int


def reading_problems(rows: list[dict[str, Any]]) -> list[str]:
    """Return what is wrong with the order and the turn of the pages of one booklet; `rows` are its flats in order."""
    name = rows[0]["piece"]
    numbers = sorted(p["page"] for row in rows for p in row["pages"])
    if numbers != list(range(1, len(numbers) + 1)):
        return [f"{name}: pages are numbered {numbers}"]
    outside = [problem for row in rows for problem in _outside(row)]
    if outside:
        return outside
    per_side = {sum(p["side"] == side for p in row["pages"]) for row in rows for side in ("front", "back")}
    if per_side == {8, 0} and len(rows) == 1:
        return _slit_problems(rows[0])
    if per_side <= {0, 1}:
        return _leaf_problems(rows)
    if per_side == {2}:
        return _nest_problems(rows)
    return [f"{name}: no way is known to fold flats with {sorted(per_side)} pages a side"]


def _outside(row: dict[str, Any]) -> list[str]:
    flat = Area(0, 0, row["width_um"], row["height_um"])
    areas = [(p["side"], covered(p["width_um"], p["height_um"], p)) for p in row["pages"]]
    wrong = [f"{row['id']}: a page lies outside its flat" for _, area in areas if not flat.holds(area, 0)]
    for i, (side, area) in enumerate(areas):
        if any(s == side and area.shared(a) > 0 for s, a in areas[:i]):
            wrong.append(f"{row['id']}: two pages lie on one another on the {side}")
    return wrong


def _leaf_problems(rows: list[dict[str, Any]]) -> list[str]:
    """Single leaves: front, then the back of the same leaf, leaf after leaf."""
    order = [p["page"] for row in rows for p in sorted(row["pages"], key=lambda p: p["side"] != "front")]
    upside = [p["page"] for row in rows for p in row["pages"] if p["quarter_turns"] % 4]
    wrong = [] if order == sorted(order) else [f"{rows[0]['piece']}: leaves read {order}"]
    return wrong + ([f"{rows[0]['piece']}: pages {upside} do not stand upright"] if upside else [])


def _nest_problems(rows: list[dict[str, Any]]) -> list[str]:
    binding = rows[0].get("binding") or "left"
    best: str = ""
    for turns in range(4):  # one of these makes the fold stand upright and the pages of a side-bound booklet too
        front, back = [], []
        for row in rows:
            front.append(_panels(row, "front", turns))
            back.append(_panels(row, "back", -turns))  # seen from behind, the same turn of the paper goes the other way
        if any(p is None for p in (*front, *back)):
            continue
        for bound_on_right in (False, True):
            read = _read(front, back, bound_on_right)
            order = [panel.page for panel in read]
            stand = {panel.turns for panel in read}
            if len(stand) == 1 and order == sorted(order):
                found = _bound_at(stand.pop(), bound_on_right)
                if found == binding:
                    return []
                best = f"{rows[0]['piece']}: is bound on the {found}, not on the {binding}" if found else best
            elif not best and stand == {0} and bound_on_right == (binding == "right"):
                best = f"{rows[0]['piece']}: a reader meets the pages in the order {order}"
    return [best or f"{rows[0]['piece']}: folded, the pages do not all stand the same way up"]


def _bound_at(turns: int, bound_on_right: bool) -> str:
    """Return the edge of an upright page that lies at the fold; empty when seen upside down: another turn shows it."""
    if turns in (0, 2):
        return "" if turns else "right" if bound_on_right else "left"
    return "top" if (turns == 3) == bound_on_right else "bottom"


def _panels(row: dict[str, Any], side: str, turns: int) -> tuple[Panel, Panel] | None:
    """Return the left and the right page of a side after turning the flat; None when they do not lie side by side."""
    width, height = row["width_um"], row["height_um"]
    whole = {"x_um": 0, "y_um": 0, "quarter_turns": turns % 4}
    centre = covered(width, height, whole)
    middle = complex((centre.left + centre.right) / 2, (centre.top + centre.bottom) / 2)
    panels = []
    for page in row["pages"]:
        if page["side"] == side:
            area = covered(page["width_um"], page["height_um"], page)
            at = (
                point_on_page((area.left + area.right) / 2, (area.top + area.bottom) / 2, width, height, whole) - middle
            )
            if abs(at.real) <= abs(at.imag):
                return None
            panels.append(Panel(page["page"], at.real > 0, (page["quarter_turns"] + turns) % 4))
    panels.sort(key=lambda panel: panel.right)
    if [panel.right for panel in panels] != [False, True]:
        return None
    return panels[0], panels[1]


def _read(front: list[Any], back: list[Any], bound_on_right: bool) -> list[Panel]:
    """Return the panels in reading order, fronts folded outward.

    A flat lies in the fold of the last one before it whose pages lie on either side of all of its own; a flat that lies
    in none begins a section: what was read so far comes first.
    """
    cover, other = (0, 1) if bound_on_right else (1, 0)
    spans = [sorted(panel.page for panel in (*f, *b)) for f, b in zip(front, back, strict=True)]

    def read(first: int, end: int) -> list[Panel]:
        if first == end:
            return []
        inner_end = first + 1
        while inner_end < end and spans[first][1] < spans[inner_end][0] and spans[inner_end][-1] < spans[first][2]:
            inner_end += 1
        f, b = front[first], back[first]
        return [f[cover], b[other], *read(first + 1, inner_end), b[cover], f[other], *read(inner_end, end)]

    return read(0, len(front))


def _slit_problems(row: dict[str, Any]) -> list[str]:
    """One sheet, four pages wide and two high, one slit along the middle: fold the long way, push, fold round.

    After the long fold the upper row hangs behind the lower one, upside down. The ends pushed together, the middle
    opens to a cross whose four arms are pairs of neighbours; folded round, one reads along the lower row's end,
    then the upper row from that end to the other, then back along the lower row. Upright: lower row 0, upper row 2.
    """
    width, height = row["width_um"] / 4, row["height_um"] / 2
    grid: dict[tuple[int, int], dict[str, Any]] = {}
    for page in row["pages"]:
        area = covered(page["width_um"], page["height_um"], page)
        grid[round(area.top / height), round(area.left / width)] = page
    if sorted(grid) != [(r, c) for r in (0, 1) for c in range(4)]:
        return [f"{row['id']}: pages are not in two rows of four"]
    left_bound = [(1, 3), (0, 3), (0, 2), (0, 1), (0, 0), (1, 0), (1, 1), (1, 2)]
    path = [(r, 3 - c) for r, c in left_bound] if row.get("binding") == "right" else left_bound
    order = [grid[cell]["page"] for cell in path]
    wrong = [] if order == sorted(order) else [f"{row['piece']}: a reader meets the pages in the order {order}"]
    turned = sorted(p["page"] for (r, _), p in grid.items() if p["quarter_turns"] % 4 != (2 if r == 0 else 0))
    return wrong + ([f"{row['piece']}: pages {turned} do not stand upright"] if turned else [])
