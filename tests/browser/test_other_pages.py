"""Pages out of the ordinary: texts that try to be code, problems to mend, a term's hundreds of sheets."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from kitbuilder.artwork.frame import Frame, Text
from kitbuilder.diagnostics import Location, Problem
from kitbuilder.export.preview import write_preview

EVIL = "</script ><script>document.title='got in'</script><img src=x onerror=\"document.title='got in'\">'\"&amp;<!--"
OPENED_MS = 2_000  # how long a term's sheets may take to open


def with_text(frame: Frame, text: str) -> Frame:
    return replace(frame, items=(*frame.items, Text(1_000, 5_000, text, "Andika", 3_000)))


def test_words_that_look_like_code_stay_words(reader: Any, shown: Any, tmp_path: Path) -> None:
    plan = shown.plan

    def evil(flat: Any) -> Any:
        return replace(flat, title=EVIL, learner=EVIL, front=with_text(flat.front, EVIL))

    def sheet(each: Any) -> Any:
        placements = tuple(replace(p, flat=evil(p.flat)) for p in each.placements)
        return replace(each, placements=placements)

    def run(each: Any) -> Any:
        piles = tuple(replace(pile, envelope=EVIL) for pile in each.piles)
        return replace(each, sheets=tuple(sheet(s) for s in each.sheets), piles=piles)

    runs = tuple(run(each) for each in plan.runs)
    bad = replace(plan, title=EVIL, name=EVIL, flats=tuple(evil(f) for f in plan.flats), runs=runs)
    page = tmp_path / "evil.html"
    problem = Problem(EVIL, EVIL, EVIL, Location(EVIL, 1, 1))
    write_preview(bad, shown.family.home.press, page, problems=(problem,), warnings=(EVIL,), make_first=EVIL)
    reader.open(page)
    assert reader.run("return document.title").startswith(EVIL)
    assert reader.one("h1").text.startswith("</script >")
    reader.one("#search").send_keys("script")
    assert reader.one("#results li").text.startswith("</script >")
    reader.one("#results input").click()
    assert reader.all("img") == []
    assert reader.run("return document.scripts.length") == 2
    assert reader.complaints() == []


def test_problems_come_first_each_with_its_place_and_remedy(reader: Any, shown: Any, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    problems = (
        Problem("'copys' is no key here", "unknown-key", "did you mean 'copies'?", Location("units/03.yaml", 7, 5)),
        Problem("the card is larger than the paper", "too-large"),
    )
    write_preview(shown.plan, shown.family.home.press, page, problems=problems, warnings=("Print one sheet first.",))
    reader.open(page)
    told = reader.one(".problems").text
    assert told.startswith("2 problems to mend")
    assert "units/03.yaml:7:5 'copys' is no key here [unknown-key]" in told
    assert "did you mean 'copies'?" in told
    assert reader.run("return document.querySelector('main').firstElementChild.className") == "notice problems"
    assert "Print one sheet first." in reader.one("main").text
    assert reader.violations() == []


def test_three_hundred_sheets_open_in_two_seconds_and_answer_at_once(reader: Any, shown: Any, tmp_path: Path) -> None:
    plan, times = shown.plan, -(-300 // sum(len(run.sheets) for run in shown.plan.runs))
    # the same sheets again and again, as runs of their own: as many elements as a real term has
    runs = tuple(run for _ in range(times) for run in plan.runs)
    files = tuple(
        replace(file, run=file.run + n * len(plan.runs), name=f"{n}-{file.name}")
        for n in range(times)
        for file in plan.files
    )
    page = tmp_path / "term.html"
    write_preview(replace(plan, runs=runs, files=files), shown.family.home.press, page)
    reader.open(page)
    opened = reader.run("return performance.getEntriesByType('navigation')[0].loadEventEnd")
    assert len(reader.all("article.sheet")) >= 300
    assert 0 < opened < OPENED_MS
    answered = reader.run(
        """
        const before = performance.now();
        const search = document.getElementById('search');
        search.value = 'g';
        search.dispatchEvent(new Event('input'));
        document.querySelector('#results input').click();
        document.body.offsetHeight;
        return performance.now() - before;
        """
    )
    assert answered < 500
