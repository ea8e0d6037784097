"""The letters of a word taught by heart that do not follow what was taught."""

from __future__ import annotations

from kitbuilder.phonics.alignment import Segment
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.reading_path import find_path, sounded
from kitbuilder.phonics.teaching import Taught

Span = tuple[int, int]


def irregular_letters(word: str, taught: Taught, lexicon: Lexicon) -> tuple[Span, ...]:
    """The letters to mark, as (start, end) spans in order, neighbours joined; all of an unknown word.

    Of a team with a silent letter only the silent part is marked when the rest was taught: the w of wrong.
    """
    key = word.lower().replace("\u2019", "'")
    entry = lexicon.get(key)
    pronunciations = entry.pronunciations if entry else ()
    found = (find_path(sounded(key, sounds, lexicon), taught, lexicon) for sounds in pronunciations)
    paths = [path for path in found if path]
    if not paths:
        return ((0, len(word)),)
    best = min(paths, key=lambda path: len(path.untaught))
    spans = [span for segment in best.untaught for span in _odd_letters(segment, taught)]
    return _joined(sorted(spans))


def _odd_letters(segment: Segment, taught: Taught) -> tuple[Span, ...]:
    grapheme, start, end = segment.grapheme, segment.start, segment.end
    if segment.tail is not None:
        if (grapheme[0], segment.phoneme) in taught.covered:
            return ((segment.tail, segment.tail + 1),)
        return ((start, end), (segment.tail, segment.tail + 1))
    for cut in range(len(grapheme) - 1, 0, -1):
        if (grapheme[:cut], segment.phoneme) in taught.covered:
            return ((start + cut, end),)
        if (grapheme[-cut:], segment.phoneme) in taught.covered:
            return ((start, end - cut),)
    return ((start, end),)


def _joined(spans: list[Span]) -> tuple[Span, ...]:
    joined: list[Span] = []
    for start, end in spans:
        if joined and joined[-1][1] == start:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    return tuple(joined)
