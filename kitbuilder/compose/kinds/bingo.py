"""Bingo: boards that differ, a caller's card for each word, and counters to cover the words if they are wanted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from kitbuilder.artwork.piece import Piece
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.flat_pieces import SetMaker, clear_size_mm, small_format
from kitbuilder.compose.jobs import Job
from kitbuilder.compose.sources import Sources
from kitbuilder.phonics.ranking import ranked

CARD = small_format(66, 31)
COUNTER = small_format(38, 38, 4)  # too large for the small-parts cylinder of 31.75 mm (16 CFR 1501.4)
CELL_AIR_MM = 9.6  # of a cell's width: the frame stands 0.8 mm inside it, and 4 mm stay free beside a word
RULES = (
    "The caller draws a card, reads the word or lets a child read it, and lays it down. Who has it covers it. "
    "Read the winner’s row aloud together."
)
COVER = " Cover with buttons or coins; keep small things from children under three."


def compose_bingo(job: Job, sources: Sources, faces: FaceBook) -> tuple[Piece, ...]:
    """Return boards, caller's cards with the rules, counters if asked for; nothing for fewer than four words."""
    made = SetMaker(job, faces)
    across = int(job.options["across"])
    wide = clear_size_mm(job.format)[0]
    words = [str(item["text"]) for item in made.fitting(sources.words(job), wide / across - CELL_AIR_MM, 24)]
    while across * across > len(words):
        across -= 1
    if across < 2:
        return ()
    players = int(job.options["boards"]) or len(sources.home.learners) + 1
    boards = bingo_boards(words, across, players, job.seed, job.unit.unit)
    size = made.common_size(words, wide / across - CELL_AIR_MM, 40, 24)
    for number, board in enumerate(boards, 1):
        scope = {"board": {"words": board, "across": across, "size": size}}
        made.add("bingo-board", f"board {number}", scope, colour="boards")
    called = sorted({word for board in boards for word in board})
    for word in called:
        made.add("game-word", word, {"word": word}, page=CARD, colour="cards")
    rules = RULES if job.options["counters"] else RULES + COVER
    made.add("game-rules", "rules", {"rules": rules}, page=CARD, colour="cards")
    if job.options["counters"]:
        # all words of a board but one may be covered before somebody wins
        most = len(boards) * (across * across - 1)
        made.add("game-counter", "counter", {}, page=COUNTER, copies=most, colour="counters")
    return made.done


def bingo_boards(words: Sequence[str], across: int, boards: int, seed: int, unit: int) -> tuple[tuple[str, ...], ...]:
    """Return boards of across x across words, row by row, no two alike; every word comes about equally often.

    Fewer boards than asked for come back only when there are not so many different ones.
    """
    size = across * across
    used: Counter[str] = Counter()
    made: list[tuple[str, ...]] = []
    seen: set[tuple[str, ...]] = set()
    for number in range(boards):
        order = ranked(words, seed, unit, f"bingo {number}")
        chosen = sorted(order, key=lambda word: used[word])[:size]
        board = tuple(ranked(chosen, seed, unit, f"bingo places {number}"))
        if board in seen:
            continue
        seen.add(board)
        used.update(board)
        made.append(board)
    return tuple(made)
