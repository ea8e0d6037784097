"""Whole packs, judged by a reader that shares no code with the writer."""

from __future__ import annotations

import gzip
import json
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.artwork.shipped import shipped
from kitbuilder.export.pack_folder import WrittenPack

Week = Callable[..., WrittenPack]
Family = Callable[..., Path]
Judge = Callable[[Path], list[str]]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("sides", ["long", "short", "by-hand"])
def test_a_week_is_right_on_every_paper_and_every_way_of_printing_backs(
    family: Family, week: Week, judge_pack: Judge, paper: str, sides: str
) -> None:
    pack = week(family(paper, sides))
    assert judge_pack(pack.folder) == []
    rows = pack.manifest["pieces"]
    assert {row["kind"] for row in rows} >= {"letter-card", "letter-tile", "sentence-strip", "fluency-grid", "booklet"}
    assert {file["paper"] for file in pack.manifest["files"]} == {paper}
    expected = {"long": "long-edge", "short": "short-edge", "by-hand": "by-hand-fronts"}[sides]
    booklets = [row for row in rows if row["kind"] == "booklet"]
    assert {pack.manifest["files"][row["front"]["file"]]["two_sided"] for row in booklets} == {expected}
    assert len(booklets) == 2, "eight pages of a quarter sheet are two folded halves"


def test_the_starter_term_is_right(week: Week, judge_pack: Judge) -> None:
    pack = week(shipped("units").parent, 1, 4)
    assert judge_pack(pack.folder) == []
    assert {row["unit"] for row in pack.manifest["pieces"]} == {1, 2, 3, 4}


def test_every_print_file_is_sound(family: Family, week: Week) -> None:
    """qpdf checks the file's structure; it comes with Debian's package of that name."""
    qpdf = shutil.which("qpdf")
    assert qpdf, "install qpdf: apt-get install qpdf (brew install qpdf, choco install qpdf)"
    for file in sorted(week(family()).folder.glob("*.pdf")):
        done = subprocess.run([qpdf, "--check", str(file)], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout + done.stderr


def test_the_same_folder_gives_the_same_bytes(family: Family, week: Week, tmp_path: Path) -> None:
    root = family()
    first = week(root).folder
    kept = tmp_path / "kept"
    shutil.copytree(first, kept)
    second = week(root, replace=True).folder
    for path in sorted(p for p in kept.rglob("*") if p.is_file()):
        assert path.read_bytes() == (second / path.relative_to(kept)).read_bytes(), path.name


def test_another_seed_changes_choices_and_says_so(family: Family, week: Week) -> None:
    root = family()
    one, other = week(root), week(root, seed=8, only=("fluency-grid",))
    grid = [r["text"]["front"] for r in one.manifest["pieces"] if r["kind"] == "fluency-grid"]
    assert grid != [r["text"]["front"] for r in other.manifest["pieces"]]
    assert (one.manifest["seed"], other.manifest["seed"]) == (7, 8)


def test_a_pack_with_other_pieces_is_never_written_over(family: Family, week: Week) -> None:
    root = family()
    first = week(root)
    again = week(root)
    assert again.folder == first.folder
    before = (first.folder / "manifest.json").read_bytes()
    unit = root / "units" / "01.yaml"
    unit.write_text(unit.read_text(encoding="utf-8").replace("Nod, Odd.", "In, Odd."), encoding="utf-8")
    second = week(root)
    assert second.folder.name == "week-01-2"
    assert "kept" in second.note
    assert (first.folder / "manifest.json").read_bytes() == before
    assert week(root, replace=True).folder == first.folder


def test_a_partial_run_has_a_name_of_its_own(family: Family, week: Week) -> None:
    assert week(family(), only=("letter-card",)).folder.name == "week-01-letter-card"
    assert week(family(), durable=False).folder.name == "week-01-consumable"


def test_nothing_is_left_behind_when_a_run_dies(
    family: Family, week: Week, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = family()
    old = week(root).folder
    before = {p.name: p.read_bytes() for p in old.iterdir() if p.is_file()}
    from kitbuilder.export import pack_folder

    def dies(*args: object, **kwargs: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(pack_folder, "write_drawings", dies)
    with pytest.raises(KeyboardInterrupt):
        week(root, replace=True)
    assert {p.name: p.read_bytes() for p in old.iterdir() if p.is_file()} == before
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == ["week-01"]


def test_drawings_hold_every_flat_once(family: Family, week: Week) -> None:
    pack = week(family())
    text = gzip.decompress((pack.folder / "drawings.json.gz").read_bytes()).decode()
    assert json.loads(text.splitlines()[0])["format"] == "kitbuilder-drawings"
    ids = [row["id"] for row in pack.manifest["pieces"] if row["role"] == "piece"]
    assert len(ids) == len(set(ids))
    assert all(f'"{flat}"' in text for flat in ids)


def test_sets_count_rows_and_things(family: Family, week: Week) -> None:
    manifest = week(family()).manifest
    by_id = {row["id"]: row for row in manifest["sets"]}
    booklet = next(row for row in manifest["sets"] if row["kind"] == "booklet")
    assert (booklet["pieces"], booklet["things"]) == (2, 1)
    assert {row["set"] for row in manifest["pieces"]} == set(by_id)
    for pile in manifest["piles"]:
        assert set(pile["holds"]) <= set(by_id)


def test_ids_end_in_a_letter_made_from_the_drawing(family: Family, week: Week) -> None:
    root = family()
    first = {r["id"] for r in week(root).manifest["pieces"] if r["kind"] == "booklet"}
    unit = root / "units" / "01.yaml"
    unit.write_text(unit.read_text(encoding="utf-8").replace("Did Odd nod?", "Did Odd?"), encoding="utf-8")
    second = {r["id"] for r in week(root).manifest["pieces"] if r["kind"] == "booklet"}
    assert all(i.startswith("01-BK-1") and i[7].isalpha() for i in first | second)
    assert first != second


def test_a_family_overrides_a_face_and_adds_a_kind_with_files_alone(
    family: Family, week: Week, judge_pack: Judge
) -> None:
    root = family()
    faces, kinds = root / "templates" / "faces", root / "templates" / "kinds"
    faces.mkdir(parents=True)
    kinds.mkdir(parents=True)
    shipped_face = (shipped("templates") / "faces" / "letter-card-front.yaml").read_text(encoding="utf-8")
    (faces / "letter-card-front.yaml").write_text(shipped_face.replace("item.both", "item.lower"), encoding="utf-8")
    (faces / "door-sign.yaml").write_text(
        'face: door-sign\ndraw:\n  - text: "{{ unit.title }}"\n    box: [5 mm, 5 mm, 90 mm, 30 mm]\n    size: 24 pt\n'
        '  - id: ["{{ left }}", "{{ bottom }}"]\n',
        encoding="utf-8",
    )
    (kinds / "door-sign.yaml").write_text(
        "kind: door-sign\ncode: DS\nabout: a sign for the door\nstock: card\nsize: 100 mm x 40 mm\n"
        "durable: yes\nmade-for: unit\nfront: door-sign\n",
        encoding="utf-8",
    )
    pack = week(root, only=("letter-card", "door-sign"))
    assert judge_pack(pack.folder) == []
    fronts = {r["kind"]: r["text"]["front"] for r in pack.manifest["pieces"] if r["role"] == "piece"}
    assert "Tide pools" in fronts["door-sign"]
    cards = [r["text"]["front"][0] for r in pack.manifest["pieces"] if r["kind"] == "letter-card"]
    assert set(cards) == {"n", "o", "d", "i"}


def test_a_pack_that_a_killed_run_had_moved_out_comes_back(family: Family, week: Week, tmp_path: Path) -> None:
    root = family()
    pack = week(root).folder
    before = (pack / "manifest.json").read_bytes()
    pack.rename(pack.with_name(".unfinished-old-week-01-999999999"))
    week(root, only=("letter-card",))
    assert (pack / "manifest.json").read_bytes() == before
    assert sorted(p.name for p in pack.parent.iterdir()) == ["week-01", "week-01-letter-card"]
