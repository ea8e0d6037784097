"""The lexicon file, as `lexicon.py` reads it."""

from __future__ import annotations

import gzip
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from kitbuilder.phonics.alignment import Alignment
from kitbuilder.phonics.build.sources import Listed
from kitbuilder.phonics.lexicon import FIRST_CODE, SIZES


@dataclass(frozen=True, slots=True)
class BuiltRow:
    """One word with everything the file keeps of it."""

    listed: Listed
    frequency: float
    alignments: tuple[Alignment, ...]
    guessed: bool = False
    two_way: bool = False


def write_lexicon(path: Path, rows: Iterable[BuiltRow]) -> int:
    """Write the file and return its size in bytes."""
    kept = sorted(rows, key=lambda row: row.listed.word.lower().encode())
    links = sorted({s.correspondence for row in kept for a in row.alignments for s in a.segments})
    codes = {link: chr(FIRST_CODE + number) for number, link in enumerate(links)}
    head = " ".join(f"{link.grapheme}={link.phoneme}" for link in links)
    lines = [head]
    for row in kept:
        marks = ("g" if row.guessed else "") + ("p" if row.listed.proper else "") + ("2" if row.two_way else "")
        coded = ";".join("".join(codes[s.correspondence] for s in a.segments) for a in row.alignments)
        size = SIZES.index(row.listed.level)
        lines.append(f"{row.listed.word.lower()}\t{size}{marks}\t{round(row.frequency * 100)}\t{coded}")
    data = gzip.compress(("\n".join(lines) + "\n").encode(), 9, mtime=0)
    path.write_bytes(data)
    return len(data)
