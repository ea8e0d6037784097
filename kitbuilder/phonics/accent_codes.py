"""Coded alignments of the American lexicon turned into southern English, thousands of words at a time."""

from __future__ import annotations

from collections.abc import Mapping

from kitbuilder.phonics.accents import british, british_pronunciations
from kitbuilder.phonics.alignment import Alignment, Segment
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.lexicon import Lexicon

Coded = dict[str, tuple[str, ...]]  # word -> its alignments, one character a correspondence
_FIRST_ADDED = 0x1000  # above every code of the shipped lexicon
_LONG_U = ("u", "u_e", "ue", "ew", "eu", "ui")


def british_codes(
    words: Coded, links: Mapping[str, Correspondence], lexicon: Lexicon
) -> tuple[Coded, dict[str, Correspondence]]:
    """The same words in southern English, and the codes with those added that American does not need."""
    codes = {link: code for code, link in links.items()}

    def code_of(link: Correspondence) -> str:
        return codes.setdefault(link, chr(_FIRST_ADDED + len(codes)))

    plain = {ord(code): code_of(_alone(link)) for code, link in links.items()}
    by_word = frozenset(code for code, link in links.items() if _depends_on_word(link))
    listed = british_pronunciations()
    changed: Coded = {}
    for word, alignments in words.items():
        entry = lexicon.get(word) if word in listed else None
        if entry:
            ways = [[code_of(s.correspondence) for s in alignment.segments] for alignment in entry.alignments]
            changed[word] = tuple("".join(way) for way in ways)
        elif any(not by_word.isdisjoint(coded) for coded in alignments):
            found = [british(word, _alignment(coded, links)) for coded in alignments]
            ways = [[code_of(s.correspondence) for s in alignment.segments] for alignment in found]
            changed[word] = tuple("".join(way) for way in ways)
        else:
            changed[word] = tuple(coded.translate(plain) for coded in alignments)
    return changed, {code: link for link, code in codes.items()}


def _depends_on_word(link: Correspondence) -> bool:
    """True for correspondences whose southern English form depends on the word or on their neighbours."""
    if link.grapheme == "a":
        return link.phoneme in ("AE", "AA", "AO", "AH", "EH")
    return link.grapheme in _LONG_U and link.phoneme == "UW"


def _alone(link: Correspondence) -> Correspondence:
    """The southern English form of a correspondence that no neighbour changes."""
    segment = Segment(link.grapheme, link.phoneme, 0, len(link.grapheme))
    return british("", Alignment((segment,), link.sounds, 0.0)).segments[0].correspondence


def _alignment(coded: str, links: Mapping[str, Correspondence]) -> Alignment:
    segments, at = [], 0
    for code in coded:
        link = links[code]
        end = at + (1 if link.is_split else len(link.grapheme))
        segments.append(Segment(link.grapheme, link.phoneme, at, end))
        at = end
    return Alignment(tuple(segments), (), 0.0)
