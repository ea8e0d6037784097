"""Booklets through the whole road: every size and making, on every paper, read page by page by the judge.

Sizes of pages: ISO 216 (A5, A6, A7); letter halved from 8.5 x 11 in (ANSI/ASME Y14.1 size A).
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.build import flats_of, plan_pack, read_family
from kitbuilder.diagnostics import ProblemLog, ProblemsFound
from kitbuilder.export.pack_folder import WrittenPack
from kitbuilder.request import Request

Family = Callable[..., Path]
Week = Callable[..., WrittenPack]
Judge = Callable[[Path], list[str]]

UNIT = """unit: 1
teach: [n as in nose, o as in otter, d as in door, i as in fish]
shapes: [VC, CVC]
names: [Odd]
booklets:
  - title: Nod
{settings}    pages:
{pages}materials:
  booklet:
    left-handed-binding: yes
{options}"""
LEARNERS = "learners:\n  - {code: wren, at: 1}\n  - {code: moss, at: 1, left-handed: yes}\n"


@pytest.fixture
def booklet(family: Family) -> Callable[..., Path]:
    """Return a function that makes a folder with one booklet of so many story pages for two children."""

    def make(pages: int, paper: str = "a4", sides: str = "long", options: str = "", **settings: str) -> Path:
        told = "".join(f"      - {'Nod, Odd.' if i % 2 else 'Odd did nod.'}\n" for i in range(pages))
        lines = "".join(f"    {name}: {value}\n" for name, value in settings.items())
        unit = UNIT.format(settings=lines, pages=told, options=options)
        press = f"paper: {paper}\nprinter: {{two-sided: {sides}}}\n"
        return family(**{"01": unit, "learners": LEARNERS, "press": press, "sequence": "kinds: [booklet]\n"})

    return make


def rows(pack: WrittenPack) -> list[dict]:
    return json.loads((pack.folder / "manifest.json").read_text(encoding="utf-8"))["pieces"]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("making", ["saddle", "side"])
@pytest.mark.parametrize("part", ["half", "quarter", "eighth"])
def test_every_size_and_making_folds_into_a_booklet(
    booklet: Callable[..., Path], week: Week, judge_pack: Judge, paper: str, making: str, part: str
) -> None:
    page = {"half": "A5", "quarter": "A6", "eighth": "A7"}[part] if paper == "a4" else f"{part} letter"
    pack = week(booklet(7, paper, page=page, making=making))
    assert judge_pack(pack.folder) == []
    made = rows(pack)
    count = {row["learner"]: len([p for r in made if r["learner"] == row["learner"] for p in r["pages"] or [1]])
             for row in made}  # fmt: skip
    assert set(count.values()) == {12 if making == "saddle" else 9}, "padded to fold, never padded as single leaves"
    assert {row["binding"] for row in made if row["learner"] == "moss"} == {"right"}
    sheet = (210_000, 297_000) if paper == "a4" else (215_900, 279_400)
    share = {"half": 2, "quarter": 4, "eighth": 8}[part] // (2 if making == "saddle" else 1)
    assert all(abs(row["width_um"] * row["height_um"] * share - sheet[0] * sheet[1]) < 2_000_000 for row in made)


@pytest.mark.parametrize("paper", ["a4", "letter", "legal", "a3", "tabloid", "297 mm x 210 mm"])
@pytest.mark.parametrize("pages", [1, 6])
def test_one_slit_makes_eight_pages_of_one_sheet(
    booklet: Callable[..., Path], week: Week, judge_pack: Judge, paper: str, pages: int
) -> None:
    pack = week(booklet(pages, paper, making="slit"))
    assert judge_pack(pack.folder) == []
    made = rows(pack)
    assert [len(row["pages"]) for row in made] == [8, 8]
    assert all(row["back"] is None and row["division"] == 1 for row in made)


@pytest.mark.parametrize("pages", range(1, 47))
def test_every_number_of_pages_can_be_folded(booklet: Callable[..., Path], pages: int) -> None:
    """4 to 48 pages: the story, a cover, the words, and blanks inside the covers."""
    root = booklet(pages)
    plan = plan_pack(read_family(Request(root, 1), ProblemLog()), Request(root, 1))
    for piece in plan.pieces:
        roles = [page.role for page in piece.pages]
        assert len(roles) % 4 == 0
        assert len(roles) == max(4, -(-(pages + 2) // 4) * 4)
        assert (roles[0], roles[-1]) == ("cover", "words")
        blanks = [i for i, role in enumerate(roles) if role == "blank"]
        assert all(i == 1 or i > pages for i in blanks), "a reader expects blanks inside the covers only"
    assert len(flats_of(plan.pieces, read_family(Request(root, 1), ProblemLog()).home.press)) == len(plan.flats)


@pytest.mark.parametrize(
    ("pages", "settings", "code", "says"),
    [
        (500, {}, "too-many-pages", "has 500 pages; 46 is the most"),
        (47, {}, "too-many-pages", "46 is the most"),
        (7, {"making": "slit"}, "too-many-pages", "6 is the most"),
        (3, {"page": "A9"}, "unknown-page-size", "'A9' is no size"),
        (3, {"page": "20 mm x 30 mm"}, "page-too-small", "too small to fold"),
        (3, {"page": "page"}, "larger-than-paper", "420 x 297 mm to fold is larger"),
        (3, {"page": "A6", "making": "slit"}, "not-an-eighth", "an eighth of it, 74.25 x 105 mm"),
    ],
)
def test_what_cannot_be_made_is_told_at_the_booklets_line(
    booklet: Callable[..., Path], pages: int, settings: dict[str, str], code: str, says: str
) -> None:
    root = booklet(pages, **settings)
    with pytest.raises(ProblemsFound) as found:
        plan_pack(read_family(Request(root, 1), ProblemLog()), Request(root, 1))
    problem = found.value.problems[0]
    assert problem.code == code
    assert says in problem.message
    assert problem.hint
    assert problem.location is not None
    assert problem.location.file == "units/01.yaml"
    assert problem.location.line in (6, 7), "the title or the setting below it"


def test_a_booklet_without_pages_is_told_at_its_line(booklet: Callable[..., Path]) -> None:
    root = booklet(1)
    path = root / "units" / "01.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("      - Odd did nod.\n", ""), encoding="utf-8")
    with pytest.raises(ProblemsFound) as found:
        read_family(Request(root, 1), ProblemLog())
    assert found.value.problems[0].location is not None
    assert found.value.problems[0].location.line == 7


def test_the_cover_may_be_of_another_stock(booklet: Callable[..., Path], week: Week, judge_pack: Judge) -> None:
    pack = week(booklet(14, sides="short", options="    cover-stock: card\n", page="A6"))
    assert judge_pack(pack.folder) == []
    stocks = {row["id"].rpartition(".")[2]: row["stock"] for row in rows(pack)}
    assert stocks == {"1": "card", "2": "plain", "3": "plain", "4": "plain"}
    side = week(booklet(3, options="    cover-stock: card\n", making="side"), replace=True)
    assert judge_pack(side.folder) == []
    assert sorted(row["stock"] for row in rows(side)) == ["card"] * 2 + ["plain"] * 8


def test_a_slit_booklet_has_no_cover_of_another_stock(booklet: Callable[..., Path]) -> None:
    root = booklet(3, options="    cover-stock: card\n", making="slit")
    with pytest.raises(ProblemsFound, match="cannot be of another stock"):
        plan_pack(read_family(Request(root, 1), ProblemLog()), Request(root, 1))


def test_a_thick_booklet_is_made_in_sections_and_says_so(
    booklet: Callable[..., Path], week: Week, judge_pack: Judge
) -> None:
    pack = week(booklet(42))  # 44 pages, 11 sheets: one more than a stapler closes
    assert judge_pack(pack.folder) == []
    notes = pack.manifest["notes"]
    assert len(notes) == 1, "said once, not once for each child"
    assert "Make 2 sections of 6 and 5 sheets" in notes[0]
    assert week(booklet(38), replace=True).manifest["notes"] == [], "10 sheets close"
    side = week(booklet(30, making="side"), replace=True)
    assert "32 leaves are more than a desk stapler closes" in side.manifest["notes"][0]


def test_thicker_stock_makes_sections_sooner(booklet: Callable[..., Path], week: Week) -> None:
    card = week(booklet(22, options="    stock: card\n"))  # 24 pages, 6 sheets of 0.187 mm; 10 of 0.1 mm close
    assert "Make 2 sections of 3 and 3 sheets" in card.manifest["notes"][0]


@pytest.mark.parametrize(("making", "edge"), [("side", 15_000), ("saddle", 9_000)])
def test_leaves_keep_their_bound_edge_clear(booklet: Callable[..., Path], making: str, edge: int) -> None:
    """12 to 15 mm at the side (common practice, no source); on the right for a left-handed child."""
    root = booklet(4, making=making, page="A6")
    plan = plan_pack(read_family(Request(root, 1), ProblemLog()), Request(root, 1))
    for piece in plan.pieces:
        clear = piece.format.keep_clear
        bound = clear.right if piece.learner == "moss" else clear.left
        assert bound.um == edge
        assert piece.binding == ("right" if piece.learner == "moss" else "left")
        for page in piece.pages:
            texts = [item for item in page.frame.items if hasattr(item, "text") and item.size_um > 3_000]
            left = min((t.x_um for t in texts), default=edge)
            assert left >= (9_000 if piece.learner == "moss" else edge)


def test_a_childs_words_are_never_under_18_points_on_the_smallest_page(booklet: Callable[..., Path]) -> None:
    root = booklet(5, making="slit")
    plan = plan_pack(read_family(Request(root, 1), ProblemLog()), Request(root, 1))
    sizes = [
        item.size_um
        for piece in plan.pieces
        for page in piece.pages
        for item in page.frame.items
        if hasattr(item, "read_by") and item.read_by.value == "child"
    ]
    assert min(sizes) >= 6_350, "18 pt of 1/72 in"


@pytest.mark.parametrize("handed", ["wren", "moss"])
def test_page_numbers_stand_at_the_outer_edge(booklet: Callable[..., Path], handed: str) -> None:
    root = booklet(6)
    plan = plan_pack(read_family(Request(root, 1), ProblemLog()), Request(root, 1))
    piece = next(p for p in plan.pieces if p.learner == handed)
    for number, page in enumerate(piece.pages, 1):
        shown = [i for i in page.frame.items if hasattr(i, "text") and i.text == str(number)]
        if page.role == "page":
            at_left = shown[0].x_um < page.frame.width_um // 2
            assert at_left == ((number % 2 == 0) != (handed == "moss"))
