"""The way a child who was taught some things gets from a word's letters to its sounds, and what stops them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from kitbuilder.phonics.alignment import Segment, best_paths
from kitbuilder.phonics.correspondences import Row, load_table
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.merging import is_coloured, reads_as_short
from kitbuilder.phonics.shapes import COMPOUND, accepts, compound_parts, compound_seam, shape_of_segments
from kitbuilder.phonics.suffixes import DOUBLING, DROP_E, Y_TO_I, SuffixUse, suffix_uses
from kitbuilder.phonics.teaching import Taught

_UNTAUGHT = 12.0  # nats for each segment that was not taught: one such costs more than any odd but taught way round it
_TAUGHT_SHARE = 0.05  # of a taught row's own cost: taught ways are told apart, but never lose to an untaught one
_APART = 8.0  # nats for a vowel apart from its r: the missing thing is the team of the two (bear needs ear)

Allows = Callable[[str, str, int, int], bool]
"""Whether a grapheme for a phoneme at these letters can be read."""


@dataclass(frozen=True, slots=True)
class Sounded:
    """A word with one of its pronunciations, every way to take suffixes off it, and where its shortest stem ends.

    seam: where a doubled letter begins that is two words' own (cannot), None where there is none.
    """

    word: str
    pronunciation: tuple[str, ...]
    suffixes: tuple[tuple[SuffixUse, ...], ...]
    stem_end: int
    seam: int | None = None

    def is_seam(self, segment_start: int, segment_end: int) -> bool:
        """Whether these letters are the two in which the words of a compound meet."""
        return segment_start == self.seam and segment_end == segment_start + 2


@dataclass(frozen=True, slots=True)
class Path:
    """One reading of a word: its segments, those that were not taught, and the shape that was not (None if it was)."""

    item: Sounded
    segments: tuple[Segment, ...]
    untaught: tuple[Segment, ...]
    untaught_shape: str | None

    @property
    def is_open(self) -> bool:
        """True when nothing stops the child."""
        return not self.untaught and self.untaught_shape is None

    @property
    def lacks(self) -> int:
        """How many things stop the child."""
        return len(self.untaught) + (self.untaught_shape is not None)


def sounded(word: str, pronunciation: tuple[str, ...], lexicon: Lexicon) -> Sounded:
    """The word (lower case) with what the lexicon knows of its suffixes."""
    ways = suffix_uses(word, pronunciation, lexicon)
    stem_end = min((use.start for uses in ways for use in uses), default=len(word))
    return Sounded(word, pronunciation, ways, stem_end, compound_seam(word, pronunciation, lexicon))


def find_path(item: Sounded, taught: Taught, lexicon: Lexicon) -> Path | None:
    """The path with the least untaught in it; None when the letters cannot give the sounds at all."""
    allows = reads(item, taught, lexicon)
    table = load_table()

    def cost_of(row: Row, start: int, end: int) -> float:
        link = row.correspondence
        if allows(link.grapheme, link.phoneme, start, end):
            return row.cost * _TAUGHT_SHARE
        if row.place == "asked":
            return math.inf
        coloured = is_coloured(item.word, link.grapheme, link.phoneme, end)
        return _UNTAUGHT + row.cost + (_APART if coloured else 0.0)

    found = best_paths(item.word, item.pronunciation, 1, table, cost_of)
    if not found:
        return None
    segments = found[0].segments
    untaught = tuple(s for s in segments if not allows(s.grapheme, s.phoneme, s.start, s.end))
    return Path(item, segments, untaught, untaught_shape(item, segments, taught, lexicon))


def reads(item: Sounded, taught: Taught, lexicon: Lexicon) -> Allows:
    """What can be read in this word: taught correspondences and suffixes, and what taught rules make of the stem."""
    covered = taught.covered
    suffix_start, joined = len(item.word), set[tuple[str, str, int]]()
    for use in (use for uses in _known(item, taught) for use in uses):
        suffix_start = min(suffix_start, use.start)
        if use.rule is None or use.rule in taught.spelling_rules:
            joined.update(_joints(use, covered, lexicon))

    parted = item.seam is not None and (not taught.shapes or COMPOUND in taught.shapes)

    def allows(grapheme: str, phoneme: str, start: int, end: int) -> bool:
        if start >= suffix_start or (grapheme, phoneme, start) in joined:
            return True
        if parted and item.is_seam(start, end) and (grapheme[0], phoneme) in covered:
            return True
        if is_coloured(item.word, grapheme, phoneme, end):
            return False
        return (grapheme, phoneme) in covered or (
            end - start == 1 and start < item.stem_end and reads_as_short(item.word, start, end, phoneme, covered)
        )

    return allows


def _known(item: Sounded, taught: Taught) -> list[tuple[SuffixUse, ...]]:
    """The ways to take suffixes off of which every suffix was taught, whatever the rule that joined it."""
    return [uses for uses in item.suffixes if all(use.suffix in taught.suffixes for use in uses)]


def _joints(use: SuffixUse, covered: frozenset[tuple[str, str]], lexicon: Lexicon) -> set[tuple[str, str, int]]:
    """What a rule lets a child read where stem and suffix meet: (grapheme, phoneme, first letter)."""
    found: set[tuple[str, str, int]] = set()
    if use.rule == DOUBLING:
        last = use.stem[-1]
        at = use.start - 2
        found.update((last * 2, phoneme, at) for grapheme, phoneme in covered if grapheme == last)
    elif use.rule == Y_TO_I:
        found.update(("i", phoneme, use.start - 1) for grapheme, phoneme in covered if grapheme == "y")
    elif use.rule == DROP_E or use.stem.endswith("e"):
        entry = lexicon.get(use.stem)
        for segment in (s for alignment in entry.alignments for s in alignment.segments) if entry else ():
            if (segment.grapheme, segment.phoneme) not in covered:
                continue
            if segment.tail == len(use.stem) - 1 or (segment.end == len(use.stem) and segment.grapheme[-1] == "e"):
                found.add(
                    (segment.grapheme[:1] if segment.tail else segment.grapheme[:-1], segment.phoneme, segment.start)
                )
    return found


def untaught_shape(item: Sounded, segments: tuple[Segment, ...], taught: Taught, lexicon: Lexicon) -> str | None:
    """The shape that was not taught, else None: a suffix adds no shape, a compound is as hard as its parts."""
    if not taught.shapes:
        return None
    shape = shape_of_segments(segments)
    if accepts(taught.shapes, shape):
        return None
    best = shape
    known = _known(item, taught)
    for uses in item.suffixes:
        if uses in known:
            start = min(use.start for use in uses)
            stem = shape_of_segments([segment for segment in segments if segment.start < start])
            if accepts(taught.shapes, stem):
                return None
            best = stem
    parts = compound_parts(item.word, item.pronunciation, lexicon)
    if not parts:
        return best
    if COMPOUND not in taught.shapes:
        return COMPOUND
    cut = len(parts[0])
    for half in ([s for s in segments if s.start < cut], [s for s in segments if s.start >= cut]):
        part_shape = shape_of_segments(half)
        if not accepts(taught.shapes, part_shape):
            return part_shape
    return None
