"""The starter's twelve units: complete, readable by the children they are for, and no longer than promised."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from kitbuilder.artwork.pictures import find_picture
from kitbuilder.compose.reading import FamilyReader, family_reader
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.definitions import load_home
from kitbuilder.model.home import Home
from kitbuilder.model.unit import Booklet, Unit
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.letter_order import AFTER, LOOK_ALIKE, SOUND_ALIKE
from kitbuilder.phonics.tokens import words_in

ROOT = Path(__file__).parents[2]
READABLE = {"decodable", "irregular", "name"}
STORY_PAGES, SENTENCES, MOST_IRREGULAR = 6, 8, 4
LONGEST_SENTENCE = 46  # characters: one line of a strip in large type

# Words that English readers must know by heart, from two published lists: the common exception words of the National
# Curriculum in England, English Appendix 1: Spelling, year 1 (Department for Education, 2013), and E. W. Dolch, "A
# basic sight vocabulary", The Elementary School Journal 36 (1936) 456-460 (only the part that is used here).
NATIONAL_CURRICULUM = (
    "the a do to today of said says are were was is his has I you your they be he me she we no go so by my here there "
    "where love come some one once ask friend school put push pull full house our"
)
DOLCH = "a all and are do down from go has have he her his I is look me my no of out said she the they to was what you"
BY_HEART = frozenset((*NATIONAL_CURRICULUM.split(), *DOLCH.split()))
OUR_OWN = frozenset(("egg",))  # in neither list; a hen's story needs it before gg is taught

# Example words of the same appendix: -s, -ing after a root that ends in two consonant letters, n before k.
TAUGHT_BY_THE_END = ("cats", "dogs", "rocks", "thanks", "hunting", "buzzing", "jumping", "bank", "think", "honk")


def starter(accent: str) -> Home:
    home = load_home(ROOT)
    return replace(home, sequence=home.sequence.model_copy(update={"accent": accent}))


@pytest.fixture(scope="module")
def home() -> Home:
    return starter("us")


@pytest.fixture(scope="module", params=["us", "uk"])
def reader(request: pytest.FixtureRequest) -> FamilyReader:
    log = ProblemLog()
    made = family_reader(starter(request.param), log)
    assert log.problems == []
    return made


def booklets(home: Home) -> Iterator[tuple[Unit, Booklet]]:
    for unit in home.units:
        for booklet in unit.booklets:
            yield unit, booklet


def story_words(booklet: Booklet) -> int:
    return sum(len(words_in(str(page.text))) for page in booklet.pages)


def child_read(unit: Unit) -> Iterator[str]:
    yield from map(str, (*unit.words, *unit.sentences, *unit.copywork))
    for booklet in unit.booklets:
        yield str(booklet.title)
        yield from (str(page.text) for page in booklet.pages)


def test_there_are_twelve_units_in_order(home: Home) -> None:
    assert [unit.unit for unit in home.units] == list(range(1, 13))


def test_every_word_a_child_is_asked_to_read_can_be_read_at_that_unit(home: Home, reader: FamilyReader) -> None:
    """In either accent: a family may change the accent without rewriting the stories."""
    refused = [
        (unit.unit, token.text, text)
        for unit in home.units
        for text in child_read(unit)
        for token in words_in(text)
        if reader.reader.verdict(token.text, unit.unit).verdict not in READABLE
    ]
    assert refused == []


def test_no_keyword_hides_its_sound(reader: FamilyReader) -> None:
    assert reader.warnings == ()


def test_published_example_words_can_be_read_at_the_end_but_not_in_the_middle(reader: FamilyReader) -> None:
    after_twelve = {word: reader.reader.verdict(word, 12).verdict for word in TAUGHT_BY_THE_END}
    assert set(after_twelve.values()) == {"decodable"}
    for word, unit in (("hunting", 10), ("jumping", 10), ("think", 11), ("thanks", 11), ("dogs", 4)):
        assert reader.reader.verdict(word, unit).verdict == "not-yet"


def test_irregular_words_are_few_a_unit_and_never_taught_twice(home: Home) -> None:
    words = [str(word) for unit in home.units for word in unit.irregular]
    assert all(len(unit.irregular) <= MOST_IRREGULAR for unit in home.units)
    assert len(words) == len(set(words))


def test_irregular_words_are_on_published_lists(home: Home) -> None:
    words = {str(word) for unit in home.units for word in unit.irregular}
    assert words - BY_HEART == OUR_OWN


def test_a_word_is_learned_by_heart_only_while_it_cannot_be_sounded_out(home: Home, reader: FamilyReader) -> None:
    early = [
        (unit.unit, str(word))
        for unit in home.units
        for word in unit.irregular
        if "decodable since" in reader.reader.verdict(str(word), unit.unit).note
    ]
    assert early == []


def test_every_irregular_word_is_met_in_its_own_unit(home: Home) -> None:
    for unit in home.units:
        met = {token.text.lower() for text in child_read(unit) for token in words_in(text)}
        assert {str(word).lower() for word in unit.irregular} <= met, unit.file


def test_every_new_correspondence_is_sounded_out_in_the_story_of_its_unit(home: Home, reader: FamilyReader) -> None:
    known: frozenset[Correspondence] = frozenset()
    for unit, booklet in booklets(home):
        taught = reader.reader.taught(unit.unit).correspondences
        verdicts = [v for page in booklet.pages for v in reader.reader.check_text(str(page.text), unit.unit)]
        sounded = [v for v in verdicts if v.verdict == "decodable" or "decodable since" in v.note]
        met = {Correspondence(s.grapheme, s.phoneme) for verdict in sounded for s in verdict.segments}
        assert taught - known - met == frozenset(), unit.file
        known = taught


def test_letters_that_are_easily_confused_never_come_in_one_unit(home: Home) -> None:
    for unit in home.units:
        new = {str(teach.grapheme) for teach in unit.teach}
        assert [pair for pair in (*LOOK_ALIKE, *SOUND_ALIKE) if set(pair) <= new] == [], unit.file


def test_a_letter_team_comes_after_its_letters_or_with_them(home: Home) -> None:
    taught: set[str] = set()
    for unit in home.units:
        taught |= {str(teach.grapheme) for teach in unit.teach}
        for teach in unit.teach:
            assert set(AFTER.get(str(teach.grapheme), ())) <= taught, f"{teach.grapheme} in {unit.file}"


def test_shapes_grow(home: Home) -> None:
    new = {unit.unit: tuple(map(str, unit.shapes)) for unit in home.units if unit.shapes}
    assert new == {1: ("VC", "CVC"), 8: ("CVCC",), 10: ("CCVC",)}


def test_every_unit_has_words_sentences_a_story_and_copywork(home: Home) -> None:
    for unit in home.units:
        assert len(unit.sentences) == SENTENCES, unit.file
        assert unit.booklets, unit.file
        assert 2 <= len(unit.copywork) <= 3, unit.file
        fewest = 5 if unit.unit == 1 else 12  # four letters make five words
        assert fewest <= len(unit.words) <= 20, unit.file
        assert len(unit.words) == len(set(map(str, unit.words))), unit.file


def test_sentences_fit_a_strip(home: Home) -> None:
    long = [str(text) for unit in home.units for text in unit.sentences if len(text) > LONGEST_SENTENCE]
    assert long == []


def test_a_story_has_six_pages_of_text(home: Home) -> None:
    """Cover and word list make eight: two sheets' sides of a small booklet, with no empty page."""
    for unit, booklet in booklets(home):
        assert len(booklet.pages) == STORY_PAGES, unit.file
        assert all(page.text for page in booklet.pages), unit.file


def test_stories_grow_from_a_few_words_to_a_page_full(home: Home) -> None:
    for unit, booklet in booklets(home):
        fewest, most = (25, 45) if unit.unit <= 4 else (45, 100) if unit.unit <= 8 else (80, 150)
        assert fewest <= story_words(booklet) <= most, unit.file


def test_the_first_stories_have_one_sentence_a_page(home: Home) -> None:
    for unit, booklet in booklets(home):
        if unit.unit <= 3:
            for page in booklet.pages:
                assert sum(str(page.text).count(end) for end in ".!?") == 1, f"{page.text} in {unit.file}"


def test_every_picture_and_every_keyword_has_a_drawing(home: Home) -> None:
    names = [str(page.picture) for _, booklet in booklets(home) for page in booklet.pages if page.picture]
    keywords = [str(teach.keyword) for unit in home.units for teach in unit.teach]
    assert [name for name in (*names, *keywords) if find_picture(name) is None] == []


def test_no_keyword_is_used_twice(home: Home) -> None:
    keywords = [str(teach.keyword) for unit in home.units for teach in unit.teach]
    assert len(keywords) == len(set(keywords))


def test_every_character_comes_back(home: Home) -> None:
    """A name costs a child effort, so it must be worth it: at least two stories (the last one to come has only one)."""
    stories = [
        {token.text for page in booklet.pages for token in words_in(str(page.text))} for _, booklet in booklets(home)
    ]
    for unit in home.units[:-1]:
        for name in map(str, unit.names):
            assert sum(name in story for story in stories) >= 2, name


def test_unit_files_start_with_the_line_that_helps_editors_and_a_comment(home: Home) -> None:
    for unit in home.units:
        first, second = (ROOT / unit.file).read_text("utf-8").splitlines()[:2]
        assert first == "# yaml-language-server: $schema=.schema/unit.json", unit.file
        assert second.startswith("# "), unit.file
