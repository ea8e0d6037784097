"""Suffixes as short strings, one character a correspondence, and how stems are coded before them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.suffixes import DOUBLING, DROP_E, SUFFIXES

_ENDINGS = {
    "-s": ("s=S", "s=Z"),
    "-es": ("es=IH.Z", "es=AX.Z", "es=Z"),
    "-ed": ("ed=T", "ed=D", "ed=IH.D", "ed=AX.D"),
    "-ing": ("i=IH ng=NG",),
    "-er": ("er=ER",),
    "-est": ("e=AX s=S t=T", "e=IH s=S t=T"),
}
BY_LAST_LETTER = {"s": ("-s", "-es"), "d": ("-ed",), "g": ("-ing",), "r": ("-er",), "t": ("-est",)}

Head = tuple[tuple[str, ...], str | None, str]
"""The suffixes taken off, outermost first, the spelling rule that joined the innermost, and the code that is left."""


class Suffixing:
    """How suffixes are coded, and stems before them."""

    def __init__(self, links: Mapping[str, Correspondence]) -> None:
        codes = {link: code for code, link in links.items()}
        broad = [(code, link.grapheme) for code, link in links.items() if link.phoneme == "AO"]
        self._alike = {ord(code): codes.get(Correspondence(grapheme, "AA"), code) for code, grapheme in broad}
        self.endings = {suffix: _endings(suffix, codes) for suffix in SUFFIXES}
        self._opened = {ord(code): _without_e(link, codes) for code, link in links.items()}
        self._doubled = {
            code: codes.get(Correspondence(link.grapheme * 2, link.phoneme), "?") for code, link in links.items()
        }
        self._single = {double: code for code, double in self._doubled.items() if double != "?"}

    def heads(self, word: str, coded: str) -> Iterator[Head]:
        """Each way to take one suffix, or -s and another, off a word's code, whether it has them or not."""
        for suffix in BY_LAST_LETTER.get(word[-1], ()):
            for head in (coded[: -len(ending)] for ending in self.endings[suffix] if coded.endswith(ending)):
                yield (suffix,), None, head
                if suffix[1] != "s" and head[-1:] in self._single:
                    yield (suffix,), DOUBLING, head[:-1] + self._single[head[-1]]
                if suffix == "-s" and word[-2] not in "s'":
                    yield from (((suffix, *inner), rule, rest) for inner, rule, rest in self.heads(word[:-1], head))

    def begins(self, whole: str, start: str) -> bool:
        """Whether a code begins with another, AA and AO, which many say alike, counted as one (dogs, dog)."""
        return whole.startswith(start) or whole.translate(self._alike).startswith(start.translate(self._alike))

    def joint(self, base: str, rule: str | None) -> str:
        """The stem's code as it stands before a suffix."""
        if rule == DROP_E:
            return base.translate(self._opened)
        return base[:-1] + self._doubled[base[-1]] if rule == DOUBLING else base


def stems(word: str) -> Iterator[tuple[str, str, str | None]]:
    """Every way to cut a suffix off by letters alone: the suffix, what is left, the spelling rule."""
    for suffix in BY_LAST_LETTER.get(word[-1], ()):
        base = word[: 1 - len(suffix)]
        if word.endswith(suffix[1:]) and len(base) > 1:
            yield suffix, base, None
            if suffix not in ("-s", "-es"):
                yield suffix, f"{base}e", DROP_E
                if base[-1] == base[-2] and base[-1] != "s":
                    yield suffix, base[:-1], DOUBLING


def _endings(suffix: str, codes: Mapping[Correspondence, str]) -> frozenset[str]:
    """How a suffix may be coded."""
    ways = ([Correspondence(*link.split("=")) for link in way.split(" ")] for way in _ENDINGS[suffix])
    return frozenset("".join(codes.get(link, "?") for link in way) for way in ways)


def _without_e(link: Correspondence, codes: Mapping[Correspondence, str]) -> str:
    """The code of a grapheme that has lost its final e to a suffix: make and making, give and giving."""
    if link.is_split or (len(link.grapheme) > 1 and link.grapheme.endswith("e") and not link.is_vowel):
        shorter = link.grapheme[0] if link.is_split else link.grapheme[:-1]
        return codes.get(Correspondence(shorter, link.phoneme), "?")
    return codes[link]
