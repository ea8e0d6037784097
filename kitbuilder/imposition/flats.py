"""A Flat: a rectangle that comes off the trimmer, printed on one or two sides, of one stock."""

from __future__ import annotations

from dataclasses import dataclass

from kitbuilder.artwork.frame import Frame


@dataclass(frozen=True, slots=True)
class FoldedPage:
    """Where one page of a folded piece lies on its flat, in the flat's own (unturned) coordinates of that side.

    Page numbers count from 1 in reading order. `side` is "front" or "back"; the back's coordinates are those one sees
    after turning the flat over about its vertical axis.
    """

    page: int
    side: str
    x_um: int
    y_um: int
    width_um: int
    height_um: int
    quarter_turns: int = 0


@dataclass(frozen=True, slots=True)
class Flat:
    """One rectangle to print and cut. The back is drawn as seen after turning the flat about its vertical axis."""

    id: str  # the piece's id, with ".1", ".2" behind it when the piece has several flats
    piece_id: str
    set_id: str
    kind: str
    unit: int
    learner: str | None
    order: tuple[int, ...]  # place in its set, then in its piece
    copy: int
    stock: str
    durable: bool
    width_um: int
    height_um: int
    front: Frame
    back: Frame | None
    may_turn: bool = True
    division: int = 0  # 0: packed; 1, 2, 4: laid by dividing the sheet
    colour: str = ""
    folded: tuple[FoldedPage, ...] = ()
    role: str = "piece"  # piece | spare | blank
    title: str = ""
    binding: str = "left"  # left | right | top | none: the edge that is bound, of folded pieces and binder pages
    clear_um: int = 0  # how far ink stays from the cut, at the least
    make: str = ""  # a sentence for the adult: what is done to such pieces after cutting
    cautions: tuple[str, ...] = ()  # names of the usual cautions that the kind asks for
    spares: bool = True  # False: no spares of it are laid where a sheet has room
    laminate: bool = False  # cut first, then laminated and cut again outside its edges: the layout stays as it is

    @property
    def two_sided(self) -> bool:
        return self.back is not None
