"""The pool of patterns that layouts are chosen from."""

from dataclasses import dataclass, field

from kitbuilder.packing.job import Frame, Job
from kitbuilder.packing.pattern import Pattern, counts_of


@dataclass(frozen=True, slots=True)
class Entry:
    """A pattern of the pool with the flats it yields by size class."""

    frame: Frame
    pattern: Pattern
    counts: tuple[int, ...]


VARIANTS = 4  # patterns kept that yield the same: they differ in strokes only


@dataclass(slots=True)
class Pool:
    """Patterns by what they yield, a few variants of each."""

    job: Job
    entries: dict[tuple[int, ...], list[Entry]] = field(default_factory=dict)

    def add(self, frame: Frame, pattern: Pattern) -> Entry | None:
        """The entry if its yield is new to the pool, else None."""
        counts = counts_of(frame, pattern, len(self.job.demands))
        if not any(counts):
            return None
        entry = Entry(frame, pattern, counts)
        known = self.entries.setdefault(counts, [])
        if len(known) < VARIANTS and entry not in known:
            known.append(entry)
        return entry if len(known) == 1 and known[0] is entry else None
