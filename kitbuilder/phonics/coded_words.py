"""The lexicon's alignments as short strings, one character a correspondence, made ready for whole word lists."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from kitbuilder.phonics.accent_codes import british_codes
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.lexicon import Lexicon
from kitbuilder.phonics.merging import is_coloured

Coded = dict[str, tuple[str, ...]]  # word -> its alignments
_LONG = {"a": ("EY",), "e": ("IY",), "i": ("AY",), "o": ("OW",), "u": ("UW", "Y.UW"), "y": ("AY",)}


def ready(rows: Iterable[tuple[str, str]], lexicon: Lexicon) -> tuple[Coded, dict[str, Correspondence]]:
    """Words with their coded alignments as a child of the lexicon's accent reads them, and what the codes stand for.

    rows: words with coded alignments as the lexicon keeps them, semicolons between. Where a long vowel letter and a
    consonant with an e are kept (a ve), a split digraph is put (a_e v), and -ed for e and d. Words are left out where
    the alignment keeps a vowel apart from the r that it is read with.
    """
    links = dict(lexicon.coded_links())
    coded = {word: tuple(alignments.split(";")) for word, alignments in rows}
    if lexicon.accent == "uk":
        coded, links = british_codes(coded, links, lexicon)
    pairs = _split_pairs(links) | _past_pairs(links)
    plural = "".join(code for code, link in links.items() if link.grapheme == "s" and link.phoneme in ("S", "Z"))
    pattern = re.compile(rf"(?:{'|'.join(map(re.escape, sorted(pairs)))})(?=[{plural}]?(?:;|$))", re.MULTILINE)
    vowels = "".join(code for code, link in links.items() if link.is_vowel)
    r_codes = "".join(code for code, link in links.items() if link.phoneme == "R")
    after_vowel = re.compile(f"[{vowels}][{r_codes}]")
    text = "\n".join(";".join(alignments) for alignments in coded.values())  # one pass is faster than one for each word
    found: Coded = {}
    for word, line in zip(coded, pattern.sub(lambda pair: pairs[pair[0]], text).split("\n"), strict=True):
        kept = tuple(line.split(";"))
        if after_vowel.search(line):
            kept = tuple(one for one in kept if not _any_coloured(word, one, links))
        if kept:
            found[word] = kept
    return found, links


def _split_pairs(links: Mapping[str, Correspondence]) -> dict[str, str]:
    """For each long vowel and consonant with e, coded, the split digraph and consonant that the letters are as well."""
    codes = {link: code for code, link in links.items()}
    found = {}
    for vowel, sounds in _LONG.items():
        for sound in sounds:
            plain, split = codes.get(Correspondence(vowel, sound)), codes.get(Correspondence(f"{vowel}_e", sound))
            for link, code in codes.items():
                alone = codes.get(Correspondence(link.grapheme[:-1], link.phoneme))
                if plain and split and alone and link.grapheme.endswith("e") and not link.is_vowel:
                    found[plain + code] = split + alone
    return found


def _past_pairs(links: Mapping[str, Correspondence]) -> dict[str, str]:
    """For each consonant with an e and a d after it, coded, the consonant and -ed that the letters are as well."""
    codes = {link: code for code, link in links.items()}
    found = {}
    for link, code in codes.items():
        alone, last = codes.get(Correspondence(link.grapheme[:-1], link.phoneme)), codes.get(Correspondence("d", "D"))
        past = codes.get(Correspondence("ed", "D"))
        if alone and last and past and link.grapheme.endswith("e") and not link.is_vowel:
            found[code + last] = alone + past
    return found


def _any_coloured(word: str, coded: str, links: Mapping[str, Correspondence]) -> bool:
    """True where a vowel is cut off from the r that it is read with."""
    at = 0
    for code in coded:
        link = links[code]
        at += 1 if link.is_split else len(link.grapheme)
        if link.is_vowel and is_coloured(word, link.grapheme, link.phoneme, at):
            return True
    return False
