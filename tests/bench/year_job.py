"""A year's batch in a process of its own, stage by stage, and its pages written by others beside it.

    python tests/bench/year_job.py run HOME OUT       the whole run: load to preview
    python tests/bench/year_job.py beside HOME        only the pages, by kitbuilder, bare reportlab and typst

Prints one line of JSON. Seconds are of the processor; for the pages, which a typesetter writes with several threads,
those of the clock are there too.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE)]

import export_job  # noqa: E402  # the checkout is found first

from kitbuilder.build import Progress, make_pack, plan_pack, read_family  # noqa: E402
from kitbuilder.diagnostics import ProblemLog  # noqa: E402
from kitbuilder.request import Request  # noqa: E402

NAMES = {"choosing": "choose", "composing": "compose", "folding": "fold", "laying out sheets": "lay out"}


class Stages:
    """Processor seconds by stage, and the peak of memory when the stage ended."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}
        self.peak_mb: dict[str, float] = {}
        self._name, self._since = "start", 0.0

    def tell(self, name: str) -> None:
        now = time.process_time()
        self.seconds[self._name] = self.seconds.get(self._name, 0) + now - self._since
        self.peak_mb[self._name] = export_job.peak_mb()
        self._name, self._since = NAMES.get(name, "write" if name.endswith(".pdf") else name), now


def planned(home: str, stages: Stages) -> tuple[Any, Any]:
    stages.tell("load")
    request = Request(Path(home), 1, 36)
    family = read_family(request, ProblemLog())
    return family, plan_pack(family, request, Progress(stages.tell))


def run(home: str, out: str) -> dict[str, Any]:
    stages = Stages()
    family, plan = planned(home, stages)
    stages.tell("write")
    written = make_pack(family, plan, Path(out), replace_old=True, progress=Progress(stages.tell))
    stages.tell("")
    manifest = written.manifest
    return {
        "pages": sum(file["pages"] for file in manifest["files"]),
        "sheets": len(manifest["sheets"]),
        "pieces": len(manifest["pieces"]),
        "seconds": stages.seconds,
        "peak_mb": stages.peak_mb,
        "folder": str(written.folder),
    }


def beside(home: str) -> dict[str, Any]:
    from kitbuilder.export.pages import print_pages

    _, plan = planned(home, Stages())
    pages = [page for file in plan.files for page in print_pages(file)]
    jobs = {"ours": export_job.ours, "bare": export_job.bare, "typst": export_job.typst}
    found: dict[str, Any] = {"pages": len(pages)}
    for name, job in jobs.items():
        write: Callable[[], bytes] = job(pages)
        clock, processor = time.perf_counter(), time.process_time()
        size = len(write())
        found[name] = {
            "clock": time.perf_counter() - clock, "processor": time.process_time() - processor, "bytes": size,
        }  # fmt: skip
    return found


def main() -> None:
    made = run(sys.argv[2], sys.argv[3]) if sys.argv[1] == "run" else beside(sys.argv[2])
    print(json.dumps(made))


if __name__ == "__main__":
    main()
