"""The sound that a keyword gives a grapheme: "o as in otter"."""

from __future__ import annotations

import math
from collections.abc import Iterator

from kitbuilder.phonics.alignment import CostOf, Segment, best_paths
from kitbuilder.phonics.correspondences import Correspondence, Row, load_table
from kitbuilder.phonics.lexicon import Entry, Lexicon
from kitbuilder.phonics.merging import sounds_alike
from kitbuilder.phonics.two_way import load_readings
from kitbuilder.remembering import remembered

_ASKED_COST = 3.0  # nats; a team that the unit asks for wins over the same letters apart


class KeywordProblem(ValueError):
    """A keyword that gives no one sound: `message` says what was found, `hint` what to do."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


@remembered(1024)  # a unit sheet asks for all keywords so far, unit after unit
def sound_of(grapheme: str, keyword: str, lexicon: Lexicon) -> tuple[Correspondence, str | None]:
    """The correspondence that the keyword shows, and a warning when its sound is untypical (else None).

    A keyword that begins with the grapheme shows the sound it begins with (e as in elephant). Raises KeywordProblem.
    """
    grapheme, word = grapheme.lower().replace("-", "_"), keyword.lower().replace("\u2019", "'")
    if not _letters_are_there(grapheme, word):
        raise KeywordProblem(f"“{keyword}” has no {grapheme} in it", _other_keyword(grapheme))
    entry = lexicon.get(word)
    if entry is None:
        raise KeywordProblem(
            f"“{keyword}” is not in the list of words", f"{_other_keyword(grapheme)}, or add {keyword} with its sounds"
        )
    found = list(dict.fromkeys(_shown(grapheme, word, entry)))
    if not found:
        raise KeywordProblem(_cut_otherwise(grapheme, keyword, entry), _other_keyword(grapheme))
    sounds = _different([segment.phoneme for segment in found])
    if len(sounds) > 1:
        raise KeywordProblem(_several(grapheme, keyword, sounds, entry), _other_keyword(grapheme))
    segment = found[0]
    return segment.correspondence, _warning(segment, word)


def _letters_are_there(grapheme: str, word: str) -> bool:
    vowel, split, tail = grapheme.partition("_")
    if not split:
        return bool(grapheme) and grapheme in word
    return vowel in word and tail in word[word.index(vowel) + 1 :]


def _shown(grapheme: str, word: str, entry: Entry) -> Iterator[Segment]:
    """The segments of that grapheme, of each pronunciation: the first only when the word begins with it."""
    for sounds in entry.pronunciations:
        paths = best_paths(word, sounds, 1, load_table(), _preferring(grapheme))
        segments = [segment for path in paths for segment in path.segments if segment.grapheme == grapheme]
        yield from segments[:1] if segments and segments[0].start == 0 else segments


def _preferring(grapheme: str) -> CostOf:
    """Costs under which a team that only a unit asks for is used when it is this grapheme."""

    def cost_of(row: Row, start: int, end: int) -> float:
        if row.place != "asked":
            return row.cost
        return _ASKED_COST if row.correspondence.grapheme == grapheme else math.inf

    return cost_of


def _different(sounds: list[str]) -> tuple[str, ...]:
    """The sounds without those that merge with one before them."""
    kept: list[str] = []
    for sound in sounds:
        if not any(sounds_alike((sound,), (other,)) for other in kept):
            kept.append(sound)
    return tuple(kept)


def _cut_otherwise(grapheme: str, keyword: str, entry: Entry) -> str:
    parts = " ".join(segment.grapheme for segment in entry.alignments[0].segments) if entry.alignments else ""
    return f"in “{keyword}” {grapheme} makes no sound of its own: it is read {parts}"


def _several(grapheme: str, keyword: str, sounds: tuple[str, ...], entry: Entry) -> str:
    if entry.two_way:
        phrases = " and ".join(f"“{reading.phrase}”" for reading in load_readings()[keyword.lower()])
        return f"“{keyword}” is two words in the same letters, as in {phrases}"
    examples = " and ".join(_example(grapheme, sound) for sound in sounds)
    return f"in “{keyword}” {grapheme} has more than one sound: {examples}"


def _example(grapheme: str, sound: str) -> str:
    row = load_table().row(Correspondence(grapheme, sound))
    return f"{sound} (as in {row.example})" if row and row.example != "-" else sound


def _other_keyword(grapheme: str) -> str:
    """What to write instead, with keywords from the table."""
    table = load_table()
    rows = table.split.get(grapheme[0], ()) if "_" in grapheme else table.whole.get(grapheme, ())
    clear = [row for row in sorted(rows, key=_by_cost) if row.correspondence.phoneme != "AX"]
    examples = [row.example for row in clear if row.example != "-"]
    if not examples:
        return "choose a keyword in which these letters make one clear sound"
    return "write, for example, " + " or ".join(f"“{grapheme} as in {example}”" for example in examples[:3])


def _by_cost(row: Row) -> float:
    return row.cost


def _warning(segment: Segment, word: str) -> str | None:
    """Why the sound in this word is not the clear one, from the letters round it (common practice, no source)."""
    after = word[segment.end : segment.end + 1]
    link = segment.correspondence
    if link.phoneme == "AX":
        return f"the {link.grapheme} of “{word}” is unstressed and unclear; choose a word in which it is stressed"
    if link.grapheme in ("a", "i", "e") and link.phoneme in ("AE", "IH", "EH"):
        if word.startswith(("ng", "nk"), segment.end):
            return f"before ng and nk {link.grapheme} is not clear in “{word}”; choose a word without them"
        if link.grapheme == "a" and after in ("n", "m"):
            return f"before n and m many people say a differently, as in “{word}”; a word such as cat shows it better"
    if link.grapheme in ("t", "d") and after == "r":
        return f"before r {link.grapheme} sounds a little like {'ch' if link.grapheme == 't' else 'j'} in “{word}”"
    if link.grapheme in ("a", "e", "i", "o", "u") and after in ("l", "r") and segment.end + 1 >= len(word) - 1:
        return f"before {after} {link.grapheme} is coloured in “{word}”; choose a word in which another letter follows"
    if link == Correspondence("x", "Z"):
        return f"x in “{word}” is said z; its usual sound is that of six"
    return None
