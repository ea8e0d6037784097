"""Which words the engine never chooses for a child, and which only at need, by the reviewed lists in data/.

unfit_words.txt: never; odd_words.txt: where better words run out; accent_words.txt: never for the other accent.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib.resources import files

NOT_WORTH_IT = "not worth a child's effort"  # the one category of the list that is not about harm
_VOWELS = "aeiou"


@cache
def unfit_words() -> dict[str, str]:
    """Each word of the list (starred words with their forms) and the category it stands under."""
    return _listed("unfit_words.txt")


@cache
def _listed(name: str) -> dict[str, str]:
    text = (files("kitbuilder.phonics") / "data" / name).read_text(encoding="utf-8")
    found: dict[str, str] = {}
    category = ""
    for line in text.splitlines():
        line = line.strip()
        if line.startswith("["):
            category = line.strip("[]").partition(":")[0]
        elif line and not line.startswith("#"):
            for word in line.split():
                for form in _forms(word):
                    found.setdefault(form, category)
    return found


def is_fit(word: str) -> bool:
    """False for a word that is never chosen for a child by the engine; a family may still write it."""
    return word.lower() not in unfit_words()


def is_odd(word: str) -> bool:
    """True for a word that is chosen for a child only where better ones run out."""
    return word.lower() in _listed("odd_words.txt")


def is_foreign(word: str, accent: str) -> bool:
    """True for a spelling of the other side of the ocean: mum where the accent is us, mom where it is uk."""
    return _listed("accent_words.txt").get(word.lower(), accent) != accent


def why_unfit(word: str) -> str:
    """The category that keeps a word out, or an empty text."""
    return unfit_words().get(word.lower(), "")


def _forms(word: str) -> Iterator[str]:
    """The word, and for a starred one its usual forms, some of them no words at all (which harms nobody)."""
    if not word.endswith("*"):
        yield word
        return
    base = word[:-1]
    yield from (base, f"{base}s", f"{base}es")
    stems = [base]
    if base.endswith("e"):
        stems = [base[:-1]]
    elif len(base) > 2 and base[-1] not in "aeiouwxy" and base[-2] in _VOWELS and base[-3] not in _VOWELS:
        stems = [base, base + base[-1]]
    for stem in stems:
        yield from (f"{stem}{ending}" for ending in ("ed", "ing", "er", "ers"))
