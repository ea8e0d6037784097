"""Unit sheets: one page for the adult, worked out from the plan."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.contents import week_contents
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.listening import listen_for
from kitbuilder.compose.sheet_rows import HEAD_POINTS, JOIN, Lines, Part, Row, Setter, Table, kept_together
from kitbuilder.compose.sources import Sources

HEAD_MM, FOOT_MM = 18.0, 10.0
LEAST_GAP_MM, MOST_GAP_MM = 5.0, 11.0  # between rows, the rule in its middle
NOTES_MM, NOTE_MM = 26.0, 9.0  # the least room that is worth lines to write on; from line to line
LARGEST, LEAST, STEP = 1.18, 0.4, 0.97  # scales of the type: the largest at which all of it stands on one page
WORDS, SENTENCES = 13.0, 12.5  # points


def compose_unit_sheets(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the sheet."""
    width, height = clear_size_mm(job.format)
    height -= HEAD_MM + FOOT_MM
    rows = [row for row in _rows(job, sources) if row.parts]
    made = SetMaker(job, faces)
    scale = LARGEST
    while True:
        done = Setter(faces.workshop.font, width, scale).set(rows)
        left = height - sum(tall for _, tall in done)
        if left >= LEAST_GAP_MM * len(done) or scale < LEAST:
            break
        scale *= STEP
    made.add("unit-sheet", str(job.unit.title), _spread([(*row,) for row in done], left, height, scale))
    return made.done


def _spread(
    done: Sequence[tuple[Sequence[dict[str, Any]], float]], left: float, height: float, scale: float
) -> dict[str, Any]:
    """Return the texts, the rules between rows, and lines for notes where the page has room for them.

    What is left is air between the rows, up to a measure; the rest is for notes.
    """
    notes = left - MOST_GAP_MM * len(done) >= 0 or left - (LEAST_GAP_MM + 2) * len(done) >= NOTES_MM
    gap = (left - NOTES_MM if notes else left) / len(done)
    gap = max(LEAST_GAP_MM, min(MOST_GAP_MM, gap))
    texts: list[dict[str, Any]] = []
    rules = []
    y = 0.0
    for items, tall in done:
        texts += [{**item, "y": y + item["y"]} for item in items]
        y += tall + gap
        rules.append(y - gap / 2)
    lines = int((height - y - 1) / NOTE_MM) if notes else 0
    return {
        "texts": tuple(texts),
        "rules": tuple(rules if lines else rules[:-1]),
        "notes": {"y": y, "lines": lines, "size": f"{HEAD_POINTS * scale:.2f} pt"},
    }


def _rows(job: Job, sources: Sources) -> tuple[Row, ...]:
    words = [str(item["text"]) for item in sources.words(job)]
    sentences = [str(item["text"]) for item in sources.listed("sentences", job)]
    made_up = [str(item["text"]) for item in sources.nonsense_words(job)]
    return (
        Row("Take out", (_take_out(job, sources),)),
        Row("Say", _say(job, sources)),
        Row(f"By heart for{JOIN}now", _by_heart(job, sources)),
        Row(f"No longer by{JOIN}heart", _retired(job, sources)),
        Row("Listen for", _some(listen_for(sources.sounds_so_far(job)), bullets=True)),
        Row(f"Words of the{JOIN}week", _run(words, WORDS)),
        Row("Made up", _run(made_up, WORDS), "to see whether sounds are read"),
        Row("Sentences", (Lines(tuple(sentences), SENTENCES, halves=True),) if sentences else ()),
        Row("Stories", _stories(job)),
        Row("Put away", (_put_away(),)),
    )


def _some(texts: Sequence[str], points: float = 10.5, *, bullets: bool = False) -> tuple[Part, ...]:
    return (Lines(tuple(texts), points, bullets),) if texts else ()


def _run(words: Sequence[str], points: float) -> tuple[Part, ...]:
    return _some([", ".join(words)] if words else [], points)


def _take_out(job: Job, sources: Sources) -> Lines:
    contents = week_contents(job, sources)
    lines = []
    # how many pages a child has depends on its forms: the envelope's label counts them
    for kept, where in ((True, "new for the box"), (False, "from the child’s envelope")):
        told = [c["title"].lower() + (f" ({c['count']})" if c["count"] and kept else "")
                for c in contents if c["kept"] is kept]  # fmt: skip
        if told:
            lines.append(f"{where}: {', '.join(kept_together(told))}")
    return Lines((*lines, "the review box: cards behind review, and a few that are known"), bullets=True)


def _say(job: Job, sources: Sources) -> tuple[Part, ...]:
    new = [item for item in sources.sounds_so_far(job) if item["new"]]
    cells = [(str(item["text"]), f"as in {item['keyword']}") for item in new]
    endings = [(str(ending), "an ending; read the word first, then the word with it") for ending in job.unit.suffixes]
    tables = tuple(Table(tuple(some)) for some in (cells, endings) if some)
    if not tables:
        return ()
    told = "Say the sound, not the letter’s name.", "Build words with the tiles, read them, then write one."
    return (*tables, Lines(told))


def _by_heart(job: Job, sources: Sources) -> tuple[Part, ...]:
    words = sources.irregular_words(job.unit.unit, job.unit.irregular)
    if not words:
        return ()
    cells = tuple((f"{w['text']}:", _odd(str(w["text"]), w["odd"])) for w in words)
    told = "Sound out what can be sounded out; only the named letters are learnt by heart."
    return Table(cells, strong_points=12.5), Lines((told,))


def _odd(word: str, spans: tuple[tuple[int, int], ...]) -> str:
    odd = " and ".join(word[a:b] for a, b in spans)
    if not odd:
        return "every letter can be sounded out"
    if odd == word:
        return "the whole word"
    return f"the letter{'s' if len(odd) > 1 else ''} {odd}"


def _retired(job: Job, sources: Sources) -> tuple[Part, ...]:
    words = [str(item["text"]) for item in sources.retired_words(job)]
    if not words:
        return ()
    them = "them" if len(words) > 1 else "it"
    told = f"{', '.join(words)}: can be sounded out from now on.", f"Take {them} out of the words learnt by heart."
    return (Lines(told),)


def _put_away() -> Lines:
    return Lines(
        (
            "cards read at once on three days: behind known",
            "the others: behind review; the new ones stay in front",
            "tiles counted back into their box, the child’s pages into the envelope",
        ),
        bullets=True,
    )


def _stories(job: Job) -> tuple[Part, ...]:
    names = ", ".join(map(str, job.unit.names))
    lines = [f"{booklet.title} ({len(booklet.pages)} pages)" for booklet in job.unit.booklets]
    if names:
        lines.append(f"Names you read with the child: {names}")
    return _some(lines)
