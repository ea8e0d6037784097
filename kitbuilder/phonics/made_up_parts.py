"""One-syllable strings taken apart into a beginning, a vowel and an end, and put together from what was taught."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from kitbuilder.phonics.shapes import accepts

Graphemes = tuple[str, ...]
Covered = frozenset[tuple[str, str]]  # graphemes with the phonemes they can be read as


# The sounds a child may give a grapheme in a word never seen before (common practice, no source).
def _table(text: str) -> dict[str, Graphemes]:
    rows = (entry.split(":") for entry in text.split())
    return {grapheme: tuple(sounds.split("/")) for grapheme, sounds in rows}


CONSONANTS = _table(
    "b:B c:K d:D f:F g:G h:HH j:JH k:K l:L m:M n:N p:P qu:K.W r:R s:S t:T v:V w:W x:K.S y:Y z:Z "
    "ff:F ll:L ss:S zz:Z ck:K tch:CH dge:JH sh:SH ch:CH th:TH/DH ng:NG ph:F wh:W"
)
SHORT_VOWELS = _table("a:AE e:EH i:IH o:AA/OH/AO u:AH")
SPLIT_VOWELS = _table("a_e:EY e_e:IY i_e:AY o_e:OW u_e:UW/Y.UW")
VOWEL_TEAMS = _table(
    "ai:EY ay:EY ee:IY ea:IY/EH oa:OW oe:OW ie:AY igh:AY oo:UW/UH ew:UW/Y.UW ue:UW/Y.UW ow:AW/OW ou:AW oi:OY oy:OY "
    "au:AO aw:AO ar:AA.R or:AO.R er:ER ir:ER ur:ER air:EH.R ear:IH.R"
)
VOWELS = SHORT_VOWELS | SPLIT_VOWELS | VOWEL_TEAMS
_CLOTH = frozenset({"ff", "ss", "th", "g", "ng", "ft", "st"})  # ends before which Americans say the vowel of cloth


@dataclass(frozen=True, slots=True)
class Parts:
    """A string of one syllable: the graphemes before its vowel, the vowel ("a_e" for a split one), those after."""

    onset: Graphemes
    vowel: str
    coda: Graphemes

    @property
    def text(self) -> str:
        """The letters as they are written."""
        first, split, last = self.vowel.partition("_")
        return "".join((*self.onset, first, *self.coda, last if split else ""))

    @property
    def graphemes(self) -> Graphemes:
        """All graphemes in reading order."""
        return (*self.onset, self.vowel, *self.coda)

    @property
    def shape(self) -> str:
        """C for each consonant grapheme and V for the vowel: CVC for thatch as for tap."""
        return "C" * len(self.onset) + "V" + "C" * len(self.coda)


@cache
def parts_lists() -> dict[str, tuple[Graphemes, ...]]:
    """Allowed beginnings and ends by the headings of data/onsets_codas.txt."""
    text = (files("kitbuilder.phonics") / "data" / "onsets_codas.txt").read_text(encoding="utf-8")
    found: dict[str, list[Graphemes]] = {}
    heading = ""
    for line in text.splitlines():
        if line.startswith("["):
            heading = line.strip("[]")
        elif line and not line.startswith("#"):
            found.setdefault(heading, []).extend(tuple(entry.split("+")) for entry in line.split())
    return {name: tuple(entries) for name, entries in found.items()}


def codas_after(vowel: str) -> tuple[Graphemes, ...]:
    """The allowed ends after this vowel; an empty one only after a vowel team."""
    lists = parts_lists()
    if vowel in SHORT_VOWELS:
        return lists["codas after a short vowel"]
    if vowel in SPLIT_VOWELS:
        return lists["codas before a final e"]
    return ((), *lists["codas after a long vowel or a vowel team"])


def why_not_apart(text: str) -> str:
    """Why `take_apart` finds no syllable in a string, as far as that can be told."""
    if "q" in text.replace("qu", ""):
        return "q stands with u in English"
    if text[-1:] in ("v", "j", "q"):
        return f"no English word ends in {text[-1]}"
    if text[-1:] == "s" and text[-2:-1] not in ("a", "e", "i", "o", "u", "s"):
        return "it looks like a plural"
    if text[-1:] in ("c", "h", "w", "y"):
        return f"it does not end like an English word of one syllable: {text[-1]}"
    return "it is not made like one English syllable"


def take_apart(text: str) -> tuple[Parts, ...]:
    """Every way to read the string as one allowed syllable, most telling first; empty when there is none."""
    found = []
    for onset in ((), *parts_lists()["onsets"]):
        start = "".join(onset)
        if not text.startswith(start):
            continue
        rest = text[len(start) :]
        for vowel in sorted(VOWELS, key=lambda name: (-len(name.replace("_", "")), name)):
            first, split, last = vowel.partition("_")
            if rest.startswith(first) and rest.endswith(last) and len(rest) > len(first + last):
                middle = rest[len(first) : len(rest) - len(last)]
                found += [Parts(onset, vowel, coda) for coda in codas_after(vowel) if "".join(coda) == middle]
            elif not split and rest == first and () in codas_after(vowel):
                found.append(Parts(onset, vowel, ()))
    # Longer vowels and fewer graphemes first: moat is oa and not o, thatch ends in tch and not in t and ch.
    return tuple(sorted(found, key=lambda parts: (len(parts.graphemes), parts.graphemes)))


def readings(parts: Parts) -> tuple[Graphemes, ...]:
    """Every way a child may sound the string out, the most usual first, one phoneme a grapheme."""
    paths: list[Graphemes] = [()]
    for place in range(len(parts.graphemes)):
        # OH is only how the lexicon writes the southern English vowel of hot, which is AA here.
        paths = [(*path, sound) for path in paths for sound in sounds_at(parts, place) if sound != "OH"]
    return tuple(paths)


def sounds_at(parts: Parts, place: int) -> Graphemes:
    """The sounds a child may give the grapheme at this place, the most usual first."""
    grapheme = parts.graphemes[place]
    sounds = VOWELS.get(grapheme) or CONSONANTS[grapheme]
    if grapheme == "o" and "".join(parts.coda) not in _CLOTH:
        return sounds[:2]
    following = parts.graphemes[place + 1 : place + 2]
    if grapheme == "n" and following == ("k",):
        return ("NG",)
    soft = grapheme == "g" and following and following[0][0] in "ei"  # gem: some children will say it so
    return (*sounds, "JH") if soft else sounds


def untaught(parts: Parts, covered: Covered) -> Graphemes:
    """The graphemes of the string that cannot be read with any of the sounds they may have here."""
    return tuple(
        grapheme
        for place, grapheme in enumerate(parts.graphemes)
        if not any((grapheme, sound) in covered for sound in sounds_at(parts, place))
    )


def readable_graphemes(covered: Covered) -> frozenset[str]:
    """The graphemes that can be read with one of their usual sounds."""
    table = CONSONANTS | VOWELS
    return frozenset(grapheme for grapheme, sounds in table.items() if any((grapheme, s) in covered for s in sounds))


def put_together(covered: Covered, shapes: frozenset[str]) -> Iterator[Parts]:
    """Every string of taught graphemes with an allowed beginning and end and a shape the child can manage."""
    known = readable_graphemes(covered)
    onsets = [onset for onset in ((), *parts_lists()["onsets"]) if known.issuperset(onset)]
    lengths = {
        (before, after): not shapes or accepts(shapes, "C" * before + "V" + "C" * after)
        for before in range(4)
        for after in range(4)
    }
    for vowel in sorted(known.intersection(VOWELS)):
        for coda in codas_after(vowel):
            if known.issuperset(coda) and (("n", "NG") in covered or coda != ("n", "k")):
                yield from (Parts(onset, vowel, coda) for onset in onsets if lengths[len(onset), len(coda)])
