"""How the one-syllable words of the language sound and how their ends are read: what a made-up word is held against."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from importlib.resources import files

from kitbuilder.phonics.correspondences import VOWEL_SOUNDS, Correspondence
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.remembering import remembered

FREQUENT = 3.0  # Zipf scale: about once in a million words
_BROAD = re.compile(r"(F|S|TH|S P|S K|S T|F T|N S|N T|N CH|M P L)$")
_CLOTH, _SHORT_A = Correspondence("o", "AO"), Correspondence("a", "AE")
_LONGEST = 8  # letters; longer words of one syllable end in -ed or -s, as no made-up word does
_WORD_LEVEL = 7  # place of SCOWL size 70 among lexicon.SIZES


@dataclass(frozen=True, slots=True)
class SoundIndex:
    """One-syllable words by sound, and the letters of their ends and beginnings with what they sound like.

    sounds: how a word sounds (see `sound_key`) and the word, the most frequent where there are several.
    rimes: letters from the vowel on -> how often each sound is read there, counted in words.
    bodies: letters up to and with the vowel.
    """

    sounds: dict[str, str]
    rimes: dict[str, Counter[str]]
    bodies: frozenset[str]


def sound_keys(sounds: Iterable[str]) -> tuple[str, str]:
    """How the sounds are told apart in American and in southern English speech; equal keys sound alike.

    American: as CMUdict writes them. Southern English: no r but before a vowel, and court like caught, poor like paw.
    """
    single = [part for sound in sounds for part in sound.split(".")]
    heard: list[str] = []
    for place, sound in enumerate(single):
        following = single[place + 1] if place + 1 < len(single) else ""
        if sound == "R" and following not in VOWEL_SOUNDS and heard:
            vowel = heard[-1]
            heard[-1] = {"AO": "AO", "UH": "AO", "OW": "AO", "ER": "ER"}.get(vowel, vowel + ":")
        else:
            heard.append(sound)
    return " ".join(single).replace("AX", "AH"), " ".join(heard).replace("AX", "AH")


def string_digest(text: str) -> str:
    """Six hexadecimal digits: enough to tell a thousand strings from the rest, too few to read them back."""
    return blake2b(text.encode(), digest_size=3).hexdigest()


@remembered()
def frequent_strings() -> frozenset[str]:
    """Digests of strings that are met often though no dictionary has them: names, short forms, foreign words."""
    text = (files("kitbuilder.phonics") / "data" / "frequent_strings.txt").read_text(encoding="utf-8")
    return frozenset(line for line in text.splitlines() if not line.startswith("#"))


@remembered(4)
def sound_index(lexicon: Lexicon) -> SoundIndex:
    """The index of a lexicon's words up to SCOWL size 70 or frequent ones, its family's own words among them."""
    sounds: dict[str, tuple[float, str]] = {}
    rimes: dict[str, Counter[str]] = defaultdict(Counter)
    bodies: set[str] = set()
    links = dict(lexicon.coded_links())
    spoken = {ord(code): f"{link.phoneme.replace('.', ' ')} " for code, link in links.items()}
    pattern = _one_syllable(links)
    for word, marks, frequency, onset, vowel, coda in _rows(lexicon, pattern):
        heard = f"{onset}{vowel}{coda}".translate(spoken).rstrip()
        for key in _keys(heard, [links[code] for code in (vowel, *coda)]):
            if key not in sounds or sounds[key][0] < frequency:
                sounds[key] = (frequency, word)
        if not marks:
            start = sum(len(links[code].grapheme) for code in onset)
            rimes[word[start:]][" ".join(links[code].phoneme for code in (vowel, *coda))] += 1
            bodies.add(word[:start] + links[vowel].grapheme.partition("_")[0])
    for word in lexicon.own_words():
        entry = lexicon.get(word)
        for sound in entry.pronunciations if entry else ():
            sounds.update((key, (10.0, word)) for key in sound_keys(sound))
    return SoundIndex({key: word for key, (_, word) in sounds.items()}, dict(rimes), frozenset(bodies))


def _one_syllable(links: Mapping[str, Correspondence]) -> str:
    """A pattern for a coded alignment of one syllable: what comes before its vowel, the vowel, what comes after it."""
    vowels = "".join(code for code, link in links.items() if sum(s in VOWEL_SOUNDS for s in link.sounds) == 1)
    consonants = "".join(code for code, link in links.items() if not link.is_vowel)
    return rf"([{consonants}]*)([{vowels}])([{consonants}]*)"


def _rows(lexicon: Lexicon, one: str) -> Iterator[tuple[str, str, float, str, str, str]]:
    """Word, marks, frequency and the three parts of each alignment of one syllable, found in the text at one go."""
    bare = one.replace("(", "").replace(")", "")
    row = re.compile(
        rf"^([^\t\n']{{1,{_LONGEST}}})\t(\d)([^\t]*)\t(\d+)\t((?:[^\n;]+;)*?{bare}(?:;[^\n]+)?)$", re.MULTILINE
    )
    parts = re.compile(one)
    for word, level, marks, frequency, coded in row.findall(lexicon.coded_rows()):
        common = int(frequency) / 100
        if int(level) <= _WORD_LEVEL or common >= FREQUENT:
            for codes in coded.split(";"):
                if found := parts.fullmatch(codes):
                    yield word, marks, common, found[1], found[2], found[3]


def _keys(heard: str, rime: Sequence[Correspondence]) -> Iterator[str]:
    """A word's keys, and those of southern English where CMUdict, which is American, does not tell them."""
    yield heard.replace("AX", "AH")
    if "R" in heard:
        yield sound_keys(heard.split(" "))[1]
    if rime[0] == _CLOTH:  # dog, off, long: the vowel of hot
        yield heard.replace("AO", "AA")
    if rime[0] == _SHORT_A and _BROAD.match(" ".join(link.phoneme for link in rime[1:])):  # path, ask, dance
        yield sound_keys(heard.replace("AE", "AA R").split(" "))[1]
