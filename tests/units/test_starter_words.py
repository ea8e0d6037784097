"""The lists of words and the verdicts on words agree about the starter."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from kitbuilder.compose.reading import family_reader
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.definitions import load_home
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.word_choice import new_words
from kitbuilder.phonics.word_pool import readable, word_pool

UNITS = range(1, 13)


@pytest.fixture(scope="module", params=["us", "uk"])
def reader(request: pytest.FixtureRequest) -> Reader:
    home = load_home(Path(__file__).parents[2])
    sequence = home.sequence.model_copy(update={"accent": request.param})
    return family_reader(replace(home, sequence=sequence), ProblemLog()).reader


def test_every_word_is_listed_from_the_unit_on_at_which_it_is_judged_decodable(reader: Reader) -> None:
    """All that is listed in any unit, and every word of the pool that may end in one of the taught suffixes."""
    listed: dict[str, int] = {}
    for unit in UNITS:
        for word in readable(reader.lexicon, reader.taught(unit)):
            listed.setdefault(word, unit)
    looked_at = [w for w in word_pool(reader.lexicon).words if w in listed or w.endswith(("s", "ing"))]
    judged = {word: reader.decodable_since(word, UNITS[-1]) for word in looked_at}
    assert {word: (judged[word], listed.get(word)) for word in judged if judged[word] != listed.get(word)} == {}
    assert len(listed) > 1500


@pytest.mark.parametrize(
    ("word", "unit"), [("dogs", 5), ("suds", 5), ("tongs", 6), ("shucks", 7), ("frills", 10), ("hogging", 11)]
)
def test_plurals_are_new_when_their_stem_is(reader: Reader, word: str, unit: int) -> None:
    assert word in new_words(reader, unit)
    assert word not in new_words(reader, 12)
