"""A die: the spots of its sides, and a cube to cut, fold and glue."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from kitbuilder.compose.flat_pieces import SetMaker, small_format

Spot = tuple[float, float]
# spots of a side as parts of its edge, in the usual arrangement; opposite sides make seven
SPOTS: Mapping[int, tuple[Spot, ...]] = {
    1: ((0.5, 0.5),),
    2: ((0.27, 0.27), (0.73, 0.73)),
    3: ((0.25, 0.25), (0.5, 0.5), (0.75, 0.75)),
    4: ((0.27, 0.27), (0.73, 0.27), (0.27, 0.73), (0.73, 0.73)),
    5: ((0.25, 0.25), (0.75, 0.25), (0.5, 0.5), (0.25, 0.75), (0.75, 0.75)),
    6: ((0.27, 0.22), (0.73, 0.22), (0.27, 0.5), (0.73, 0.5), (0.27, 0.78), (0.73, 0.78)),
}
# column, row and number of each square of the net: a row of four, one above and one below its second
NET = ((0, 1, 1), (1, 1, 2), (2, 1, 6), (3, 1, 5), (1, 0, 3), (1, 2, 4))
TAB_MM, SLOPE_MM = 6.0, 4.0
DIE_FORMAT = small_format(147, 116)  # a cube of 32 mm: too large for the small-parts cylinder (16 CFR 1501.4)

# where tabs stand: column, row, side of the square
_TABS = ((3, 1, "right"), (1, 0, "left"), (1, 0, "top"), (1, 0, "right"), (1, 2, "left"), (1, 2, "bottom"),
         (1, 2, "right"))  # fmt: skip
# outer edges of the net that carry no tab: they are cut straight
_PLAIN = ((0, 1, "top"), (0, 1, "bottom"), (0, 1, "left"), (2, 1, "top"), (2, 1, "bottom"), (3, 1, "top"),
          (3, 1, "bottom"))  # fmt: skip
_ENDS = {"top": ((0, 0), (1, 0)), "bottom": ((0, 1), (1, 1)), "left": ((0, 0), (0, 1)), "right": ((1, 0), (1, 1))}
_OUT = {"top": (0, -1), "bottom": (0, 1), "left": (-1, 0), "right": (1, 0)}

Fold = tuple[int, int, int, int]
Cut = tuple[float, float, float, float, float, float, float, float]


def add_die(made: SetMaker) -> None:
    """Add a die to cut out to the set."""
    squares = tuple({"column": c, "row": r, "spots": SPOTS[n]} for c, r, n in NET)
    lines = {"folds": tuple(_folds()), "cuts": tuple(_cuts())}
    made.add("die", "die", {"squares": squares, **lines}, page=DIE_FORMAT, colour="die")


def _folds() -> Iterator[Fold]:
    """Yield the lines to fold, each once, in edges: between two squares, and between a square and its tab."""
    squares = {(column, row) for column, row, _ in NET}
    shared = [
        (column, row, side)
        for column, row, _ in NET
        for side in ("right", "bottom")
        if (column + _OUT[side][0], row + _OUT[side][1]) in squares
    ]
    for column, row, side in (*shared, *_TABS):
        (ax, ay), (bx, by) = _ENDS[side]
        yield column + ax, row + ay, column + bx, row + by


def _cuts() -> Iterator[Cut]:
    """Yield the lines to cut: for both ends of x and y a number of edges and millimetres beside it."""
    for column, row, side in _PLAIN:
        (ax, ay), (bx, by) = _ENDS[side]
        yield (column + ax, 0, row + ay, 0, column + bx, 0, row + by, 0)
    for column, row, side in _TABS:
        (ax, ay), (bx, by) = _ENDS[side]
        out_x, out_y = _OUT[side]
        along_x, along_y = (bx - ax) * SLOPE_MM, (by - ay) * SLOPE_MM
        near = (column + ax, out_x * TAB_MM + along_x, row + ay, out_y * TAB_MM + along_y)
        far = (column + bx, out_x * TAB_MM - along_x, row + by, out_y * TAB_MM - along_y)
        yield (column + ax, 0, row + ay, 0, *near)
        yield (*near, *far)
        yield (*far, column + bx, 0, row + by, 0)
