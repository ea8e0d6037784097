"""How usual each correspondence is, counted in the lexicon itself."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence

from kitbuilder.phonics.alignment import best_paths, own_cost
from kitbuilder.phonics.correspondences import Correspondence, Table, parse_table

_SMOOTHING = 0.3
_ROUNDS = 4


def first_costs(table: Table) -> dict[Correspondence, float]:
    """Costs to start from: all alike, rows without an everyday example and rows for two sounds a little dearer."""
    return {
        row.correspondence: 6.0 + (3.0 if row.example == "-" else 0.0) + (1.0 if len(row.sounds) > 1 else 0.0)
        for row in table.rows
    }


def estimate_costs(text: str, pairs: Sequence[tuple[str, tuple[str, ...]]]) -> dict[Correspondence, float]:
    """Costs in nats (minus the log of the share of all segments), counted over best alignments, in a few rounds."""
    costs = first_costs(parse_table(text))
    for _ in range(_ROUNDS):
        table = parse_table(text, costs)
        counts: Counter[Correspondence] = Counter()
        for word, sounds in pairs:
            for alignment in best_paths(word, sounds, 1, table, own_cost):
                counts.update(segment.correspondence for segment in alignment.segments)
        costs = _costs(table, counts)
    return costs


def _costs(table: Table, counts: Mapping[Correspondence, int]) -> dict[Correspondence, float]:
    total = sum(counts.values()) + _SMOOTHING * len(table.rows)
    return {
        row.correspondence: round(-math.log((counts.get(_heard_as(row.correspondence), 0) + _SMOOTHING) / total), 2)
        for row in table.rows
    }


def _heard_as(link: Correspondence) -> Correspondence:
    """The American correspondence that a southern English one is counted with."""
    american = {"OH": "AO" if link.grapheme in ("a", "au", "ou") else "AA", "AH.R": "ER"}
    return Correspondence(link.grapheme, american.get(link.phoneme, link.phoneme))
