"""Builds `data/costs.txt` and `data/lexicon.gz`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from kitbuilder.phonics.build.estimate import estimate_costs
from kitbuilder.phonics.build.pronunciations import Sounds, align_with, heard, ordinary
from kitbuilder.phonics.build.sources import read_cmudict, read_corrections, read_frequencies, read_scowl
from kitbuilder.phonics.build.store import BuiltRow, write_lexicon
from kitbuilder.phonics.correspondences import Correspondence, parse_table
from kitbuilder.phonics.two_way import load_readings

DATA = Path(__file__).parents[1] / "data"
_TRAINING_WORDS = 12_000

Heard = tuple[tuple[Sounds, ...], tuple[Sounds, ...]]


def main() -> None:
    """Read the sources, count, align, derive, write."""
    cmudict, listed = read_cmudict(), read_scowl()
    frequencies = read_frequencies(sorted(listed))
    rows: list[BuiltRow] = []
    spoken = _pronunciations(cmudict, sorted(listed))
    text = (DATA / "correspondences.txt").read_text("utf-8")
    common = sorted((w for w in spoken if not listed[w].proper and len(w) > 1), key=lambda w: (-frequencies[w], w))
    costs = estimate_costs(text, [(word, spoken[word][0][0]) for word in common[:_TRAINING_WORDS] if spoken[word][0]])
    _write_costs(costs)
    table = parse_table(text, costs)
    two_way = load_readings()
    for word, (strong, weak) in sorted(spoken.items()):
        if word in two_way:
            readings = tuple(align_with(word, reading.pronunciation, table) for reading in two_way[word])
            rows.append(BuiltRow(listed[word], frequencies[word], readings, two_way=True))
        elif alignments := ordinary(word, strong, table) or ordinary(word, weak, table):
            rows.append(BuiltRow(listed[word], frequencies[word], alignments))
    size = write_lexicon(DATA / "lexicon.gz", rows)
    print(f"{len(rows)} words, {size} bytes")


def _pronunciations(cmudict: Mapping[str, tuple[Sounds, ...]], words: Sequence[str]) -> dict[str, Heard]:
    """Strong and weak pronunciations of the words that have any; reviewed corrections win."""
    corrections = read_corrections(DATA / "corrections.txt")
    spoken = {word: heard(word, cmudict[word]) for word in words if word in cmudict}
    return spoken | {word: (sounds, ()) for word, sounds in corrections.items()}


def _write_costs(costs: Mapping[Correspondence, float]) -> None:
    lines = [f"{link.grapheme} {link.phoneme} {cost:.2f}" for link, cost in sorted(costs.items())]
    (DATA / "costs.txt").write_text("# Nats; written by kitbuilder.phonics.build.\n" + "\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
