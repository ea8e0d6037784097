"""`words` and `order`: what the engine would choose for a unit and why, and a letter order by computation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from kitbuilder.compose.choices import Choices
from kitbuilder.compose.reading import family_reader
from kitbuilder.compose.sources import USUAL_NONSENSE, USUAL_WORDS
from kitbuilder.diagnostics import ProblemLog, stop
from kitbuilder.load.definitions import load_home
from kitbuilder.phonics.chains import ChainStep
from kitbuilder.phonics.letter_order import NoOrderError, OrderOptions
from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.nonsense_words import judge_nonsense
from kitbuilder.phonics.order_words import letter_order
from kitbuilder.phonics.word_choice import decodable_words, new_words
from kitbuilder.telling import Told

CHAIN_LENGTH = 8
SHOWN = 12  # words on a line of an order


def told_words(root: Path, unit_number: int, tries: Sequence[str], seed: int | None = None) -> Told:
    """Return a unit's words with reasons, made-up words and a chain; with `tries`, only the judgements on them."""
    log = ProblemLog()
    home = load_home(root, log)
    if seed is not None:
        home = replace(home, sequence=home.sequence.model_copy(update={"seed": seed}))
    unit = home.unit(unit_number)
    reader = family_reader(home, log).reader
    log.stop_if_any()
    if tries:
        judged = [judge_nonsense(text, reader, unit_number) for text in tries]
        rows = [{"word": j.word, "accepted": j.accepted, "reason": j.reason} for j in judged]
        return Told(tuple(f"{j.word}: {'yes' if j.accepted else 'no'}, {j.reason}" for j in judged), {"try": rows})
    choices = Choices(home, reader)
    words = choices.words(unit, max(USUAL_WORDS, len(unit.words)))
    made_up = choices.nonsense(unit, USUAL_NONSENSE)
    steps = choices.chain(unit_number, CHAIN_LENGTH)
    every, fresh = decodable_words(reader, unit_number), new_words(reader, unit_number)
    width = max((len(w.word) for w in words), default=0)
    lines = [
        f"unit {unit_number}, {unit.title}: {len(every)} words can be read, {len(fresh)} of them new",
        *(f"  {w.word.ljust(width)}  {w.why}" for w in words),
        "made up: " + ", ".join(n.word for n in made_up),
        *sorted({f"  {n.note}" for n in made_up if n.note}),
        "chain: " + " > ".join(step.word for step in steps),
    ]
    if len(made_up) < USUAL_NONSENSE:
        lines.append(f"  there are only {len(made_up)} good made-up words with what was taught")
    data = {
        "unit": unit_number,
        "words": [{"word": w.word, "new": w.new, "why": w.why} for w in words],
        "nonsense": [{"word": n.word, "graphemes": list(n.graphemes), "note": n.note} for n in made_up],
        "chain": [_step(step) for step in steps],
        "readable": len(every),
        "new": len(fresh),
    }
    return Told(tuple(lines), data)


def _step(step: ChainStep) -> dict[str, str | int | None]:
    return {
        "word": step.word,
        "change": step.change,
        "old": step.old,
        "new": step.new,
        "position": step.position,
    }


def told_order(root: Path, start: Sequence[str]) -> Told:
    """Return a letter order with the words each step opens; `start` is a family's fixed beginning.

    Raises:
        ProblemsFound: when `start` holds an unknown grapheme, or no order respects the constraints.
    """
    home = load_home(root, ProblemLog())
    options = OrderOptions(start=tuple(start))
    unknown = [g for g in start if g not in options.graphemes]
    if unknown:
        raise stop(
            f"{unknown[0]!r} is not among the graphemes an order is made of",
            "unknown-grapheme",
            f"they are {', '.join(options.graphemes)}",
        )
    if len(set(start)) < len(start):
        raise stop("the beginning names a grapheme twice", "bad-order", "name each once")
    try:
        steps = letter_order(load_lexicon(home.sequence.accent), options)
    except NoOrderError as error:
        raise stop(f"there is no such order: {error}", "bad-order", "name fewer graphemes with --start") from None
    lines = []
    for step in steps:
        shown = ", ".join(step.unlocked[:SHOWN]) + (", ..." if len(step.unlocked) > SHOWN else "")
        lines.append(
            f"{step.position:2}  {step.grapheme:3} {len(step.unlocked):4} new, {step.readable:4} in all  {shown}"
        )
    rows = [
        {"step": s.position, "grapheme": s.grapheme, "unlocked": list(s.unlocked), "readable": s.readable}
        for s in steps
    ]
    return Told(tuple(lines), {"order": rows})
