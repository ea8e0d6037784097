"""Flip books: a base with slots, and a stack of leaves for each; nothing that should not come up can come up."""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm, small_format
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import stop
from kitbuilder.measure.format import Format
from kitbuilder.phonics.flip_sets import LEAST_SLOTS, MOST_SLOTS, FlipJudge, FlipSet, flip_set

NOTE_MM = 16.0  # below the slots
WIDEST_LEAF_MM = 46.0
LEAF_CLEAR_MM = 3.0
LEAST_LEAF_MM = 20.0
BINDING_MM = 9.0  # what the edge that is held takes beside the keep-clear margin
LARGEST_PT, LEAST_PT = 72.0, 26.0
SHOWN = 24  # made-up words named on the base
MOST_COMBINATIONS = 4_096


def compose_flip_books(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the base and the leaves, slot by slot, top leaf first; nothing when nothing could be turned."""
    chosen = _chosen(job, sources)
    if chosen is None or len(chosen.words) + len(chosen.made_up) < 2:
        return ()
    edge = _edge(job)
    base = job.format if edge == "top" else job.wide_format
    slots = _slots(job, base, len(chosen.leaves), edge)
    made = SetMaker(job, faces)
    made.add("flip-base", "base", {"slots": slots, "edge": edge, "note": _note(chosen, edge)}, page=base, colour="base")
    leaf = small_format(slots[0]["width"], slots[0]["height"], LEAF_CLEAR_MM)
    room = clear_size_mm(leaf)[0] - (0 if edge == "top" else BINDING_MM)
    size = made.common_size([letters for stack in chosen.leaves for letters in stack], room, LARGEST_PT, LEAST_PT)
    for number, stack in enumerate(chosen.leaves, 1):
        for letters in stack:
            scope = {"letters": letters, "edge": edge, "size": size, "stack": number}
            made.add("flip-leaf", f"stack {number}: {letters}", scope, page=leaf, colour=f"stack {number}")
    return made.done


def _edge(job: Job) -> str:
    """Return where leaves are held: top, left, or right for a left-handed child."""
    if job.options["edge"] == "top":
        return "top"
    return "right" if job.learner and job.learner.left_handed else "left"


def _chosen(job: Job, sources: Sources) -> FlipSet | None:
    written = job.options["letters"]
    if not written:
        most = int(job.options["leaves"])
        return flip_set(sources.reader, job.unit.unit, int(job.options["slots"]), most, job.seed)
    leaves = tuple(tuple(dict.fromkeys(str(slot).lower().split())) for slot in written)
    combinations = 1
    for slot in leaves:
        combinations *= len(slot)
    if not LEAST_SLOTS <= len(leaves) <= MOST_SLOTS or not 0 < combinations <= MOST_COMBINATIONS:
        raise stop(
            f"the flip book's letters are for {len(leaves)} slots and {combinations} combinations",
            "bad-option",
            f"write letters for {LEAST_SLOTS} to {MOST_SLOTS} slots, such as [c b h, a i, t n g]",
            job.asked_at,
        )
    found = FlipJudge(sources.reader, job.unit.unit).sorted_out(leaves)
    if found.bad:
        raise stop(_told_bad(found), "bad-combination", _way_out(found), getattr(written[0], "location", job.asked_at))
    return found


def _told_bad(found: FlipSet) -> str:
    shown = "; ".join(why for _, why in found.bad[:6])
    more = f"; and {len(found.bad) - 6} more" if len(found.bad) > 6 else ""
    return f"the flip book's letters can make what should not be read: {shown}{more}"


def _way_out(found: FlipSet) -> str:
    """Return which leaf to leave out: the one in most of the bad combinations, for the fewest good ones."""
    good = {*found.words, *found.made_up}
    counted: list[tuple[int, int, int, str]] = []
    for slot, stack in enumerate(found.leaves):
        for letters in stack:
            rest = (*found.leaves[:slot], (letters,), *found.leaves[slot + 1 :])
            texts = _combined(rest)
            kept = sum(text in good for text in texts)
            counted.append((len(texts) - kept, -kept, slot, letters))
    bad, _, slot, letters = max(counted, key=lambda one: (one[0], one[1], -one[2], one[3]))
    return f"{letters!r} in slot {slot + 1} is in {bad} of them: leave it out, or let the engine choose the letters"


def _combined(leaves: tuple[tuple[str, ...], ...]) -> tuple[str, ...]:
    texts: tuple[str, ...] = ("",)
    for stack in leaves:
        texts = tuple(text + letters for text in texts for letters in stack)
    return texts


def _slots(job: Job, base: Format, count: int, edge: str) -> tuple[dict[str, Any], ...]:
    """Return the slots on the base in millimetres. At the side a turned leaf needs room beside its slot."""
    left, top = base.keep_clear.left.to_mm(), base.keep_clear.top.to_mm()
    width, height = clear_size_mm(base)
    height -= NOTE_MM
    share = width / count
    wide = min(WIDEST_LEAF_MM, share if edge == "top" else share / 2)
    if wide < LEAST_LEAF_MM or height < LEAST_LEAF_MM:
        raise stop(
            f"{count} slots do not fit on a base of {base.trim}",
            "does-not-fit",
            "give flip-book a larger size, fewer slots, or 'edge: top'",
            job.asked_at,
        )
    step = wide if edge == "top" else 2 * wide
    start = left + (width - step * count) / 2 + (wide if edge == "left" else 0)
    return tuple({"x": start + step * i, "y": top, "width": wide, "height": height} for i in range(count))


def _note(chosen: FlipSet, edge: str) -> str:
    where = "along its top" if edge == "top" else f"along its {edge} edge"
    note = (
        f"A grown-up staples each stack {where}, the first leaf of a stack on top. "
        f"{len(chosen.words)} real words can come up"
    )
    if not chosen.made_up:
        return note + "."
    shown = ", ".join(chosen.made_up[:SHOWN]) + (" ..." if len(chosen.made_up) > SHOWN else "")
    return f"{note}, and made up: {shown}."
