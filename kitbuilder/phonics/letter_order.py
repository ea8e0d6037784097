"""An order of teaching graphemes, computed from the words that it opens to a child.

Nothing here knows a ready-made order: it comes out of a search over orders under the constraints of `OrderOptions`.
The search values an order by the sum, over its steps, of log(1 + worth of all words readable by then). The logarithm
makes doubling a short list count as much as doubling a long one, so early steps weigh most.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

VOWELS = ("a", "e", "i", "o", "u")
# Consonants whose sound can be held, so that a first blend can be sung (fricatives, nasals, liquids).
STRETCHABLE = ("f", "l", "m", "n", "r", "s", "v", "z")
SINGLE = (*VOWELS, *"bcdfghjklmnprstvwxyz", "qu")
TEAMS = ("ck", "ff", "ll", "ss", "zz", "sh", "ch", "th", "ng")


def _pairs(text: str) -> tuple[tuple[str, str], ...]:
    return tuple((one, other) for one, _, other in (pair.partition("-") for pair in text.split()))


# Pairs that children take for one another: letters that are each other's mirror image, turned or nearly so (look),
# and sounds that differ in voicing, in one place of articulation or by one step on the vowel chart (sound).
LOOK_ALIKE = _pairs("b-d b-p d-p p-qu m-n n-u h-n m-w v-w")
SOUND_ALIKE = _pairs("e-i e-u a-e a-o a-u o-u f-v s-z d-t c-g g-k f-th ch-sh ch-j n-ng m-ng")
# A letter team looks new only to a child who already knows its letters alone.
AFTER = {"qu": ("u",), **{team: tuple(sorted(set(team))) for team in TEAMS}}


@dataclass(frozen=True, slots=True)
class OrderWord:
    """A word, its graphemes, and what reading it is worth (any positive number)."""

    word: str
    graphemes: tuple[str, ...]
    worth: float


@dataclass(frozen=True, slots=True)
class OrderOptions:
    """What an order must respect; positions count from 1, one grapheme a step."""

    graphemes: tuple[str, ...] = (*SINGLE, *TEAMS)
    start: tuple[str, ...] = ()  # a family's fixed beginning, kept even where it breaks the constraints
    vowels: tuple[str, ...] = VOWELS
    vowel_by: int = 2
    stretchable: tuple[str, ...] = STRETCHABLE
    stretchable_first: tuple[int, int] = (2, 5)  # two of the first five graphemes
    alike: tuple[tuple[str, str], ...] = (*LOOK_ALIKE, *SOUND_ALIKE)
    apart: int = 4  # so that no unit of three holds two that are alike
    after: tuple[tuple[str, tuple[str, ...]], ...] = tuple(sorted(AFTER.items()))
    width: int = 300  # orders kept at each step of the search


@dataclass(frozen=True, slots=True)
class Step:
    """One grapheme of an order, the words it opens (most worth first) and how many can be read by then."""

    position: int
    grapheme: str
    unlocked: tuple[str, ...]
    readable: int


class NoOrderError(ValueError):
    """No order respects the constraints; the message says at which step the search got stuck."""


@dataclass(frozen=True, slots=True)
class _Path:
    value: float
    placed: tuple[int, ...]  # indices into options.graphemes
    taught: int  # the same as a set of bits
    worth: float


@dataclass(slots=True)
class _Search:
    options: OrderOptions
    masks: tuple[tuple[int, float], ...]  # a set of graphemes as bits, the worth of all words made of just these
    foes: dict[int, frozenset[int]] = field(default_factory=dict)
    needs: dict[int, int] = field(default_factory=dict)

    def gains(self, taught: int) -> dict[int, float]:
        """The worth that each grapheme, taught next, opens: words that lack only this one."""
        gains: dict[int, float] = defaultdict(float)
        for mask, worth in self.masks:
            lacking = mask & ~taught
            if lacking and not lacking & (lacking - 1):
                gains[lacking] += worth
        return gains

    def allowed(self, path: _Path, index: int) -> bool:
        bit = 1 << index
        if path.taught & bit or self.needs.get(index, 0) & ~path.taught:
            return False
        recent = path.placed[-(self.options.apart - 1) :] if self.options.apart > 1 else ()
        return not self.foes.get(index, frozenset()).intersection(recent)

    def early_enough(self, placed: tuple[int, ...]) -> bool:
        options, count = self.options, len(placed)
        names = [options.graphemes[index] for index in placed]
        vowels = sum(name in options.vowels for name in names)
        wanted, within = options.stretchable_first
        still = max(0, within - count)
        held = sum(name in options.stretchable for name in names[:within])
        return (vowels > 0 or count < options.vowel_by) and held + still >= wanted

    def grow(self, path: _Path, fixed: int | None) -> Iterable[_Path]:
        gains = self.gains(path.taught)
        choices = range(len(self.options.graphemes)) if fixed is None else (fixed,)
        for index in choices:
            placed = (*path.placed, index)
            if fixed is None and not (self.allowed(path, index) and self.early_enough(placed)):
                continue
            worth = path.worth + gains.get(1 << index, 0.0)
            yield _Path(path.value + math.log1p(worth), placed, path.taught | 1 << index, worth)


def _search(words: Sequence[OrderWord], options: OrderOptions) -> _Search:
    place = {grapheme: index for index, grapheme in enumerate(options.graphemes)}
    by_mask: dict[int, float] = defaultdict(float)
    for word in words:
        if all(grapheme in place for grapheme in word.graphemes):
            by_mask[sum({1 << place[grapheme] for grapheme in word.graphemes})] += word.worth
    foes: dict[int, set[int]] = defaultdict(set)
    for one, other in options.alike:
        if one in place and other in place:
            foes[place[one]].add(place[other])
            foes[place[other]].add(place[one])
    needs = {
        place[team]: sum(1 << place[letter] for letter in letters if letter in place)
        for team, letters in options.after
        if team in place
    }
    return _Search(options, tuple(sorted(by_mask.items())), {one: frozenset(all_) for one, all_ in foes.items()}, needs)


def order(words: Sequence[OrderWord], options: OrderOptions | None = None) -> tuple[Step, ...]:
    """The best order found for these words, one step a grapheme.

    A beam search: of two beginnings that teach the same graphemes and end alike only the better one goes on. Ties fall
    to the order of `options.graphemes`. Raises NoOrderError where the constraints leave no order.
    """
    options = options or OrderOptions()
    place = {grapheme: index for index, grapheme in enumerate(options.graphemes)}
    unknown = [grapheme for grapheme in options.start if grapheme not in place]
    if unknown:
        raise NoOrderError(f"the fixed beginning names {', '.join(unknown)}, which is not among the graphemes to order")
    search = _search(words, options)
    paths = [_Path(0.0, (), 0, 0.0)]
    for step in range(len(options.graphemes)):
        fixed = place[options.start[step]] if step < len(options.start) else None
        best: dict[tuple[int, tuple[int, ...]], _Path] = {}
        for path in paths:
            for grown in search.grow(path, fixed):
                state = (grown.taught, grown.placed[-(options.apart - 1) :] if options.apart > 1 else ())
                if state not in best or (-grown.value, grown.placed) < (-best[state].value, best[state].placed):
                    best[state] = grown
        paths = sorted(best.values(), key=lambda path: (-round(path.value, 9), path.placed))[: options.width]
        if not paths:
            raise NoOrderError(f"after {step} graphemes none keeps what is alike {options.apart} steps apart")
    return steps_of([options.graphemes[index] for index in paths[0].placed], words)


def steps_of(graphemes: Sequence[str], words: Sequence[OrderWord]) -> tuple[Step, ...]:
    """The steps of a given order, with the words that each opens; what `order` found, or a family's own to look at."""
    position = {grapheme: index for index, grapheme in enumerate(graphemes)}
    opened: dict[int, list[OrderWord]] = defaultdict(list)
    for word in words:
        if all(grapheme in position for grapheme in word.graphemes):
            opened[max(position[grapheme] for grapheme in word.graphemes)].append(word)
    steps, readable = [], 0
    for index, grapheme in enumerate(graphemes):
        new = sorted(opened[index], key=lambda word: (-word.worth, word.word))
        readable += len(new)
        steps.append(Step(index + 1, grapheme, tuple(word.word for word in new), readable))
    return tuple(steps)


def units_of(
    steps: Sequence[Step],
    units: int,
    sizes: tuple[int, int] = (2, 4),
    alike: Sequence[tuple[str, str]] = (*LOOK_ALIKE, *SOUND_ALIKE),
) -> tuple[tuple[Step, ...], ...]:
    """The steps cut into this many units, so that the units' new words are shared out as evenly as can be.

    Of all cuttings into units of `sizes` (fewest, most) with no alike pair inside one, the one with the largest sum of
    log(1 + new words of the unit), exactly; of equals the one with the longer units first. Raises NoOrderError where
    there is none.
    """
    pairs = {frozenset(pair) for pair in alike}

    def fits(first: int, last: int) -> bool:
        names = [step.grapheme for step in steps[first:last]]
        return all(frozenset((one, other)) not in pairs for at, one in enumerate(names) for other in names[at + 1 :])

    best: dict[tuple[int, int], tuple[float, tuple[int, ...]]] = {(0, 0): (0.0, ())}  # (units, steps used): worth, ends
    for unit in range(1, units + 1):
        for end in range(1, len(steps) + 1):
            for first in range(max(0, end - sizes[1]), end - sizes[0] + 1):
                before = best.get((unit - 1, first))
                if before is None or not fits(first, end):
                    continue
                new = math.log1p(sum(len(step.unlocked) for step in steps[first:end]))
                grown = (round(before[0] + new, 9), (*before[1], end))
                if (unit, end) not in best or grown > best[unit, end]:
                    best[unit, end] = grown
    found = best.get((units, len(steps)))
    if found is None:
        raise NoOrderError(f"{len(steps)} graphemes cannot be cut into {units} units of {sizes[0]} to {sizes[1]}")
    ends = (0, *found[1])
    return tuple(tuple(steps[first:last]) for first, last in itertools.pairwise(ends))
