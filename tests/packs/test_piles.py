"""Piles off the trimmer are sets in order: read from real manifests, by nothing but their rows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from itertools import groupby
from pathlib import Path
from typing import Any

import pypdfium2 as pdfium
import pytest

from kitbuilder.artwork.shipped import shipped
from kitbuilder.export.pack_folder import WrittenPack

Week = Callable[..., WrittenPack]
Row = Mapping[str, Any]


@pytest.fixture(scope="module")
def starter() -> Path:
    return shipped("units").parent


def piles_of(manifest: Mapping[str, Any]) -> dict[str, list[Row]]:
    """Return the rows of each pile from top to bottom."""
    piles: dict[str, list[Row]] = defaultdict(list)
    for row in manifest["pieces"]:
        piles[row["pile"]].append(row)
    return {name: sorted(rows, key=lambda r: r["depth"]) for name, rows in piles.items()}


@pytest.mark.parametrize(("first", "last"), [(3, None), (1, 6)])
def test_each_pile_holds_its_sets_one_after_the_other_in_order(
    week: Week, starter: Path, first: int, last: int | None
) -> None:
    manifest = week(starter, first, last).manifest
    order = {row["id"]: at for at, row in enumerate(manifest["pieces"])}
    told = {pile["id"]: pile["holds"] for pile in manifest["piles"]}
    for name, rows in piles_of(manifest).items():
        real = [row for row in rows if row["role"] == "piece"]
        sets = [key for key, _ in groupby(row["set"] for row in real)]
        assert len(sets) == len(set(sets)), f"{name}: a set is broken up by another one"
        if not all(row["division"] for row in real):
            places = [order[row["id"]] for row in real]
            assert places == sorted(places), f"{name}: not in the order of the set"
        assert set(sets) <= set(told[name]), name


def test_most_piles_of_a_term_belong_to_one_set(week: Week, starter: Path) -> None:
    manifest = week(starter, 1, 12).manifest
    piles = [rows for rows in piles_of(manifest).values() if not rows[0]["division"]]
    single = sum(len({row["set"] for row in rows if row["role"] == "piece"}) <= 1 for rows in piles)
    assert single >= len(piles) // 2, f"{single} of {len(piles)} piles hold one set"


LEARNERS = "learners:\n  - code: wren\n    at: 1\n  - code: moss\n    at: 2\n"


def test_a_childs_page_says_whose_it_is_and_what_the_family_keeps_does_not(
    family: Callable[..., Path], week: Week
) -> None:
    pack = week(family(learners=LEARNERS, **{"02": "unit: 2\n"}), learners=("wren", "moss"))
    for row in pack.manifest["pieces"]:
        page = pdfium.PdfDocument(pack.folder / pack.manifest["files"][row["front"]["file"]]["path"])
        said = page[row["front"]["page"] - 1].get_textpage().get_text_bounded()
        if row["learner"] and row["kind"] != "booklet":
            assert f"{row['id']} {row['learner']}" in said
        elif not row["learner"]:
            assert not any(f"{row['id']} {code}" in said for code in ("wren", "moss"))


def test_every_child_that_is_named_gets_the_unit(family: Callable[..., Path], week: Week) -> None:
    root = family(learners=LEARNERS, **{"02": "unit: 2\n"})
    for named, expected in (((), {"wren"}), (("wren", "moss"), {"wren", "moss"}), (("moss",), {"moss"})):
        pack = week(root, learners=named, replace=True)
        assert {row["learner"] for row in pack.manifest["pieces"] if not row["durable"]} == expected
