"""Measured, not promised: a term's page for more and more children. Run with: pytest -m bench -s tests/browser"""

from __future__ import annotations

import shutil
from pathlib import Path
from time import perf_counter
from typing import Any

import pytest

from kitbuilder.build import plan_pack, read_family
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.export.preview import write_preview
from kitbuilder.request import Request

UNITS = Path(__file__).parents[2] / "units"
SCROLL = """
    const done = arguments[0], times = [];
    let last = performance.now();
    function step() {
      const now = performance.now();
      times.push(now - last);
      last = now;
      if (times.length > 300) {
        times.sort((a, b) => a - b);
        return done([times[150], times[285], times[300]].map(Math.round));
      }
      scrollBy({ top: 150, behavior: 'instant' });
      requestAnimationFrame(step);
    }
    requestAnimationFrame(step);
"""


@pytest.mark.bench
@pytest.mark.parametrize("children", [2, 5])
def test_a_terms_page(reader: Any, tmp_path: Path, children: int) -> None:
    shutil.copytree(UNITS, tmp_path / "units")
    rows = "".join(f"  - code: child{n}\n    at: 1\n    forms: 2\n" for n in range(children))
    (tmp_path / "units" / "learners.yaml").write_text(f"learners:\n{rows}", encoding="utf-8")
    asked = Request(tmp_path, 1, 12)
    family = read_family(asked, ProblemLog())
    plan = plan_pack(family, asked)
    page = tmp_path / "preview.html"
    start = perf_counter()
    write_preview(plan, family.home.press, page)
    written = perf_counter() - start
    for width, height in ((1280, 900), (390, 844)):
        loads = []
        for _ in range(3):
            reader.open(page, width=width, height=height)
            loads.append(round(reader.run("return performance.getEntriesByType('navigation')[0].loadEventEnd")))
        frames = reader.driver.execute_async_script(SCROLL)
        print(
            f"\n{sum(len(r.sheets) for r in plan.runs)} sheets, {page.stat().st_size / 1e6:.1f} MB, "
            f"written in {written:.2f} s; {width} px: opens in {loads} ms, "
            f"scrolls at {frames} ms a frame (half, 95 %, worst)"
        )
