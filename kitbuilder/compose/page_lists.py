"""The named lists whose items are whole pages: sounds in words, dictation, checks, records, stories to retell."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from kitbuilder.compose import check_pages, sound_pages
from kitbuilder.compose.choices import Choices
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.picture_book import PictureBook
from kitbuilder.compose.taking_turns import in_turn
from kitbuilder.model.home import Home
from kitbuilder.model.unit import Teach
from kitbuilder.phonics.keywords import KeywordProblem, sound_of

Item = Mapping[str, Any]
Listed = Callable[[Job], tuple[Item, ...]]
MOST_LOOKED_AT = 120  # words, where only some of the unit's words will do


class PageLists:
    """Makes the pages' items from what the unit writes and what is chosen for it."""

    def __init__(self, home: Home, choices: Choices, pictures: PictureBook, words: Listed, nonsense: Listed) -> None:
        self.home = home
        self.choices = choices
        self.pictures = pictures
        self._words = words
        self._nonsense = nonsense
        self._spelt_by: dict[tuple[int, str], tuple[str, ...]] = {}  # unit and kind: the same for every child

    def named(self) -> dict[str, Listed]:
        """Return the lists by name."""
        return {
            "booklets": self.booklets,
            "dictation": self.dictation,
            "records": self.records,
            "sound-boxes": self.sound_boxes,
            "sound-gaps": self.sound_gaps,
            "unit-check": self.unit_check,
            "word-chains": self.word_chains,
        }

    def sound_boxes(self, job: Job) -> tuple[Item, ...]:
        if job.options.get("of") == "blank":
            return sound_pages.blank_box_pages(job.asked_at)
        wanted = int(job.options["words"]) * job.forms
        words = [(str(w["text"]), str(w["prompt"])) for w in self._words(job)]
        known = self.choices.review(job.unit, MOST_LOOKED_AT, "sound boxes")
        review = [(c.word, prompt) for c in known if (prompt := self.pictures.prompt(c.word))]
        chosen = sound_pages.half_new(words, review, wanted)
        return sound_pages.sound_box_pages(chosen, wanted, self.choices.reader, job.unit.unit, job.asked_at)

    def sound_gaps(self, job: Job) -> tuple[Item, ...]:
        position = str(job.options["position"])
        words = [(word, self.pictures.prompt(word)) for word in self._spelt(job, "sound-gap")]
        return sound_pages.sound_gap_pages(words, self.choices.reader, job.unit.unit, position, job.forms, job.asked_at)

    def word_chains(self, job: Job) -> tuple[Item, ...]:
        unit, length = job.unit.unit, int(job.options["words"])
        chains = [self.choices.chain(unit, length, form) for form in range(1, job.forms + 1)]
        return sound_pages.word_chain_pages(chains, self.choices.spellable(unit), job.asked_at)

    def dictation(self, job: Job) -> tuple[Item, ...]:
        return check_pages.dictation_pages(self.home, job, self._spelt(job, "dictation"), self._phoneme)

    def unit_check(self, job: Job) -> tuple[Item, ...]:
        made_up = [str(w["text"]) for w in self._nonsense(job)]
        return check_pages.unit_check_pages(self.home, job, self._words(job), made_up)

    def records(self, job: Job) -> tuple[Item, ...]:
        reader, unit = self.choices.reader, job.unit.unit
        return check_pages.record_pages(self.home, job, lambda word: reader.decodable_since(word, unit) is not None)

    def booklets(self, job: Job) -> tuple[Item, ...]:
        return tuple(
            {
                "text": str(b.title),
                "picture": str(b.picture or ""),
                "questions": " · ".join(str(q) for q in b.questions),
                "place": b.title.location,
            }
            for b in job.unit.booklets
        )

    def _spelt(self, job: Job, kind: str) -> tuple[str, ...]:
        """Return words the child can read and spell: new ones first, every new spelling in turn, then review."""
        unit = job.unit.unit
        if (unit, kind) not in self._spelt_by:
            self._spelt_by[unit, kind] = self._spelt_words(job, kind)
        return self._spelt_by[unit, kind]

    def _spelt_words(self, job: Job, kind: str) -> tuple[str, ...]:
        unit = job.unit.unit
        spelt = self.choices.spellable(unit)
        chosen = [c for c in self.choices.words(job.unit, MOST_LOOKED_AT, kind) if c.word in spelt]
        new = in_turn([c.word for c in chosen if c.new], lambda word: self.choices.new_spellings(word, unit))
        return (*new, *(c.word for c in chosen if not c.new))

    def _phoneme(self, teach: Teach) -> str:
        """Return the sound that the keyword shows; the keyword itself where it shows none, which is told elsewhere."""
        try:
            return sound_of(str(teach.grapheme), str(teach.keyword), self.choices.reader.lexicon)[0].phoneme
        except KeywordProblem:
            return str(teach.keyword)
