"""What stops a child at a word, each with the first later unit that removes it, and how a parent is told."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from kitbuilder.phonics.alignment import Segment
from kitbuilder.phonics.correspondences import Correspondence, load_table
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.reading_path import Path, find_path, reads, untaught_shape
from kitbuilder.phonics.shapes import COMPOUND, compound_parts
from kitbuilder.phonics.suffixes import DOUBLING, DROP_E, Y_TO_I, SuffixUse
from kitbuilder.phonics.teaching import Taught

_NEVER = 10**9  # later than any unit
_TOLD = "the ending "
_JOINED = {
    DOUBLING: ", with the letter doubled",
    DROP_E: ", with the e dropped",
    Y_TO_I: ", with y turned into i",
}

Uses = tuple[SuffixUse, ...]
State = Callable[[int], Taught]
"""What is taught after a unit."""


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing a word needs that was not taught yet; `unit` is the later unit that teaches it, None when none does.

    For a missing shape grapheme and phoneme are empty and `shape` names it. For a missing ending they are its letters
    and all its sounds (ing, IH.NG), and `told` is how a parent is told: "the ending -ing, with the letter doubled".
    """

    grapheme: str
    phoneme: str
    unit: int | None
    shape: str | None = None
    told: str | None = None


class Reasons:
    """Finds what is missing, for one sequence of teaching. units: in ascending order."""

    def __init__(self, lexicon: Lexicon, units: Sequence[int], taught: State) -> None:
        self._lexicon, self._units, self._taught = lexicon, tuple(units), taught
        self._granted: dict[tuple[int, Uses], Taught] = {}

    def of(self, path: Path, taught: Taught) -> tuple[Path, tuple[Missing, ...]]:
        """What stops the child on a path that is not open, and the path by which it is told.

        A missing ending is told as one thing, unless the word can be read earlier without it.
        """
        missing = self._missing(path, taught.unit, self._taught)
        best = path
        if any(thing.unit is None for thing in missing) and (way := self._later_way(path, taught)):
            best, missing = way, self._missing(way, taught.unit, self._taught)
        usual = sorted(path.item.suffixes, key=self._rarity)  # stepped is step, not steppe
        endings = [found for uses in usual if (found := self._by_ending(path, uses, taught))]
        ended = min(endings, key=lambda found: (_readable_from(found[1]), len(found[1])), default=None)
        return ended if ended and _readable_from(ended[1]) <= _readable_from(missing) else (best, missing)

    def later(self, unit: int) -> tuple[int, ...]:
        """The units after a unit."""
        return tuple(later for later in self._units if later > unit)

    def possessive(self, phoneme: str, unit: int) -> Missing:
        """An apostrophe and s that were not taught."""
        return Missing(
            "'s", phoneme, first(self.later(unit), lambda at: "-s" in self._taught(at).suffixes), None, _TOLD + "'s"
        )

    def _missing(self, path: Path, unit: int, state: State) -> tuple[Missing, ...]:
        """What stops the child, judged by what a state of teaching lets them read in later units."""
        missing: list[Missing] = []
        for segment in path.untaught:
            when = self._first_reading(path, segment, unit, state)
            if path.item.is_seam(segment.start, segment.end):
                missing += self._at_seam(path, segment, unit, when, state)
            else:
                missing.append(Missing(segment.grapheme, segment.phoneme, when))
        if path.untaught_shape and all(thing.shape != path.untaught_shape for thing in missing):
            when = self._first_shape(path, unit, state)
            missing.append(Missing("", "", when, path.untaught_shape, self._parts_told(path, path.untaught_shape)))
        return tuple(dict.fromkeys(missing))

    def _at_seam(self, path: Path, segment: Segment, unit: int, when: int | None, state: State) -> Iterator[Missing]:
        """What a doubled letter in which two words meet needs: its single one and compounds, unless it is taught."""
        by_itself = when is not None and (segment.grapheme, segment.phoneme) in state(when).covered
        if by_itself:
            yield Missing(segment.grapheme, segment.phoneme, when)
            return
        single = (segment.grapheme[0], segment.phoneme)
        if single not in state(unit).covered:
            yield Missing(*single, first(self.later(unit), lambda at: single in state(at).covered))
        if state(unit).shapes and COMPOUND not in state(unit).shapes:
            when = first(self.later(unit), lambda at: COMPOUND in state(at).shapes)
            yield Missing("", "", when, COMPOUND, self._parts_told(path, COMPOUND))

    def _parts_told(self, path: Path, shape: str) -> str | None:
        """A compound with the words it is made of; None for other shapes."""
        parts = compound_parts(path.item.word, path.item.pronunciation, self._lexicon) if shape == COMPOUND else None
        return f"the shape compound: {' + '.join(parts)}" if parts else None

    def _first_reading(self, path: Path, segment: Segment, unit: int, state: State) -> int | None:
        def can_read(later: int) -> bool:
            allows = reads(path.item, state(later), self._lexicon)
            return allows(segment.grapheme, segment.phoneme, segment.start, segment.end)

        return first(self.later(unit), can_read)

    def _first_shape(self, path: Path, unit: int, state: State) -> int | None:
        def accepts(later: int) -> bool:
            return untaught_shape(path.item, path.segments, state(later), self._lexicon) is None

        return first(self.later(unit), accepts)

    def _later_way(self, path: Path, taught: Taught) -> Path | None:
        """The way by which the whole sequence reads the word, judged now; None when it never does (nk for n and k)."""
        later = self.later(taught.unit)
        way = find_path(path.item, self._taught(later[-1]), self._lexicon) if later else None
        if not way or not way.is_open:
            return None
        allows = reads(path.item, taught, self._lexicon)
        untaught = tuple(s for s in way.segments if not allows(s.grapheme, s.phoneme, s.start, s.end))
        shape = untaught_shape(path.item, way.segments, taught, self._lexicon)
        return Path(path.item, way.segments, untaught, shape)

    def _by_ending(self, plain: Path, uses: Uses, taught: Taught) -> tuple[Path, tuple[Missing, ...]] | None:
        """The path and what is missing when the word is a stem with these suffixes; None where that changes nothing."""
        path = find_path(plain.item, self._grant(taught, uses), self._lexicon)
        if not path:
            return None
        lacking = [use for use in reversed(uses) if not self._has_ending(path, use, taught)]
        joined = any(use.rule and self._at_joint(path, use) for use in lacking)
        helps = joined or (path.untaught, path.untaught_shape) != (plain.untaught, plain.untaught_shape)
        if not lacking or not helps:
            return None
        by_heart = len(uses) == 1 and uses[0].rule is None and uses[0].stem in taught.irregular
        needs = () if by_heart else self._missing(path, taught.unit, lambda unit: self._grant(self._taught(unit), uses))
        ends = (*(use.start for use in uses[:-1][::-1]), len(path.item.word))
        endings = [
            self._ending(path, use, end, taught.unit)
            for use, end in zip(reversed(uses), ends, strict=True)
            if use in lacking
        ]
        return path, (*(self._as_in_stem(thing, path, uses) for thing in needs), *endings)

    def _rarity(self, uses: Uses) -> float:
        """How seldom the stem is met, as a key to sort by."""
        entry = self._lexicon.get(uses[-1].stem)
        return -entry.frequency if entry else 0.0

    def _grant(self, taught: Taught, uses: Uses) -> Taught:
        """What is taught, and these suffixes with their rules."""
        key = (taught.unit, tuple(replace(use, stem="", start=0) for use in uses))
        if key not in self._granted:
            rules = frozenset(use.rule for use in uses if use.rule)
            self._granted[key] = replace(
                taught,
                suffixes=taught.suffixes | {use.suffix for use in uses},
                spelling_rules=taught.spelling_rules | rules,
            )
        return self._granted[key]

    def _ending(self, path: Path, use: SuffixUse, end: int, unit: int) -> Missing:
        letters = path.item.word[use.start : end]
        sounds = ".".join(segment.phoneme for segment in path.segments if use.start <= segment.start < end)
        when = first(self.later(unit), lambda at: self._has_ending(path, use, self._taught(at)))
        told = _TOLD + (letters if letters.startswith("'") else f"-{letters}")
        by_rule = use.rule and not self._reads_joint(path, use, self._taught(unit if when is None else when))
        return Missing(letters, sounds, when, None, told + _JOINED[use.rule] if use.rule and by_rule else told)

    def _has_ending(self, path: Path, use: SuffixUse, taught: Taught) -> bool:
        """Whether a child can read where stem and suffix meet, and the suffix; a rule is not always needed (giving)."""
        if use.suffix not in taught.suffixes:
            return False
        return use.rule is None or use.rule in taught.spelling_rules or self._reads_joint(path, use, taught)

    def _reads_joint(self, path: Path, use: SuffixUse, taught: Taught) -> bool:
        """Whether what stands where they meet can be read as it is, whatever the stem has."""
        return all((s.grapheme, s.phoneme) in taught.covered for s, _ in self._at_joint(path, use))

    def _at_joint(self, path: Path, use: SuffixUse) -> list[tuple[Segment, str]]:
        """The segments that the suffix changed, each with the grapheme it is in the stem."""
        entry = self._lexicon.get(use.stem)
        stem = [segment for alignment in entry.alignments for segment in alignment.segments] if entry else []
        found = []
        for segment in (one for one in path.segments if one.start < use.start):
            graphemes = [s.grapheme for s in stem if (s.start, s.phoneme) == (segment.start, segment.phoneme)]
            if graphemes and segment.grapheme not in graphemes:
                found.append((segment, graphemes[0]))
        return found

    def _as_in_stem(self, thing: Missing, path: Path, uses: Uses) -> Missing:
        """A missing grapheme as the stem has it, where a rule makes it readable: making needs a_e, running n."""
        if thing.unit is not None and (thing.grapheme, thing.phoneme) in self._taught(thing.unit).covered:
            return thing
        for use in uses:
            for segment, grapheme in self._at_joint(path, use) if use.rule else ():
                if (segment.grapheme, segment.phoneme) == (thing.grapheme, thing.phoneme):
                    return replace(thing, grapheme=grapheme)
        return thing


def first(units: Sequence[int], is_so: Callable[[int], bool]) -> int | None:
    """The first unit of which something is so, None when it never is: once so it stays so, for nothing is untaught."""
    if not units or not is_so(units[-1]):
        return None
    return units[bisect_left(units, True, key=is_so)]


def needs(missing: Sequence[Missing]) -> str:
    """The missing things as a parent reads them."""
    return "needs " + ", ".join(_told(missing))


def _told(missing: Sequence[Missing]) -> Iterator[str]:
    for thing in missing:
        when = f"unit {thing.unit}" if thing.unit is not None else "no unit teaches it"
        if thing.told:
            yield f"{thing.told} ({when})"
        elif thing.shape:
            yield f"the shape {thing.shape} ({when})"
        else:
            row = load_table().row(Correspondence(thing.grapheme, thing.phoneme))
            example = f"as in {row.example}" if row and row.example != "-" else f"saying {thing.phoneme}"
            yield f"{thing.grapheme} {example} ({when})"


def _readable_from(missing: Sequence[Missing]) -> int:
    """The unit at which nothing is missing any more."""
    return max((_NEVER if thing.unit is None else thing.unit for thing in missing), default=0)
