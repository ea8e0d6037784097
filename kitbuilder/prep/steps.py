"""What prep hands to the guide: the pack at a glance, what to have ready, and steps in order, all in plain words."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class StepKind(Enum):
    """What is done in a step."""

    PRINT = "print"
    RELOAD = "reload"
    CUT = "cut"
    LAMINATE = "laminate"
    FOLD = "fold"
    STAPLE = "staple"
    SORT = "sort"
    STORE = "store"


@dataclass(frozen=True, slots=True)
class Row:
    """One line to tick inside a step: a stack, a booklet, some piles, an envelope. `ids` are those of the manifest.

    `minutes` is the row's share of the step, for stopping in between; `aside` is small print behind the text.
    """

    label: str
    text: str
    ids: tuple[str, ...] = ()
    minutes: float = 0.0
    aside: str = ""


@dataclass(frozen=True, slots=True)
class StrokeLine:
    """One stroke of the blade: its number in the manifest, and where the edge stop stands, in words."""

    number: int
    setting: str


@dataclass(frozen=True, slots=True)
class CutPass:
    """Strokes done one after another on the same paper. `heading` says what is under the blade and how it lies."""

    heading: str
    strokes: tuple[StrokeLine, ...]


@dataclass(frozen=True, slots=True)
class Aside:
    """A short list beside a step that is not always needed."""

    title: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LayoutPicture:
    """The sheet with its flats, cut lines and piles, to be drawn from the plan."""

    layout: str


@dataclass(frozen=True, slots=True)
class ReloadPicture:
    """How the pile goes back: the printed side as it lies and as it goes in, and the edge that goes in first."""

    lies: str  # down | up
    goes_in: str  # down | up
    edge: str  # top | bottom

    @property
    def turned_over(self) -> bool:
        return self.lies != self.goes_in


@dataclass(frozen=True, slots=True)
class FoldPicture:
    """How a booklet is made: "saddle", "side" or "slit"; page size; where staples go, from the top, or from the left.

    `staples_um` lie along the fold, or along the bound edge, which is `binding`.
    """

    form: str
    sheets: int
    width_um: int
    height_um: int
    binding: str = "left"
    staples_um: tuple[int, ...] = ()


Picture = LayoutPicture | ReloadPicture | FoldPicture


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do and tick. `settings` pairs a word of the print window or table with what to choose there."""

    kind: StepKind
    title: str
    minutes: int
    children_may_help: bool
    number: int = 0
    settings: tuple[tuple[str, str], ...] = ()
    sentences: tuple[str, ...] = ()
    rows: tuple[Row, ...] = ()
    passes: tuple[CutPass, ...] = ()
    aside: Aside | None = None
    cautions: tuple[str, ...] = ()
    picture: Picture | None = None

    @property
    def blade(self) -> bool:
        """Tell whether a blade is out on the table."""
        return self.kind is StepKind.CUT


@dataclass(frozen=True, slots=True)
class Need:
    """Something to have ready: what, how much, and small print. `optional`: only for those who want it."""

    what: str
    amount: str
    note: str = ""
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Totals:
    """The pack in numbers. `strokes` counts every pass of the blade, stacks included."""

    sheets: int
    sides: int
    strokes: int
    booklets: int
    minutes: int


@dataclass(frozen=True, slots=True)
class Prep:
    """The whole guide as data. `contents` says what is made, for whom; `tools` what lies on the table.

    `notes` is what the plan has to say that no step says.
    """

    pack: str
    title: str
    subtitle: str
    contents: tuple[tuple[str, str], ...]
    totals: Totals
    shopping: tuple[Need, ...]
    tools: tuple[str, ...]
    steps: tuple[Step, ...]
    footing: str
    notes: tuple[str, ...] = ()

    def minutes_of(self, *kinds: StepKind) -> int:
        """Return the minutes of all steps of these kinds."""
        return sum(step.minutes for step in self.steps if step.kind in kinds)
