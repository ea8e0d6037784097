"""What a unit brings: each new correspondence, ending, shape and spelling rule, with words a child can read now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.phonics.suffixes import suffix_uses

Rule = Mapping[str, Any]
EXAMPLES, PAIRS, LOOKED_AT = 18, 4, 150
PLAIN_RULES = {
    "doubling": "the last letter is doubled before the ending",
    "drop-e": "the last e goes before the ending",
    "y-to-i": "y turns into i before the ending",
}
PLAIN_SHAPES = {
    "VC": "a vowel and a consonant",
    "CV": "a consonant and a vowel",
    "CVC": "consonant, vowel, consonant",
    "CVCC": "two consonants at the end",
    "CCVC": "two consonants at the beginning",
    "CCVCC": "two consonants at both ends",
    "CVCCC": "three consonants at the end",
    "CCCVC": "three consonants at the beginning",
    "CCCVCC": "three consonants at the beginning, two at the end",
    "two-syllable": "words of two syllables",
    "compound": "two words in one",
}


def new_rules(job: Job, sources: Sources) -> tuple[Rule, ...]:
    """Return what is new: `head`, its look (letters, ending or words), what an adult is told, a picture, examples.

    `across` is 1 for examples that are pairs of words, else how many may stand in a line. A pattern's or a rule's head
    is plain words, because a child sees it; its short name is for the adult.
    """
    items = sources.words(job, LOOKED_AT)
    fresh = [item for item in items if item["new"]] or list(items)
    return (
        *_letters(job, sources, fresh),
        *_endings(job, sources, items),
        *_shapes(job, sources, fresh),
    )


def _letters(job: Job, sources: Sources, items: Sequence[Mapping[str, Any]]) -> Iterator[Rule]:
    taught = [item for item in sources.sounds_so_far(job) if item["new"]]
    for item in taught:
        words = [str(i["text"]) for i in items if _sounds(str(i["text"]), job, sources) & {_key(item)}]
        yield _rule(str(item["text"]), f"as in {item['keyword']}", words, picture=item["picture"])


def _key(item: Mapping[str, Any]) -> tuple[str, str]:
    return str(item["text"]), str(item["phoneme"])


def _sounds(word: str, job: Job, sources: Sources) -> set[tuple[str, str]]:
    segments = sources.reader.verdict(word, job.unit.unit).segments
    return {(segment.grapheme, segment.phoneme) for segment in segments}


def _endings(job: Job, sources: Sources, items: Sequence[Mapping[str, Any]]) -> Iterator[Rule]:
    lexicon = sources.reader.lexicon
    for suffix in job.unit.suffixes:
        found: list[str] = []
        ruled: dict[str, list[str]] = {}
        for item in items:
            word = str(item["text"])
            entry = lexicon.get(word)
            for sounds in entry.pronunciations[:1] if entry else ():
                for use, *more in suffix_uses(word, sounds, lexicon):
                    if more or use.suffix != str(suffix):
                        continue
                    if use.rule is None:
                        found.append(word)
                    elif use.rule in set(map(str, job.unit.spelling_rules)):
                        ruled.setdefault(use.rule, []).append(f"{use.stem} – {word}")
        yield _rule(str(suffix), "an ending", list(dict.fromkeys(found)), look="ending")
        for rule, words in sorted(ruled.items()):
            yield _rule(PLAIN_RULES[rule], rule, list(dict.fromkeys(words)), look="words")


def _shapes(job: Job, sources: Sources, items: Sequence[Mapping[str, Any]]) -> Iterator[Rule]:
    for shape in map(str, job.unit.shapes):
        words = [str(item["text"]) for item in items if _has_shape(item, shape)]
        if words:
            plain = PLAIN_SHAPES.get(shape, shape)
            yield _rule(plain, shape if plain != shape else "", words, look="words")


def _has_shape(item: Mapping[str, Any], shape: str) -> bool:
    marks = "".join("V" if str(g)[0] in "aeiou" else "C" for g in item["graphemes"])
    return marks == shape


def _rule(head: str, told: str, words: Sequence[str], *, look: str = "letters", picture: str = "") -> Rule:
    across = 1 if any(" " in word for word in words) else 3
    shown = tuple(words[: PAIRS if across == 1 else EXAMPLES])
    return {"head": head, "look": look, "told": told, "picture": picture, "examples": shown, "across": across}
