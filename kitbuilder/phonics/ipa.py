"""Sounds as the International Phonetic Alphabet writes and orders them.

Symbols, places, manners and voice: the IPA chart, International Phonetic Association, revised to 2020 (CC BY-SA 3.0).
Affricates are written as two letters, w (labial-velar) stands under velar. The English vowels follow the illustration
of American English by P. Ladefoged in the Handbook of the International Phonetic Association (Cambridge 1999); the
southern English values are in common use (from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Manner = Literal["plosive", "affricate", "nasal", "fricative", "approximant", "lateral approximant"]
PLACES = ("bilabial", "labiodental", "dental", "alveolar", "postalveolar", "palatal", "velar", "glottal")
MANNERS: tuple[Manner, ...] = ("plosive", "nasal", "fricative", "affricate", "approximant", "lateral approximant")
# what a parent can feel
PLAIN_PLACES = (
    "both lips",
    "lip and teeth",
    "tongue and teeth",
    "ridge behind the teeth",
    "just behind the ridge",
    "middle of the palate",
    "back of the mouth",
    "throat",
)
PLAIN_MANNERS: Mapping[Manner, str] = {
    "plosive": "stopped, then let go",
    "nasal": "through the nose",
    "fricative": "hissed or buzzed",
    "affricate": "stopped, then hissed",
    "approximant": "gliding",
    "lateral approximant": "round the tongue",
}
HEIGHTS = ("close", "near-close", "mid", "open-mid", "near-open", "open", "gliding")
BACKNESS = ("front", "central", "back")


@dataclass(frozen=True, slots=True)
class Consonant:
    """A consonant's symbol, place and manner; whether the voice sounds."""

    symbol: str
    place: str
    manner: Manner
    voiced: bool

    @property
    def held(self) -> bool:
        """True for sounds that can be drawn out."""
        return self.manner not in ("plosive", "affricate")


@dataclass(frozen=True, slots=True)
class Vowel:
    """A vowel's symbol and its row and column; what glides from one place to another has the row `gliding`."""

    symbol: str
    height: str
    backness: str


CONSONANTS: Mapping[str, Consonant] = {
    "P": Consonant("p", "bilabial", "plosive", False),
    "B": Consonant("b", "bilabial", "plosive", True),
    "T": Consonant("t", "alveolar", "plosive", False),
    "D": Consonant("d", "alveolar", "plosive", True),
    "K": Consonant("k", "velar", "plosive", False),
    "G": Consonant("ɡ", "velar", "plosive", True),
    "M": Consonant("m", "bilabial", "nasal", True),
    "N": Consonant("n", "alveolar", "nasal", True),
    "NG": Consonant("ŋ", "velar", "nasal", True),
    "F": Consonant("f", "labiodental", "fricative", False),
    "V": Consonant("v", "labiodental", "fricative", True),
    "TH": Consonant("θ", "dental", "fricative", False),
    "DH": Consonant("ð", "dental", "fricative", True),
    "S": Consonant("s", "alveolar", "fricative", False),
    "Z": Consonant("z", "alveolar", "fricative", True),
    "SH": Consonant("ʃ", "postalveolar", "fricative", False),
    "ZH": Consonant("ʒ", "postalveolar", "fricative", True),
    "HH": Consonant("h", "glottal", "fricative", False),
    "CH": Consonant("tʃ", "postalveolar", "affricate", False),
    "JH": Consonant("dʒ", "postalveolar", "affricate", True),
    "R": Consonant("ɹ", "postalveolar", "approximant", True),
    "Y": Consonant("j", "palatal", "approximant", True),
    "W": Consonant("w", "velar", "approximant", True),
    "L": Consonant("l", "alveolar", "lateral approximant", True),
}

_VOWELS: Mapping[str, Vowel] = {
    "IY": Vowel("i", "close", "front"),
    "UW": Vowel("u", "close", "back"),
    "IH": Vowel("ɪ", "near-close", "front"),
    "UH": Vowel("ʊ", "near-close", "back"),
    "EY": Vowel("eɪ", "mid", "front"),
    "AX": Vowel("ə", "mid", "central"),
    "OW": Vowel("oʊ", "mid", "back"),
    "EH": Vowel("ɛ", "open-mid", "front"),
    "ER": Vowel("ɝ", "open-mid", "central"),
    "AH": Vowel("ʌ", "open-mid", "central"),
    "AO": Vowel("ɔ", "open-mid", "back"),
    "AE": Vowel("æ", "near-open", "front"),
    "AA": Vowel("ɑː", "open", "back"),  # long, as many dictionaries have it: ɑ alone looks like a child's a
    "OH": Vowel("ɒ", "open", "back"),
    "AY": Vowel("aɪ", "gliding", "front"),
    "AW": Vowel("aʊ", "gliding", "central"),
    "OY": Vowel("ɔɪ", "gliding", "back"),
}
_SOUTHERN = {"OW": "əʊ", "ER": "ɜː", "EH": "e", "AE": "a", "AO": "ɔː", "AA": "ɑː", "IY": "iː", "UW": "uː"}


def vowels(accent: str) -> Mapping[str, Vowel]:
    """Return the vowels by phoneme, in the order of the chart: from close to open, from front to back."""
    wanted = {p: v for p, v in _VOWELS.items() if accent == "uk" or p != "OH"}
    if accent != "uk":
        return wanted
    return {p: Vowel(_SOUTHERN.get(p, v.symbol), v.height, v.backness) for p, v in wanted.items()}


def symbols(phoneme: str, accent: str) -> str:
    """Return the IPA symbols of a phoneme, or of sounds joined by dots; what is unknown stays as it is."""
    known = vowels(accent)
    found = []
    for sound in phoneme.split("."):
        letter = CONSONANTS.get(sound) or known.get(sound)
        found.append(letter.symbol if letter else sound.lower())
    return "".join(found)
