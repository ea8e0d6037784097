"""Unit sheets: one page for the adult, worked out from the plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.contents import week_contents
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.listening import listen_for
from kitbuilder.compose.sources import Sources

HEAD_MM, FOOT_MM, GUTTER_MM = 16.0, 9.0, 8.0
LEADING = 1.32
POINT_MM = 25.4 / 72
LETTER_EM = 0.53  # of the size: the usual width of a letter of this type
TITLE_MM, BETWEEN_MM = 6.5, 4.0
SCALES = (1.12, 1.06, 1.0, 0.94, 0.88, 0.82, 0.76, 0.7)  # of the type, until all of it stands on one page


@dataclass(frozen=True, slots=True)
class _Block:
    head: str
    lines: tuple[str, ...]
    large: bool = False

    def size(self, scale: float) -> float:
        """Return the size of the type in points."""
        return (13 if self.large else 10.5) * scale

    def height(self, width_mm: float, scale: float) -> float:
        """Return the height in mm the block will need, a little generously."""
        size = self.size(scale) * POINT_MM
        on_a_line = width_mm / (size * LETTER_EM)
        rows = sum(1 + int(len(line) / on_a_line) for line in self.lines)
        return TITLE_MM + rows * size * LEADING + BETWEEN_MM


def compose_unit_sheets(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return the sheet."""
    width, height = clear_size_mm(job.format)
    height -= HEAD_MM + FOOT_MM
    half = (width - GUTTER_MM) / 2
    left = [_take_out(job, sources), _say(job, sources), _by_heart(job, sources)]
    right = [_listen(job, sources), _retired(job, sources), _put_away(job)]
    full = [_words(job, sources), _made_up(job, sources), _sentences(job, sources), _stories(job)]
    for scale in SCALES:
        blocks: list[dict[str, Any]] = []
        columns = ((left, 0.0), (right, half + GUTTER_MM))
        top = max(_stacked(column, x, half, 0, blocks, scale) for column, x in columns)
        if _stacked(full, 0, width, top, blocks, scale) <= height:
            break
    made = SetMaker(job, faces)
    made.add("unit-sheet", str(job.unit.title), {"blocks": tuple(blocks)})
    return made.done


def _stacked(
    blocks: Iterable[_Block], x: float, width: float, top: float, onto: list[dict[str, Any]], scale: float
) -> float:
    """Place the blocks that have lines one below the other; return where the next one would begin."""
    y = top
    for block in blocks:
        if not block.lines:
            continue
        height = block.height(width, scale)
        text = "\n".join(block.lines)
        onto.append({"head": block.head, "text": text, "size": block.size(scale), "x": x, "y": y, "width": width,
                     "height": height - BETWEEN_MM})  # fmt: skip
        y += height
    return y


def _take_out(job: Job, sources: Sources) -> _Block:
    contents = week_contents(job, sources)
    lines = []
    for kept, where in ((True, "new for the box"), (False, "from the child’s envelope")):
        told = [c["title"].lower() + (f" ({c['count']})" if c["count"] else "") for c in contents if c["kept"] is kept]
        if told:
            lines.append(f"– {where}: {', '.join(told)}")
    return _Block("Take out", (*lines, "– the review box: cards behind review, and a few that are known"))


def _say(job: Job, sources: Sources) -> _Block:
    new = [item for item in sources.sounds_so_far(job) if item["new"]]
    lines = [f"{item['text']} says /{item['symbols']}/, as in {item['keyword']}" for item in new]
    lines += [f"{ending}: an ending; read the word first, then the word with it" for ending in job.unit.suffixes]
    if lines:
        lines.append("Say the sound, not the letter’s name. Build words with the tiles, read them, then write one.")
    return _Block("Say", tuple(lines))


def _by_heart(job: Job, sources: Sources) -> _Block:
    words = sources.irregular_words(job.unit.unit, job.unit.irregular)
    lines = [_odd(str(w["text"]), w["odd"]) for w in words]
    if lines:
        lines.append("Sound out what can be sounded out; only the named letters are learnt by heart.")
    return _Block("By heart for now", tuple(lines))


def _odd(word: str, spans: tuple[tuple[int, int], ...]) -> str:
    odd = " and ".join(word[a:b] for a, b in spans)
    if not odd:
        return f"{word}: every letter can be sounded out"
    if odd == word:
        return f"{word}: the whole word"
    return f"{word}: the letter{'s' if len(odd) > 1 else ''} {odd}"


def _listen(job: Job, sources: Sources) -> _Block:
    return _Block("Listen for", listen_for(sources.sounds_so_far(job)))


def _retired(job: Job, sources: Sources) -> _Block:
    words = [str(item["text"]) for item in sources.retired_words(job)]
    if not words:
        return _Block("", ())
    them = "them" if len(words) > 1 else "it"
    line = f"{', '.join(words)}: can be sounded out from now on. Take {them} out of the words learnt by heart."
    return _Block("No longer by heart", (line,))


def _put_away(job: Job) -> _Block:
    return _Block(
        "Put away",
        (
            "– cards read at once on three days: behind known",
            "– the others: behind review; the new ones stay in front",
            "– tiles counted back into their box, the child’s pages into the envelope",
        ),
    )


def _words(job: Job, sources: Sources) -> _Block:
    words = [str(item["text"]) for item in sources.words(job)]
    return _Block("Words of the week", (", ".join(words),) if words else (), large=True)


def _made_up(job: Job, sources: Sources) -> _Block:
    words = [str(item["text"]) for item in sources.nonsense_words(job)]
    return _Block("Made-up words, to see whether sounds are read", (", ".join(words),) if words else ())


def _sentences(job: Job, sources: Sources) -> _Block:
    return _Block("Sentences", tuple(str(item["text"]) for item in sources.listed("sentences", job)), large=True)


def _stories(job: Job) -> _Block:
    names = ", ".join(map(str, job.unit.names))
    lines = [f"{booklet.title} ({len(booklet.pages)} pages)" for booklet in job.unit.booklets]
    if names:
        lines.append(f"Names you read with the child: {names}")
    return _Block("Stories", tuple(lines))
