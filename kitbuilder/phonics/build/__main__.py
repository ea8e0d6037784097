"""Builds `data/costs.txt` and `data/lexicon.gz`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from kitbuilder.phonics.build.derive import derive
from kitbuilder.phonics.build.estimate import estimate_costs
from kitbuilder.phonics.build.guess import Guesser
from kitbuilder.phonics.build.pronunciations import Sounds, align_with, heard, ordinary
from kitbuilder.phonics.build.sources import Listed, read_cmudict, read_corrections, read_frequencies, read_scowl
from kitbuilder.phonics.build.store import BuiltRow, write_lexicon
from kitbuilder.phonics.correspondences import Correspondence, Table, parse_table
from kitbuilder.phonics.two_way import load_readings

DATA = Path(__file__).parents[1] / "data"
_TRAINING_WORDS = 12_000
_LONGEST_GUESS = 8  # letters; longer unknown words are left out unless they are made of known ones
_RAREST_LONG = 60  # SCOWL size; longer words beyond it are left out even if made of known ones
_COMMON_PART = 3.3  # Zipf; words less common than this make no compounds

Heard = tuple[tuple[Sounds, ...], tuple[Sounds, ...]]


def main() -> None:
    """Read the sources, count, align, derive, guess, write."""
    cmudict, listed = read_cmudict(), read_scowl()
    frequencies = read_frequencies(sorted(listed))
    spoken = _pronunciations(cmudict, sorted(listed))
    text = (DATA / "correspondences.txt").read_text("utf-8")
    common = sorted((w for w in spoken if not listed[w].proper and len(w) > 1), key=lambda w: (-frequencies[w], w))
    costs = estimate_costs(text, [(word, spoken[word][0][0]) for word in common[:_TRAINING_WORDS] if spoken[word][0]])
    _write_costs(costs)
    table = parse_table(text, costs)
    rows = _heard_rows(spoken, listed, frequencies, table)
    unheard = [listed[word] for word in sorted(listed) if word not in cmudict]
    rows += _made_rows({row.listed.word.lower(): row for row in rows}, unheard, frequencies, table)
    size = write_lexicon(DATA / "lexicon.gz", rows)
    print(f"{len(rows)} words, {sum(row.guessed for row in rows)} of them worked out, {size} bytes")


def _pronunciations(cmudict: Mapping[str, tuple[Sounds, ...]], words: Sequence[str]) -> dict[str, Heard]:
    """Strong and weak pronunciations of the words that have any; reviewed corrections win."""
    corrections = read_corrections(DATA / "corrections.txt")
    spoken = {word: heard(word, cmudict[word]) for word in words if word in cmudict}
    return spoken | {word: (sounds, ()) for word, sounds in corrections.items()}


def _write_costs(costs: Mapping[Correspondence, float]) -> None:
    lines = [f"{link.grapheme} {link.phoneme} {cost:.2f}" for link, cost in sorted(costs.items())]
    (DATA / "costs.txt").write_text("# Nats; written by kitbuilder.phonics.build.\n" + "\n".join(lines) + "\n", "utf-8")


def _heard_rows(
    spoken: Mapping[str, Heard], listed: Mapping[str, Listed], frequencies: Mapping[str, float], table: Table
) -> list[BuiltRow]:
    """The words whose pronunciation is known and can be aligned."""
    rows, two_way = [], load_readings()
    for word, (strong, weak) in sorted(spoken.items()):
        if word in two_way:
            readings = tuple(align_with(word, reading.pronunciation, table) for reading in two_way[word])
            rows.append(BuiltRow(listed[word], frequencies[word], readings, two_way=True))
        elif alignments := ordinary(word, strong, table) or ordinary(word, weak, table):
            rows.append(BuiltRow(listed[word], frequencies[word], alignments))
    return rows


def _made_rows(
    rows: Mapping[str, BuiltRow], unheard: Sequence[Listed], frequencies: Mapping[str, float], table: Table
) -> list[BuiltRow]:
    """The listed words without a pronunciation: made of known words, or short enough to be read by habit."""
    plain = {word: row for word, row in rows.items() if not row.listed.proper}
    known = {word: row.alignments[0].pronunciation for word, row in plain.items()}
    parts = {word: row.frequency for word, row in plain.items() if row.frequency >= _COMMON_PART}
    guesser = Guesser(table, (tuple(s.correspondence for s in r.alignments[0].segments) for r in plain.values()))
    made = []
    for item in unheard:
        word = item.word.lower()
        is_rare = item.level > _RAREST_LONG and len(word) > _LONGEST_GUESS
        if word in rows or item.proper or is_rare:
            continue
        sounds = derive(word, known, parts) or (guesser.read(word) if len(word) <= _LONGEST_GUESS else None)
        alignments = ordinary(word, [sounds], table) if sounds else ()
        if alignments:
            made.append(BuiltRow(item, frequencies[word], alignments, guessed=True))
    return made


if __name__ == "__main__":
    main()
