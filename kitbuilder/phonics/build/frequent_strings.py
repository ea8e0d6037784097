"""Builds `data/frequent_strings.txt`: strings that are met often in English text though SCOWL calls them no words.

They are names, short forms and foreign words, which a made-up word must not be either. Only a digest of each is kept:
the list serves to recognise them and nothing else. Run like the lexicon's build:

    build-env/bin/python -m kitbuilder.phonics.build.frequent_strings
"""

from __future__ import annotations

import importlib
import re
from pathlib import Path

from kitbuilder.phonics.build.sources import read_scowl
from kitbuilder.phonics.sound_index import FREQUENT, string_digest

DATA = Path(__file__).parents[1] / "data"
_HEAD = (
    "# Digests (blake2b, 24 bits) of strings of one vowel group, seven letters at most, of Zipf frequency 3.0 or more\n"
    "# in wordfreq 3.1.1 (data CC BY-SA 4.0) and not among SCOWL's words up to size 70.\n"
    "# Written by kitbuilder.phonics.build.frequent_strings.\n"
)


def main() -> None:
    """Read the two sources and write the digests."""
    wordfreq = importlib.import_module("wordfreq")  # by name: no dependency of kitbuilder, so unknown to type checks
    shape = re.compile(r"(?=.{2,7}$)[bcdfghjklmnpqrstvwxyz]*[aeiouy]{1,2}[bcdfghjklmnpqrstvwxz]*e?")
    words = read_scowl()
    strings = {
        text
        for text in wordfreq.iter_wordlist("en", wordlist="best")
        if shape.fullmatch(text) and text not in words and wordfreq.zipf_frequency(text, "en") >= FREQUENT
    }
    digests = sorted(string_digest(text) for text in strings)
    (DATA / "frequent_strings.txt").write_text(_HEAD + "\n".join(digests) + "\n", encoding="utf-8")
    print(f"{len(digests)} strings")


if __name__ == "__main__":
    main()
