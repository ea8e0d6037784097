"""The named lists a unit offers: what a kind can be made for. Every item carries the place that asked for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from kitbuilder.artwork.letter_strokes import how_written, letter_shape
from kitbuilder.compose.box import missing_tiles, tiles_needed
from kitbuilder.compose.card_lists import dividers, pair_cards, sentence_pages, slips
from kitbuilder.compose.choices import Choices
from kitbuilder.compose.jobs import FormatOf, Job
from kitbuilder.compose.page_lists import PageLists
from kitbuilder.compose.phrases import phrased, without_slashes
from kitbuilder.compose.picture_book import PictureBook
from kitbuilder.compose.tile_groups import NEVER_FIRST, group_of, group_rank
from kitbuilder.diagnostics import Location, stop
from kitbuilder.model.home import Home
from kitbuilder.model.templates import KindTemplate
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Teach
from kitbuilder.phonics import ipa
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.keywords import KeywordProblem, sound_of

Item = Mapping[str, Any]
USUAL_WORDS, USUAL_NONSENSE = 18, 10  # 15 to 25 words, 8 to 12 made-up ones a unit (common practice, no source)
MOST_LOOKED_AT = 120  # words, when only those with a picture will do
DIVIDER_ABOUT = {
    "new": "this week’s cards: every day",
    "review": "not sure yet: every other day",
    "known": "read at once: now and then",
}


class Sources:
    """Answers with the items of a named list for a job.

    An item is a mapping: `text` is what it says, `place` the line that asked for it. Words carry `graphemes`,
    `fresh` (those with a sound they have from this unit on), `new` (this unit makes it readable), `odd` (spans that do
    not follow what was taught), `picture` (of that name, or "") and `prompt` (the same where the picture alone asks for
    the word).
    """

    def __init__(
        self,
        home: Home,
        pictures: PictureBook,
        reader: Reader,
        choices: Choices | None = None,
        format_of: FormatOf | None = None,
    ) -> None:
        self.home = home
        self.pictures = pictures
        self.reader = reader
        self.choices = choices or Choices(home, reader)
        self.format_of = format_of  # of other kinds, for lists that count their pages
        self.kinds: Mapping[str, KindTemplate] = {}  # set when a pack is composed: what a week's contents are told by
        self._lists: dict[str, Callable[[Job], tuple[Item, ...]]] = {
            "unit": lambda job: ({"text": str(job.unit.title), "place": job.asked_at},),
            "new-correspondences": lambda job: tuple(self.correspondence(teach) for teach in job.unit.teach),
            "taught-correspondences": self._taught_correspondences,
            "missing-tiles": self._missing_tiles,
            "words": self.words,
            "nonsense-words": self.nonsense_words,
            "irregular-words": lambda job: self.irregular_words(job.unit.unit, job.unit.irregular),
            "names": lambda job: self._texts(job.unit.names),
            "sentences": lambda job: self._texts(job.unit.sentences),
            "retired-words": self.retired_words,
            "word-cards": self.word_cards,
            "pair-cards": self._pair_cards,
            "dividers": lambda job: dividers(job.options["labels"], DIVIDER_ABOUT),
            "sentence-pages": lambda job: sentence_pages(
                self._texts(job.unit.sentences), int(job.options["sentences"]), job.forms
            ),
            "slips": lambda job: slips(job.options["texts"]),
            "copywork": self._copywork,
            **PageLists(self.home, self.choices, self.pictures, self.words, self.nonsense_words).named(),
        }

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(sorted(self._lists))

    def listed(self, name: str, job: Job) -> tuple[Item, ...]:
        """Return the items of the list for the job; raises ProblemsFound for a list that does not exist."""
        if name not in self._lists:
            raise stop(
                f"kind {job.kind.name!r} is made for {name!r}, which is no list",
                "bad-kind",
                f"known lists are {', '.join(self.names)}",
                job.kind.location,
            )
        return self._lists[name](job)

    def words(self, job: Job, wanted: int | None = None) -> tuple[Item, ...]:
        """Return the unit's decodable words: its own first, filled up by the engine."""
        count = wanted or job.count or int(job.options.get("words", 0)) or USUAL_WORDS
        places = {str(w): w.location for w in job.unit.words}
        chosen = self.choices.words(job.unit, max(count, len(places)))
        return tuple(self.word(c.word, job, places.get(c.word), new=c.new) for c in chosen)

    def nonsense_words(self, job: Job, wanted: int | None = None) -> tuple[Item, ...]:
        """Return made-up words: the unit's own first, filled up by the engine."""
        count = wanted or job.count or int(job.options.get("nonsense", 0)) or USUAL_NONSENSE
        own = [
            {"text": str(w), "graphemes": tuple(w), "new": True, "made_up": True, "place": w.location}
            for w in job.unit.nonsense
        ]
        made = [
            {"text": n.word, "graphemes": n.graphemes, "new": n.new, "made_up": True, "place": job.asked_at}
            for n in self.choices.nonsense(job.unit, max(0, count - len(own)))
        ]
        return (*own, *made)

    def word(self, text: str, job: Job, place: Location | None = None, *, new: bool = False) -> Item:
        """Return a real word as an item."""
        return {
            "text": text,
            "graphemes": self.choices.graphemes(text, job.unit.unit),
            "fresh": self.choices.new_spellings(text, job.unit.unit),
            "new": new,
            "made_up": False,
            "picture": self.picture_of(text),
            "prompt": self.pictures.prompt(text),
            "place": place or job.asked_at,
        }

    def irregular_words(self, unit: int, words: tuple[Placed, ...]) -> tuple[Item, ...]:
        """Return words learnt by heart, with the spans of letters that do not follow what was taught."""
        return tuple(
            {"text": str(w), "odd": self.choices.odd_letters(str(w), unit), "place": w.location, "number": i}
            for i, w in enumerate(words, 1)
        )

    def retired_words(self, job: Job) -> tuple[Item, ...]:
        """Return words taught by heart in earlier units that can be sounded out from this unit on."""
        number = job.unit.unit
        words = [(u.unit, w) for u in self.home.units if u.unit < number for w in u.irregular]
        return tuple(
            {"text": str(w), "unit": unit, "place": w.location}
            for unit, w in words
            if self.reader.decodable_since(str(w), number) == number
        )

    def word_cards(self, job: Job, wanted: int | None = None) -> tuple[Item, ...]:
        """Return the unit's words, or made-up ones when the kind's option `of` asks for them."""
        made_up = job.options.get("of") == "made-up"
        return self.nonsense_words(job, wanted) if made_up else self.words(job, wanted)

    def correspondence(self, teach: Teach) -> Item:
        """Return what a letter card needs: both cases, keyword, picture and group."""
        grapheme, keyword = str(teach.grapheme), str(teach.keyword)
        upper = grapheme if "_" in grapheme or grapheme in NEVER_FIRST else grapheme[:1].upper() + grapheme[1:]
        return {
            "text": grapheme,
            "lower": grapheme,
            "upper": upper,
            "both": f"{upper} {grapheme}" if upper != grapheme else grapheme,
            "keyword": keyword,
            "picture": self.picture_of(keyword),
            "group": group_of(grapheme),
            "formation": f"{grapheme}: {shape.words}" if (shape := letter_shape(grapheme)) else "",
            "formations": how_written(grapheme),
            "place": teach.grapheme.location,
        }

    def sounds_so_far(self, job: Job) -> tuple[Item, ...]:
        """Return what `taught-correspondences` has, each with its phoneme; unclear keywords are left out."""
        found = []
        for item in self._taught_correspondences(job):
            try:
                link, _ = sound_of(str(item["text"]), str(item["keyword"]), self.reader.lexicon)
            except KeywordProblem:  # told elsewhere, at its line
                continue
            symbols = ipa.symbols(link.phoneme, str(self.home.sequence.accent))
            found.append({**item, "phoneme": link.phoneme, "symbols": symbols, "new": item["unit"] == job.unit.unit})
        return tuple(found)

    def picture_of(self, word: str) -> str:
        """Return the word when a picture of that name exists, else nothing."""
        return word if self.pictures.find(word) else ""

    def _texts(self, texts: tuple[Placed, ...]) -> tuple[Item, ...]:
        """Return texts as items; slashes that mark phrases are taken out.

        `own` are their places, `breaks` the same or, where there are none, those of commas.
        """
        read = [(*phrased(str(t)), without_slashes(str(t))[1], t.location) for t in texts]
        return tuple(
            {"text": text, "breaks": breaks, "own": own, "number": i, "place": place}
            for i, (text, breaks, own, place) in enumerate(read, 1)
        )

    def _copywork(self, job: Job) -> tuple[Item, ...]:
        """Return what the unit has to copy; more forms bring as many again of its sentences that are no longer."""
        own = job.unit.copywork
        known, longest = set(map(str, own)), max((len(text) for text in own), default=0)
        more = [text for text in job.unit.sentences if str(text) not in known and len(text) <= longest]
        return self._texts((*own, *more)[: len(own) * job.forms])

    def _pair_cards(self, job: Job) -> tuple[Item, ...]:
        of, wanted = str(job.options["of"]), int(job.options["pairs"])
        if of == "letters":  # the newest first
            return pair_cards(reversed(self._taught_correspondences(job)), of, wanted)
        return pair_cards(self.words(job, MOST_LOOKED_AT if of == "pictures" else wanted), of, wanted)

    def _taught_correspondences(self, job: Job) -> tuple[Item, ...]:
        units = [u for u in self.home.units if u.unit <= job.unit.unit]
        return tuple({**self.correspondence(t), "unit": u.unit} for u in units for t in u.teach)

    def _missing_tiles(self, job: Job) -> tuple[Item, ...]:
        needs = missing_tiles(self.home, self.choices, job.unit.unit, self._tile_rule(job))
        empty = {"text": "", "group": "consonant", "wide": False, "blank": True, "place": job.asked_at}
        blanks = int(job.options.get("blanks", 0))
        made = tuple(
            {
                "text": need.text,
                "group": need.group,
                "blank": False,
                "copies": need.count,
                "wide": len(need.text.strip("-")) > 2,
                "place": job.asked_at,
            }
            for need in needs
        )
        return (*made, {**empty, "copies": blanks}) if blanks else made

    def tiles_so_far(self, job: Job) -> tuple[Item, ...]:
        """Return one tile of each grapheme and suffix taught so far, group by group."""
        texts = tiles_needed(self.home, self.choices, job.unit.unit, (1, 1))
        ordered = sorted(texts, key=lambda text: (group_rank(group_of(text)), text))
        return tuple({"text": t, "group": group_of(t), "wide": len(t.strip("-")) > 2} for t in ordered)

    def _tile_rule(self, job: Job) -> tuple[int, int]:
        """Return how many of each common tile at least, and how many children build at once."""
        builders = int(job.options.get("builders", 0)) or max(1, len(self.home.learners))
        return int(job.options.get("least", 2)), builders
