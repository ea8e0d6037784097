"""What one file cannot know alone: numbers used twice, children beyond the sequence, pieces larger than the paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from kitbuilder.diagnostics import Location, ProblemLog
from kitbuilder.load.located_yaml import Mapping
from kitbuilder.measure.geometry import Size
from kitbuilder.measure.paper import PAPERS
from kitbuilder.model.home import number_ranges
from kitbuilder.model.learners import Learner
from kitbuilder.model.press import Press
from kitbuilder.model.stock import LabelGrid
from kitbuilder.model.text import place_of
from kitbuilder.model.unit import Unit


def check_unit_numbers(units: Iterable[Unit], log: ProblemLog) -> None:
    """Note units that share a number."""
    first: dict[int, Unit] = {}
    for unit in units:
        earlier = first.setdefault(unit.unit, unit)
        if earlier is not unit:
            log.add(
                f"unit {unit.unit} is also in {earlier.file}",
                "duplicate-unit",
                "give one of them another number, or delete the file that is not wanted",
                unit.location,
            )


def check_learners(learners: Sequence[Learner], units: Sequence[Unit], log: ProblemLog) -> None:
    """Note codes used twice and children at a unit that is not there."""
    numbers = tuple(unit.unit for unit in units)
    seen: set[str] = set()
    for learner in learners:
        if learner.code in seen:
            hint = "give each child a code of their own"
            log.add(f"the code '{learner.code}' is used twice", "duplicate-learner", hint, learner.code.location)
        seen.add(learner.code)
        if learner.at not in numbers:
            log.add(
                f"'{learner.code}' is at unit {learner.at}, which is not there",
                "no-such-unit",
                f"the units here are {number_ranges(numbers)}",
                learner.location,
            )


def check_press(press: Press, log: ProblemLog) -> None:
    """Note a paper that the printer does not have, and edges that leave nothing of it."""
    papers = press.printer.papers
    if papers and press.paper.strip().lower() not in {paper.strip().lower() for paper in papers}:
        log.add(
            f"the printer has no paper '{press.paper}'",
            "paper-not-there",
            f"write one of {', '.join(papers)}, or add it to the printer's papers",
            press.paper.location,
        )
    edges, size = press.printer.edges, press.size
    across, down = (edges.left + edges.right).um, (edges.top + edges.bottom).um
    if 2 * across >= size.width.um or 2 * down >= size.height.um:
        hint = "look at the edges and at the paper"
        log.add(f"the printer's edges leave too little of {size}", "edges-too-wide", hint, press.printer.location)
    for stock in press.stocks:
        if stock.labels and not _labels_fit(stock.labels, size):
            log.add(
                f"the labels of '{stock.name}' reach beyond the paper ({size})",
                "labels-beyond-paper",
                "measure the label sheet again: width, height, gaps, and the distance of the first label from the "
                "left and the top edge; or set the paper to the size of the label sheet",
                stock.labels.location or stock.location,
            )


def _labels_fit(grid: LabelGrid, sheet: Size) -> bool:
    across = grid.left_um + grid.right * grid.width_um + (grid.right - 1) * grid.gap_right_um
    down = grid.top_um + grid.down * grid.height_um + (grid.down - 1) * grid.gap_down_um
    return across <= sheet.width.um and down <= sheet.height.um


def check_sizes(units: Iterable[Unit], press: Press, nodes: dict[str, Mapping], log: ProblemLog) -> None:
    """Note sizes asked for that no way round fit the sheet."""
    sheet = press.size
    for unit in units:
        for kind, material in unit.materials:
            if material.size and not _fits(material.size, sheet):
                name = press.paper if press.paper.strip().lower() in PAPERS else "the paper"
                log.add(
                    f"'{kind}' is {material.size}, larger than {name} ({sheet})",
                    "larger-than-paper",
                    "write a smaller size, or another paper in press.yaml",
                    _size_place(nodes, unit, kind) or material.location,
                )


def _fits(size: Size, sheet: Size) -> bool:
    return any(s.width <= sheet.width and s.height <= sheet.height for s in (size, size.turned()))


def _size_place(nodes: dict[str, Mapping], unit: Unit, kind: str) -> Location | None:
    value: object = nodes.get(unit.file)
    for key in ("materials", kind, "size"):
        value = value.get(key) if isinstance(value, Mapping) else None
    return place_of(value)
