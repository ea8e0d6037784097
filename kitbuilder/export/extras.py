"""What a pack holds beside its print files: the guide to follow and the preview to look at."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from kitbuilder.export.guide_html import guide_html
from kitbuilder.export.ink import measure_ink
from kitbuilder.export.prep_guide import write_prep_guide
from kitbuilder.export.preview import write_preview
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.model.press import Press
from kitbuilder.prep.evenings import evenings
from kitbuilder.prep.prepare import prepare

GUIDE, PREVIEW = "prep-guide.pdf", "preview.html"


@dataclass(frozen=True, slots=True)
class Extras:
    """How guide and preview are written. `kinds` are titles by kind; `sitting` minutes split the work when given."""

    press: Press
    font_files: Callable[[str], Path]
    bitmaps: Mapping[str, bytes] = field(default_factory=dict)
    kinds: Mapping[str, str] = field(default_factory=dict)
    sitting: int | None = None

    def write(self, plan: PackPlan, folder: Path) -> None:
        """Write both into the pack's folder, where the print files already lie."""
        ink = measure_ink(folder, [file.name for file in plan.files])
        prep = prepare(plan, self.press, ink, kinds=self.kinds or None)
        sittings = evenings(prep, self.sitting) if self.sitting else ()
        write_prep_guide(prep, plan, self.press, self.font_files, folder / GUIDE, sittings)
        write_preview(
            plan,
            self.press,
            folder / PREVIEW,
            guide_html=guide_html(prep, plan, self.font_files, sittings),
            bitmaps=self.bitmaps,
            font_files=self.font_files,
            kinds=self.kinds or None,
        )
