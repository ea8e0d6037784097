"""The named lists a unit offers: what a kind can be made for. Every item carries the place that asked for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from kitbuilder.compose.box import missing_tiles
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.picture_book import PictureBook
from kitbuilder.compose.tile_groups import group_of
from kitbuilder.diagnostics import stop
from kitbuilder.model.home import Home
from kitbuilder.model.text import Placed
from kitbuilder.model.unit import Teach
from kitbuilder.phonics.decodability import Reader

Item = Mapping[str, Any]


class Sources:
    """Answers with the items of a named list for a job."""

    def __init__(self, home: Home, pictures: PictureBook, reader: Reader) -> None:
        self.home = home
        self.pictures = pictures
        self.reader = reader
        self._lists: dict[str, Callable[[Job], tuple[Item, ...]]] = {
            "unit": lambda job: ({"text": "", "place": job.asked_at},),
            "new-correspondences": self._new_correspondences,
            "missing-tiles": self._missing_tiles,
            "sentences": lambda job: self._texts(job.unit.sentences),
            "words": lambda job: self._texts(job.unit.words),
            "irregular-words": lambda job: self._texts(job.unit.irregular),
            "names": lambda job: self._texts(job.unit.names),
            "copywork": lambda job: self._texts(job.unit.copywork),
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

    def _texts(self, texts: tuple[Placed, ...]) -> tuple[Item, ...]:
        return tuple({"text": str(t), "number": i, "place": t.location} for i, t in enumerate(texts, 1))

    def _new_correspondences(self, job: Job) -> tuple[Item, ...]:
        return tuple(self._correspondence(teach) for teach in job.unit.teach)

    def _correspondence(self, teach: Teach) -> Item:
        grapheme = str(teach.grapheme)
        keyword = str(teach.keyword)
        upper = grapheme if "_" in grapheme else grapheme[:1].upper() + grapheme[1:]
        return {
            "text": grapheme,
            "lower": grapheme,
            "upper": upper,
            "both": f"{upper} {grapheme}" if upper != grapheme else grapheme,
            "keyword": keyword,
            "picture": keyword if self.pictures.find(keyword) else "",
            "group": group_of(grapheme),
            "place": teach.grapheme.location,
        }

    def _missing_tiles(self, job: Job) -> tuple[Item, ...]:
        least = int(job.options.get("least", 2))
        return tuple(
            {
                "text": need.text,
                "group": need.group,
                "copies": need.count,
                "wide": len(need.text.strip("-")) > 2,
                "place": job.asked_at,
            }
            for need in missing_tiles(self.home, job.unit.unit, least)
        )
