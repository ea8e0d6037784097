"""Lists for pages that look back: dictation, the check at a unit's end, a child's record. One item a page."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any

from kitbuilder.compose.jobs import Job
from kitbuilder.compose.phrases import phrased
from kitbuilder.compose.taking_turns import in_turn
from kitbuilder.model.home import Home
from kitbuilder.model.unit import Teach
from kitbuilder.phonics.ranking import ranked

Item = Mapping[str, Any]

SOUNDS, WORDS, MADE_UP, SENTENCES = 10, 10, 5, 2  # of a unit's check
REVIEW_WORDS = 3  # of the ten
# common practice; the figures have no source
_ELSE = (
    "Else repeat: go over what was missed for a few days, and check just that again. Stop whenever the child tires; no "
    "hurry, no clock. (Common practice; the figures have no source.)"
)
_RULE = (
    "Move on when 9 in 10 sounds, 8 in 10 words and 4 in 5 made-up words are right, and each sentence has at most one "
    f"slip. {_ELSE}"
)
_RULE_OF_FEW = (
    "Move on when all sounds but one and all words but one are right, and each sentence has at most one slip. " + _ELSE
)
RECORDED = 48  # on one page of a record, in two columns


def dictation_pages(home: Home, job: Job, words: Sequence[str], phoneme_of: Callable[[Teach], str]) -> tuple[Item, ...]:
    """Return for each form the child's page and the adult's script: sounds, words, a sentence.

    This unit's spellings all come, with the word that tells c from ck; a sound of an earlier unit only when nothing
    listed sounds like it: a child who hears /z/ cannot know whether z, zz or the s of `is` is wanted.
    """
    wanted = {str(teach.grapheme): teach for teach in job.unit.teach}
    heard = {phoneme_of(teach) for teach in wanted.values()}
    for teach in _newest_first(home, job):
        if str(teach.grapheme) not in wanted and phoneme_of(teach) not in heard:
            wanted[str(teach.grapheme)] = teach
            heard.add(phoneme_of(teach))
    asked = {text: _sound(teach) for text, teach in list(wanted.items())[: int(job.options["sounds"])]}
    count = int(job.options["words"])
    sentences = sorted((phrased(str(s))[0] for s in job.unit.sentences), key=lambda s: (len(s), s))
    pages: list[Item] = []
    for form in range(1, job.forms + 1):
        page = {
            "sounds": tuple(asked[text] for text in _shuffled(list(asked), job, form)),
            "words": _shuffled(_turn(words, count, form), job, form),
            "sentences": _turn(sentences, int(job.options["sentences"]), form),
        }
        pages += _for_both(page, form, job)
    return tuple(pages)


def unit_check_pages(home: Home, job: Job, words: Sequence[Item], made_up: Sequence[str]) -> tuple[Item, ...]:
    """Return for each form the child's page and the adult's: ten sounds, ten words, five made-up ones, two sentences.

    Seven words are new in this unit when it has so many, the others review.
    """
    new = [str(w["text"]) for w in in_turn([w for w in words if w["new"]], lambda w: w["fresh"])]
    old = [str(w["text"]) for w in words if not w["new"]]
    review = min(REVIEW_WORDS, len(old))
    known = {str(sound["text"]): sound for sound in _sounds(home, job, SOUNDS)}
    pages: list[Item] = []
    for form in range(1, job.forms + 1):
        fresh = _turn(new, WORDS - review, form)
        read = _shuffled((*fresh, *_turn(old, WORDS - len(fresh), form)), job, form)
        strange = _shuffled(_turn(made_up, MADE_UP, form), job, form)
        sounds = tuple(known[text] for text in _shuffled(list(known), job, form))
        page = {
            "sounds": sounds,
            "words": read,
            "made_up": strange,
            "sentences": _turn([phrased(str(s))[0] for s in job.unit.sentences], SENTENCES, form),
            "rule": _RULE if len(read) == WORDS and len(strange) == MADE_UP else _RULE_OF_FEW,
            "letters": tuple(s["text"] for s in sounds),
            "one_size": (*read, *strange),
            "parts": (
                # letters may have more than one sound: the keyword says which is asked for
                _part("Sounds (if the child says another, ask what else the letters can say)", sounds),
                _part("Words", [{"text": word} for word in read]),
                _part("Made-up words", [{"text": word} for word in strange]),
            ),
        }
        pages += _for_both(page, form, job)
    return tuple(pages)


def _part(head: str, items: Sequence[Item]) -> Item:
    marked = tuple({"text": item["text"], "keyword": item.get("keyword", "")} for item in items)
    return {"head": head, "words": tuple(item["text"] for item in items), "marked": marked}


def record_pages(home: Home, job: Job, retired: Callable[[str], bool]) -> tuple[Item, ...]:
    """Return pages of all the sequence teaches: correspondences first, then words learnt by heart, by unit.

    `retired` tells of a word that it can be sounded out by now.
    """
    knows = {str(word) for word in job.learner.knows} if job.learner else set()
    sounds = [_entry(u.unit, str(t.grapheme), f"as in {t.keyword}", knows) for u in home.units for t in u.teach]
    irregular = [_entry(u.unit, str(w), "", knows) for u in home.units for w in u.irregular if not retired(str(w))]
    pages = [
        {"text": heading, "entries": tuple(entries[start : start + RECORDED]), "place": job.asked_at}
        for heading, entries in (("Letters and sounds", sounds), ("Words learnt by heart", irregular))
        for start in range(0, len(entries), RECORDED)
    ]
    return tuple({**page, "number": i, "of": len(pages)} for i, page in enumerate(pages, 1))


def _entry(unit: int, text: str, about: str, knows: Collection[str]) -> Item:
    return {"unit": unit, "text": text, "about": about, "known": text in knows}


def _sounds(home: Home, job: Job, count: int) -> tuple[Item, ...]:
    """Return this unit's correspondences, then the latest of the units before, each grapheme once."""
    found: dict[str, Teach] = {}
    for teach in _newest_first(home, job):
        found.setdefault(str(teach.grapheme), teach)
    return tuple(map(_sound, list(found.values())[:count]))


def _newest_first(home: Home, job: Job) -> Iterable[Teach]:
    for unit in sorted((u for u in home.units if u.unit <= job.unit.unit), key=lambda u: -u.unit):
        yield from unit.teach


def _sound(teach: Teach) -> Item:
    return {"text": str(teach.grapheme), "keyword": str(teach.keyword)}


def _turn(texts: Sequence[str], count: int, form: int) -> tuple[str, ...]:
    """Return `count` texts, each form beginning where the one before ended; all of them when there are no more."""
    if len(texts) <= count:
        return tuple(texts)
    start = (form - 1) * count
    return tuple(texts[(start + i) % len(texts)] for i in range(count))


def _shuffled(texts: Sequence[str], job: Job, form: int) -> tuple[str, ...]:
    """Return the texts of a further form in another order: a child remembers a list it has read."""
    return tuple(texts) if form == 1 else tuple(ranked(texts, job.seed, job.unit.unit, f"form {form}"))


def _for_both(page: Item, form: int, job: Job) -> Iterable[Item]:
    for role in ("child", "adult"):
        yield {**page, "form": form, "role": role, "text": f"{role}’s page, form {form}", "place": job.asked_at}
