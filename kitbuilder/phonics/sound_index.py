"""How the one-syllable words of the language sound and how their ends are read: what a made-up word is held against."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from hashlib import blake2b
from importlib.resources import files

from kitbuilder.phonics.lexicon import Lexicon

VOWEL_SOUNDS = frozenset(
    ("AA", "AE", "AH", "AO", "AW", "AX", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW")
)
FREQUENT = 3.0  # Zipf scale: about once in a million words
_BROAD = re.compile(r"(F|S|TH|S P|S K|S T|F T|N S|N T|N CH|M P L)$")
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


@cache
def frequent_strings() -> frozenset[str]:
    """Digests of strings that are met often though no dictionary has them: names, short forms, foreign words."""
    text = (files("kitbuilder.phonics") / "data" / "frequent_strings.txt").read_text(encoding="utf-8")
    return frozenset(line for line in text.splitlines() if not line.startswith("#"))


@dataclass(frozen=True, slots=True)
class _Row:
    word: str
    frequency: float
    plain: bool  # an ordinary word that English spelling may be learnt from: no name, nothing guessed
    graphemes: tuple[str, ...]
    phonemes: tuple[str, ...]


@lru_cache(maxsize=4)
def sound_index(lexicon: Lexicon) -> SoundIndex:
    """The index of a lexicon's words up to SCOWL size 70 or frequent ones, its family's own words among them."""
    sounds: dict[str, tuple[float, str]] = {}
    rimes: dict[str, Counter[str]] = defaultdict(Counter)
    bodies: set[str] = set()
    for row in _one_syllable_rows(lexicon):
        for key in _heard(row):
            if key not in sounds or sounds[key][0] < row.frequency:
                sounds[key] = (row.frequency, row.word)
        if row.plain:
            vowel = next(place for place, phoneme in enumerate(row.phonemes) if _has_vowel(phoneme))
            start = len("".join(row.graphemes[:vowel]))
            rimes[row.word[start:]][" ".join(row.phonemes[vowel:])] += 1
            bodies.add(row.word[:start] + row.graphemes[vowel].partition("_")[0])
    return SoundIndex({key: word for key, (_, word) in sounds.items()}, dict(rimes), frozenset(bodies))


def _heard(row: _Row) -> Iterator[str]:
    """The word's keys, and those of southern English where CMUdict, which is American, does not tell them."""
    yield from sound_keys(row.phonemes)
    for place, (grapheme, phoneme) in enumerate(zip(row.graphemes, row.phonemes, strict=True)):
        if (grapheme, phoneme) == ("o", "AO"):  # dog, off, long: the vowel of hot
            yield sound_keys((*row.phonemes[:place], "AA", *row.phonemes[place + 1 :]))[1]
        if (grapheme, phoneme) == ("a", "AE") and _BROAD.match(" ".join(row.phonemes[place + 1 :])):  # path, ask, dance
            yield sound_keys((*row.phonemes[:place], "AA", "R", *row.phonemes[place + 1 :]))[1]


def _has_vowel(phoneme: str) -> bool:
    return not VOWEL_SOUNDS.isdisjoint(phoneme.split("."))


def _one_syllable_rows(lexicon: Lexicon) -> Iterator[_Row]:
    """One row for each pronunciation of one syllable of each word, picked out of the lexicon's text at one go."""
    links = lexicon.coded_links()
    consonants = "".join(code for code, link in links if not _has_vowel(link.phoneme))
    vowels = "".join(code for code, link in links if sum(sound in VOWEL_SOUNDS for sound in link.sounds) == 1)
    one = rf"[{consonants}]*[{vowels}][{consonants}]*"
    pattern = re.compile(rf"^([^\t\n]+)\t(\d)([a-z]*)\t(\d+)\t((?:[^\n;]+;)*?{one}(?:;[^\n]+)?)$", re.MULTILINE)
    by_code = dict(links)
    for word, level, marks, frequency, coded in pattern.findall(lexicon.coded_rows()):
        common = int(frequency) / 100
        if int(level) > _WORD_LEVEL and common < FREQUENT:
            continue
        for codes in coded.split(";"):
            if re.fullmatch(one, codes):
                path = [by_code[code] for code in codes]
                plain = not marks and "'" not in word
                graphemes, phonemes = tuple(link.grapheme for link in path), tuple(link.phoneme for link in path)
                yield _Row(word, common, plain, graphemes, phonemes)
