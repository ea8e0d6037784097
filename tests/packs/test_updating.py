"""`reprint --updated` prints today's version of a piece, says what differs, and never guesses."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.build import read_family
from kitbuilder.diagnostics import ProblemLog, ProblemsFound
from kitbuilder.export.pack_folder import WrittenPack
from kitbuilder.load.pack import read_pack
from kitbuilder.pick import Choice
from kitbuilder.request import Request
from kitbuilder.updating import Updated, plan_updated

Week = Callable[..., WrittenPack]
Family = Callable[..., Path]


def today(pack: WrittenPack, root: Path, choice: Choice) -> Updated:
    family = read_family(Request(root), ProblemLog())
    return plan_updated(read_pack(pack.folder), choice, family, lambda name: None)


def edit(root: Path, old: str, new: str) -> None:
    path = root / "units" / "01.yaml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_an_unchanged_unit_gives_the_same_pieces(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    found = today(pack, root, Choice(kinds=("letter-card", "booklet")))
    assert all(line.endswith("is the same") for line in found.differences)
    old = {r["id"] for r in pack.manifest["pieces"] if r["kind"] in ("letter-card", "booklet")}
    assert {f.id for f in found.reprint.plan.flats} == {i for i in old if not i[-1].isdigit() or "." in i}


def test_a_changed_keyword_is_told_and_printed(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    edit(root, "d as in door", "d as in duck")
    found = today(pack, root, Choice(kinds=("letter-card",)))
    changed = [line for line in found.differences if "is now" in line]
    assert len(changed) == 1
    assert "'door'" in changed[0]
    assert "'duck'" in changed[0]
    backs = {t.text for f in found.reprint.plan.flats if f.back for t in f.back.items if hasattr(t, "text")}
    assert "duck" in backs
    assert "door" not in backs


def test_a_piece_that_is_gone_is_told(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    edit(root, "  - The din did nod.\n", "")
    found = today(pack, root, Choice(kinds=("sentence-strip",)))
    assert [line for line in found.differences if line.endswith("is not made any more")]
    assert len(found.reprint.plan.flats) == 1


def test_when_nothing_is_left_it_is_a_problem(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    (root / "units" / "01.yaml").write_text("unit: 1\n", encoding="utf-8")
    with pytest.raises(ProblemsFound, match="none of these pieces"):
        today(pack, root, Choice(kinds=("booklet",)))
