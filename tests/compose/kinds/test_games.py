"""Games: fair boards, everything on the sheets, a die whose opposite sides make seven."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import combinations, pairwise

import pytest

from kitbuilder.artwork.frame import Box, Group, Line, Path, ReadBy, Text, texts_of
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.card_lists import sentence_pages
from kitbuilder.compose.dice import NET, SPOTS
from kitbuilder.compose.kinds.bingo import bingo_boards
from kitbuilder.compose.kinds.sorts import sorted_words
from kitbuilder.model.home import Home
from kitbuilder.phonics.decodability import Reader

Compose = Callable[..., tuple[Piece, ...]]


def words_of(piece: Piece) -> tuple[str, ...]:
    return texts_of(piece.pages[0].frame, ReadBy.CHILD)


def titled(pieces: tuple[Piece, ...], start: str) -> list[Piece]:
    return [p for p in pieces if p.title.startswith(start)]


def test_every_word_on_a_board_has_a_card_and_every_card_is_on_a_board(compose: Compose, home: Home) -> None:
    pieces = compose("bingo", 7)
    boards = titled(pieces, "board")
    assert len(boards) == len(home.learners) + 1, "one for each child and one for an adult"
    called = {word for p in pieces if p.colour == "cards" for word in words_of(p)}
    assert called == {word for board in boards for word in words_of(board)}


def test_a_family_gets_as_many_boards_as_it_asks_for(compose: Compose) -> None:
    assert len(titled(compose("bingo", 7, options={"boards": "4"}), "board")) == 4


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("unit", [1, 6, 9, 12])
def test_words_on_a_board_stand_clear_of_their_cells(unit: int, paper: str, compose: Compose) -> None:
    sizes = set()
    for board in titled(compose("bingo", unit, paper), "board"):
        items = board.pages[0].frame.items
        cells = [i for i in items if isinstance(i, Box)]
        words = [i for i in items if isinstance(i, Text) and i.read_by is ReadBy.CHILD]
        assert len(cells) == len(words)
        for word in words:
            (cell,) = [
                c
                for c in cells
                if c.x_um < word.x_um < c.x_um + c.width_um and c.y_um < word.y_um < c.y_um + c.height_um
            ]
            right = word.x_um + metrics(word.font).width_um(word.text, word.size_um)
            assert word.x_um - cell.x_um >= 4_000 - 2, word.text
            assert cell.x_um + cell.width_um - right >= 4_000 - 2, word.text
            sizes.add(word.size_um)
    assert len(sizes) == 1, "all words of a game are equally large"


@pytest.mark.parametrize("kind", ["bingo", "sort"])
@pytest.mark.parametrize("unit", range(1, 13))
def test_words_on_cards_stand_clear_of_the_id(unit: int, kind: str, compose: Compose) -> None:
    for card in compose(kind, unit):
        if card.colour not in ("cards", "words") or card.title == "rules":
            continue
        texts = [i for i in card.pages[0].frame.items if isinstance(i, Text)]
        (word,) = [t for t in texts if t.read_by is ReadBy.CHILD]
        (mark,) = [t for t in texts if t.read_by is ReadBy.MARK]
        low, high = (
            metrics(word.font).ink_um(word.text, word.size_um),
            metrics(mark.font).ink_um(mark.text, mark.size_um),
        )
        assert low is not None
        assert high is not None
        assert mark.y_um + high.top_um - (word.y_um + low.bottom_um) >= 1_500, word.text


def test_buttons_cover_words_unless_counters_are_asked_for(compose: Compose) -> None:
    without, pieces = compose("bingo", 7), compose("bingo", 7, options={"counters": "yes"})
    assert titled(without, "counter") == []
    (told,) = (" ".join(texts_of(p.pages[0].frame)) for p in titled(without, "rules"))
    assert "buttons or coins; keep small things from children under three" in told
    (told,) = (" ".join(texts_of(p.pages[0].frame)) for p in titled(pieces, "rules"))
    assert "buttons" not in told
    counters, boards = titled(pieces, "counter"), titled(pieces, "board")
    assert len(counters) == len(boards) * 8, "a ninth word covered is a won game"
    counter = counters[0].format.trim
    assert min(counter.width.um, counter.height.um) > 31_750, "16 CFR 1501.4: wider than the small-parts cylinder"


def test_boards_differ_and_share_their_words_fairly() -> None:
    words = tuple(f"w{n}" for n in range(16))
    boards = bingo_boards(words, 3, 8, 1, 5)
    assert len(set(boards)) == 8
    assert all(len(set(board)) == 9 for board in boards)
    used = Counter(word for board in boards for word in board)
    assert max(used.values()) - min(used.values()) <= 1
    for one, two in combinations(boards, 2):
        assert one != two
    assert bingo_boards(words, 3, 8, 1, 5) == boards, "the same again"


def test_a_beginners_bingo_is_smaller(compose: Compose) -> None:
    """Unit 1 has five words: boards of two by two."""
    assert {len(words_of(board)) for board in titled(compose("bingo", 1), "board")} == {4}


def test_a_folded_die_has_opposite_sides_that_make_seven() -> None:
    """The net is folded here: a square's neighbour to the right, left, above or below turns by a quarter."""
    number = {(column, row): n for column, row, n in NET}
    start = (1, 1)
    # right, down and outward directions of a square in space
    frames = {start: ((1, 0, 0), (0, 1, 0), (0, 0, 1))}
    waiting = [start]
    while waiting:
        column, row = waiting.pop()
        right, down, out = frames[column, row]
        back = tuple(-v for v in out)
        for dx, dy, turned in (
            (1, 0, (back, down, right)),
            (-1, 0, (out, down, tuple(-v for v in right))),
            (0, 1, (right, back, down)),
            (0, -1, (right, out, tuple(-v for v in down))),
        ):
            there = (column + dx, row + dy)
            if there in number and there not in frames:
                frames[there] = turned
                waiting.append(there)
    outward = {frames[place][2]: n for place, n in number.items()}
    assert len(outward) == 6, "six sides, none covers another"
    for direction, n in outward.items():
        assert n + outward[tuple(-v for v in direction)] == 7
    assert {n: len(spots) for n, spots in SPOTS.items()} == {n: n for n in range(1, 7)}


@pytest.mark.parametrize("kind", ["dice-page", "path"])
def test_a_die_is_on_the_sheets_unless_left_out(kind: str, compose: Compose) -> None:
    (die,) = titled(compose(kind, 5), "die")
    spots = [i for i in die.pages[0].frame.items if isinstance(i, Box) and i.fill]
    assert len(spots) == 21
    assert titled(compose(kind, 5, options={"die": "no"}), "die") == []
    clear, trim = die.format.keep_clear.left.um, die.format.trim
    for item in die.pages[0].frame.items:
        if isinstance(item, Line):
            assert all(clear <= x <= trim.width.um - clear for x in (item.x1_um, item.x2_um)), "tabs lie on the flat"
            assert all(clear <= y <= trim.height.um - clear for y in (item.y1_um, item.y2_um)), "tabs lie on the flat"


@pytest.mark.parametrize("kind", ["dice-page", "path"])
def test_a_die_is_folded_along_dashes_drawn_once_and_cut_along_full_lines(kind: str, compose: Compose) -> None:
    """Dashes upon dashes close their gaps: what is to be folded would be cut."""
    (die,) = titled(compose(kind, 5), "die")
    lines = [i for i in die.pages[0].frame.items if isinstance(i, Line)]
    folds, cuts = ([i for i in lines if bool(i.dash) is dashed] for dashed in (True, False))
    assert len(folds) == 5 + 7, "between six squares, and at seven tabs"
    assert len(cuts) == 7 + 3 * 7, "plain edges and seven tabs"
    assert not any(overlap(a, b) for a, b in combinations(lines, 2))
    outlined = [i for i in die.pages[0].frame.items if isinstance(i, Box) and i.stroke]
    assert not outlined, "no square draws edges of its own beside the lines"


def overlap(one: Line, other: Line) -> bool:
    """Whether two lines share more than a point, as all standing and lying ones do that coincide."""
    spans = []
    for line in (one, other):
        standing = abs(line.x1_um - line.x2_um) <= 1
        if not standing and abs(line.y1_um - line.y2_um) > 1:
            return (one.x1_um, one.y1_um, one.x2_um, one.y2_um) == (other.x1_um, other.y1_um, other.x2_um, other.y2_um)
        along = sorted((line.y1_um, line.y2_um) if standing else (line.x1_um, line.x2_um))
        spans.append((standing, line.x1_um if standing else line.y1_um, *along))
    (standing, at, start, end), (other_standing, other_at, other_start, other_end) = spans
    apart = standing is not other_standing or abs(at - other_at) > 100
    return not apart and min(end, other_end) - max(start, other_start) > 100


def test_a_dice_page_has_a_row_for_each_number_and_no_word_beside_itself(compose: Compose) -> None:
    (page,) = titled(compose("dice-page", 5), "page")
    words = words_of(page)
    assert len(words) == 24
    assert len(set(words)) == 24, "no word comes twice before all have come once"
    beginners = words_of(titled(compose("dice-page", 1), "page")[0])
    assert set(Counter(beginners).values()) <= {4, 5}, "five words in twenty-four fields"
    assert all(a != b for a, b in pairwise(beginners))
    assert len([i for i in page.pages[0].frame.items if isinstance(i, Box) and i.fill]) == 21


def test_a_path_goes_on_from_stone_to_stone(compose: Compose) -> None:
    pieces = compose("path", 8)
    (board,) = titled(pieces, "board")
    frame = board.pages[0].frame
    stones = [i for i in frame.items if isinstance(i, Box) and i.radius_um]
    ways = [i for i in frame.items if isinstance(i, Line)]
    assert len(stones) == 30
    assert len(ways) == 29
    assert all((a.x2_um, a.y2_um) == (b.x1_um, b.y1_um) for a, b in pairwise(ways))
    steps = {(abs(w.x2_um - w.x1_um) > 1, abs(w.y2_um - w.y1_um) > 1) for w in ways}
    assert steps == {(True, False), (False, True)}, "never across"
    pictures = [i for i in frame.items if isinstance(i, Path)]
    assert len(words_of(board)) + len({p.name for p in pictures}) >= 26
    figures = titled(pieces, "figure")
    assert len(figures) == 4
    assert all([i for i in f.pages[0].frame.items if isinstance(i, Path)] for f in figures)


@pytest.mark.parametrize("unit", range(1, 13))
def test_pictures_of_a_path_begin_with_the_sound_of_their_letters(unit: int, compose: Compose, home: Home) -> None:
    """The rule asks for a word with the same first sound: a fox for x, a feather for th would ask for /f/."""
    begins = {str(t.keyword): str(t.keyword).startswith(str(t.grapheme)) for u in home.units for t in u.teach}
    pieces = (*titled(compose("path", unit), "board"), *titled(compose("path", unit), "figure"))
    shown = {i.name for p in pieces for i in p.pages[0].frame.items if isinstance(i, Path)}
    assert not {name for name in shown if begins.get(name) is False}
    assert {name for name in shown if begins.get(name)} or unit == 1


def test_the_column_of_a_new_sound_holds_no_word_with_the_letters_old_one(compose: Compose) -> None:
    """Unit 12 brings the s of rose: test and sink have the s of sun."""
    pieces = compose("sort", 12)
    words = {word for piece in pieces for word in words_of(piece)}
    assert "s" in words_of(titled(pieces, "page")[0])
    assert not {word for word in words if word.startswith("s") and len(word) > 1}


@pytest.mark.parametrize("by", ["new", "vowels", "first"])
@pytest.mark.parametrize("unit", [2, 5, 7, 10, 12])
def test_every_word_belongs_into_one_column_only(by: str, unit: int, compose: Compose, reader: Reader) -> None:
    pieces = compose("sort", unit, options={"by": by})
    (page,) = titled(pieces, "page")
    heads = words_of(page)
    assert 2 <= len(heads) <= 3
    told = " ".join(texts_of(page.pages[0].frame, ReadBy.ADULT))
    for card in pieces:
        if card is page:
            continue
        (word,) = words_of(card)
        graphemes = [s.grapheme for s in reader.verdict(word, unit).segments]
        held = set(graphemes[:1] if by == "first" else graphemes) & set(heads)
        assert len(held) == 1, f"{word}: {held}"
        assert word in told, "the adult finds the answer on the page"


def test_the_answers_of_a_sort_are_turned_away_from_the_child(compose: Compose) -> None:
    page, *cards = compose("sort", 7)
    frame = page.pages[0].frame
    (turned,) = [i for i in frame.items if isinstance(i, Group)]
    answers = " ".join(texts_of(turned.frame))
    assert turned.quarter_turns == 2
    assert all(word in answers for card in cards for word in words_of(card))
    (line, *_) = [i for i in turned.frame.items if isinstance(i, Text)]
    assert frame.height_um - line.y_um > frame.height_um * 0.9, "at the foot"
    assert not any(i.text in answers for i in frame.items if isinstance(i, Text) and len(i.text) > 2)


def test_sorting_leaves_out_words_with_two_of_the_letters_and_columns_with_one_word() -> None:
    items = [{"text": t, "graphemes": tuple(g)} for t, g in (("cat", "cat"), ("cab", "cab"), ("kit", "kit"))]
    items.append({"text": "kick", "graphemes": ("k", "i", "ck")})
    items.append({"text": "sick", "graphemes": ("s", "i", "ck")})
    items.append({"text": "pack", "graphemes": ("p", "a", "ck")})
    items.append({"text": "kid", "graphemes": ("k", "i", "d")})
    assert sorted_words(items, ("c", "k", "ck"), 3, 5) == {
        "c": ["cat", "cab"],
        "k": ["kit", "kid"],
        "ck": ["sick", "pack"],
    }
    assert sorted_words(items[:3], ("c", "k"), 3, 5) == {"c": ["cat", "cab"]}


def test_another_form_of_read_and_draw_has_other_sentences(compose: Compose, home: Home) -> None:
    wren = home.learner("wren").model_copy(update={"forms": 2})
    one, two = compose("read-and-draw", 3, learner=wren)
    assert not set(words_of(one)) & set(words_of(two))
    frames = [i for i in one.pages[0].frame.items if isinstance(i, Box)]
    assert len(frames) == 3


def test_what_is_read_stands_on_the_page_in_whole_sentences(compose: Compose, home: Home) -> None:
    (page,) = compose("read-and-draw", 6, options={"sentences": "4"})
    shown = " ".join(i.text for i in page.pages[0].frame.items if isinstance(i, Text) and i.read_by is ReadBy.CHILD)
    told = [str(sentence) for sentence in home.unit(6).sentences if not sentence.endswith("?")]
    assert len(told) < len(home.unit(6).sentences)
    assert shown == " ".join(told[:4]), "a question cannot be drawn"


def test_questions_are_read_where_too_little_else_is_to_draw() -> None:
    asked, told = ({"text": text, "place": None} for text in ("“Is Don in?”", "Nid is in."))
    assert sentence_pages((asked, told), 1, 1)[0]["sentences"] == (told,)
    assert sentence_pages((asked, told), 2, 1)[0]["sentences"] == (asked, told)


def test_a_sentence_to_draw_stands_just_above_its_frame(compose: Compose) -> None:
    (page,) = compose("read-and-draw", 10)
    items = page.pages[0].frame.items
    for frame in (i for i in items if isinstance(i, Box)):
        lines = [i.y_um for i in items if isinstance(i, Text) and i.read_by is ReadBy.CHILD and i.y_um < frame.y_um]
        assert 4_000 < frame.y_um - max(lines) < 8_000, "the descenders keep off, and no more"
