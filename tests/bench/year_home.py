"""A year to measure: 36 units, the starter's twelve units three times over, and three children."""

from __future__ import annotations

import re
from pathlib import Path

STARTER = Path(__file__).parents[2] / "units"
UNITS = 36
MORE = ("handwriting", "sound-boxes", "dictation")  # beside the kinds the starter makes
LEARNERS = """learners:
  - code: wren
    at: 1
    forms: {forms}
  - code: moss
    at: 1
    forms: {forms}
    left-handed: yes
  - code: fern
    at: 1
    forms: {forms}
"""


def write_year(home: Path, *, forms: int = 1, more: tuple[str, ...] = ()) -> Path:
    """Return the folder, filled: the starter's kinds and `more`, `forms` forms of practice pages for each child."""
    units = home / "units"
    units.mkdir(parents=True)
    files = sorted(STARTER.glob("[0-9]*.yaml"))
    for number in range(1, UNITS + 1):
        text = files[(number - 1) % len(files)].read_text(encoding="utf-8")
        text = re.sub(r"^unit: \d+$", f"unit: {number}", text, count=1, flags=re.M)
        (units / f"{number:02d}.yaml").write_text(text, encoding="utf-8")
    sequence = (STARTER / "sequence.yaml").read_text(encoding="utf-8")
    kinds = "".join(f"  - {kind}\n" for kind in more)
    (units / "sequence.yaml").write_text(sequence.replace("kinds:\n", f"kinds:\n{kinds}", 1), encoding="utf-8")
    (units / "learners.yaml").write_text(LEARNERS.format(forms=forms), encoding="utf-8")
    return home
