"""A reprint is the same drawing, byte for byte, from the pack alone."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from kitbuilder.diagnostics import ProblemsFound
from kitbuilder.export.pack_folder import WrittenPack
from kitbuilder.export.pdf import drawing_operators
from kitbuilder.load.definitions import load_press
from kitbuilder.load.pack import read_pack
from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import mm
from kitbuilder.pick import Choice
from kitbuilder.reprint import make_reprint, plan_reprint, press_for

Week = Callable[..., WrittenPack]
Family = Callable[..., Path]
Judge = Callable[[Path], list[str]]


def again(pack: WrittenPack, root: Path, choice: Choice, *offcuts: Size) -> WrittenPack:
    read = read_pack(pack.folder)
    press = load_press(root)
    return make_reprint(read, plan_reprint(read, choice, press, offcuts), press, pack.folder.parent)


def window(pack: WrittenPack, flat: str, side: str, dpi: int = 150) -> bytes:
    """Return the pixels of a flat as its page shows them, upright, without its outermost millimetre."""
    row = next(r for r in pack.manifest["pieces"] if r["id"] == flat)
    place = row[side]
    page = pdfium.PdfDocument(pack.folder / pack.manifest["files"][place["file"]]["path"])[place["page"] - 1]
    image = page.render(scale=dpi / 72, grayscale=True).to_pil()
    turned = place["quarter_turns"] % 2
    wide, tall = (row["height_um"], row["width_um"]) if turned else (row["width_um"], row["height_um"])
    px = dpi / 25_400
    box = ((place["x_um"] + 1_000) * px, (place["y_um"] + 1_000) * px)
    size = ((wide - 2_000) * px, (tall - 2_000) * px)
    cut = image.crop((round(box[0]), round(box[1]), round(box[0]) + int(size[0]), round(box[1]) + int(size[1])))
    return bytes(cut.rotate(-90 * place["quarter_turns"], expand=True).resize((300, 400)).tobytes())


def test_every_flat_is_drawn_by_the_same_operators_after_its_unit_is_gone(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    first = read_pack(pack.folder).drawings.flats
    (root / "units" / "01.yaml").unlink()
    new = again(pack, root, Choice(units=(1,)))
    second = read_pack(new.folder).drawings.flats
    assert set(second) == set(first)
    for flat, sides in first.items():
        for one, other in zip(sides, second[flat], strict=True):
            if one is not None:
                assert other is not None
                assert drawing_operators(one) == drawing_operators(other), flat


def test_a_reprint_passes_the_judge_and_lies_where_its_manifest_says(
    family: Family, week: Week, judge_pack: Judge
) -> None:
    root = family()
    pack = week(root)
    (root / "units" / "01.yaml").write_text("unit: 1\ntitle: something else\n", encoding="utf-8")
    new = again(pack, root, Choice(kinds=("letter-card", "booklet")))
    assert judge_pack(new.folder) == []
    card = next(r["id"] for r in pack.manifest["pieces"] if r["kind"] == "letter-card")
    for side in ("front", "back"):
        old_pixels, new_pixels = window(pack, card, side), window(new, card, side)
        differing = sum(abs(a - b) > 128 for a, b in zip(old_pixels, new_pixels, strict=True))
        assert differing < len(old_pixels) // 500, "a pixel of rounding at edges is all that may differ"


def test_a_reprint_of_a_reprint_is_still_the_same(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    one = again(pack, root, Choice(kinds=("letter-card",)))
    two = again(one, root, Choice(kinds=("letter-card",)))
    assert read_pack(one.folder).drawings.flats == read_pack(two.folder).drawings.flats


def test_ids_sets_repeats_and_what_a_card_says(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    card = next(r for r in pack.manifest["pieces"] if r["kind"] == "letter-card" and r["title"] == "d")
    twice = again(pack, root, Choice(ids=(card["id"], "x2")))
    assert [r["title"] for r in twice.manifest["pieces"]] == ["d", "d"]
    assert len({r["id"] for r in twice.manifest["pieces"]}) == 2
    saying = again(pack, root, Choice(kinds=("letter-card",), saying=("d",)))
    assert [r["id"] for r in saying.manifest["pieces"]] == [card["id"]]
    whole = again(pack, root, Choice(ids=("01-LC",)))
    assert len(whole.manifest["pieces"]) == 4
    booklet = next(r for r in pack.manifest["pieces"] if r["kind"] == "booklet")
    assert len(again(pack, root, Choice(ids=(booklet["piece"],))).manifest["pieces"]) == 2


def test_offcuts_are_used_and_passed_by_the_judge(family: Family, week: Week, judge_pack: Judge) -> None:
    root = family()
    pack = week(root)
    new = again(pack, root, Choice(kinds=("letter-card",)), Size(mm(210), mm(120)), Size(mm(100), mm(150)))
    assert judge_pack(new.folder) == []
    sizes = {(s["width_um"], s["height_um"]) for s in new.manifest["sheets"]}
    assert sizes <= {(120_000, 210_000), (100_000, 150_000)}
    assert len(new.manifest["pieces"]) == 4


def test_what_was_printed_again_is_noted_and_nothing_else_of_the_pack_changes(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    before = {p.name: p.read_bytes() for p in pack.folder.iterdir() if p.is_file()}
    new = again(pack, root, Choice(kinds=("letter-card",)))
    after = {p.name: p.read_bytes() for p in pack.folder.iterdir() if p.is_file()}
    (line,) = after.pop("reprints.jsonl").decode().splitlines()
    assert after == before
    noted = json.loads(line)
    assert noted["written_to"] == new.folder.name
    assert len(noted["ids"]) == 4


@pytest.mark.parametrize("stock", ["plain", "card"])
def test_a_stock_the_press_forgot_is_printed_all_the_same(family: Family, week: Week, stock: str) -> None:
    root = family()
    unit = root / "units" / "01.yaml"
    text = unit.read_text(encoding="utf-8")
    press = "paper: a4\nstocks:\n  blue:\n    weight: 120 g\n"
    (root / "units" / "press.yaml").write_text(press, encoding="utf-8")
    unit.write_text(text + "materials:\n  letter-card:\n    stock: blue\n", encoding="utf-8")
    pack = week(root)
    (root / "units" / "press.yaml").unlink()
    new = again(pack, root, Choice(kinds=("letter-card",)))
    assert {r["stock"] for r in new.manifest["pieces"]} == {"blue"}


def test_pages_bring_the_paper_they_were_made_for_and_cards_take_what_is_loaded(
    family: Family, week: Week, judge_pack: Judge
) -> None:
    root = family()
    pack = week(root, paper="letter")
    made = read_pack(pack.folder)
    papers = {}
    for kind in ("fluency-grid", "booklet", "letter-card"):
        choice = Choice(kinds=(kind,))
        press = press_for(root, made, choice)
        papers[kind] = press.paper
        new = make_reprint(made, plan_reprint(made, choice, press), press, pack.folder.parent)
        assert judge_pack(new.folder) == []
    assert papers == {"fluency-grid": "letter", "booklet": "letter", "letter-card": "a4"}


def test_a_page_on_a_paper_it_is_no_part_of_is_a_problem_and_on_a_larger_one_a_part(
    family: Family, week: Week, judge_pack: Judge
) -> None:
    root = family()
    pack = week(root)
    made, choice = read_pack(pack.folder), Choice(kinds=("fluency-grid",))
    with pytest.raises(ProblemsFound) as found:
        plan_reprint(made, choice, press_for(root, made, choice, "letter"))
    assert {p.code for p in found.value.problems} == {"page-of-another-paper"}
    press = press_for(root, made, choice, "a3")
    new = make_reprint(made, plan_reprint(made, choice, press), press, pack.folder.parent)
    assert judge_pack(new.folder) == []


def test_replace_writes_over_another_reprint(family: Family, week: Week) -> None:
    root = family()
    pack = week(root)
    made, press = read_pack(pack.folder), load_press(root)
    folders = [
        make_reprint(
            made, plan_reprint(made, Choice(kinds=(kind,)), press), press, pack.folder.parent, replace_old=over
        ).folder.name
        for kind, over in (("letter-card", False), ("booklet", False), ("fluency-grid", True))
    ]
    assert folders == ["reprint-week-01", "reprint-week-01-2", "reprint-week-01"]


def test_a_reprint_says_how_its_pieces_are_made(family: Family, week: Week) -> None:
    """Envelope labels are glued on; the guide of a card alone has nothing to say of that."""
    root = family(sequence="kinds: [letter-card, envelope-label]\n")
    pack = week(root)
    glue = "Glue each label on the envelope of its child."
    assert glue in pack.manifest["notes"]
    assert again(pack, root, Choice(kinds=("envelope-label",))).manifest["notes"] == [glue]
    assert glue not in again(pack, root, Choice(kinds=("letter-card",))).manifest["notes"]
