"""Lines end where a reader may pause, in the fewest lines; sentences are the starter's own."""

from __future__ import annotations

import pytest

from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.phrases import end_costs, phrased, without_slashes
from kitbuilder.compose.text_fitting import EASY_LINES, break_lines, fit_text, with_line_ends

FONT = metrics("Andika")
PT = 25_400 / 72


def broken(text: str, width_mm: int = 87, points: float = 26, *, easy: bool = False) -> list[str]:
    costs = {"line_cost": EASY_LINES} if easy else {}
    return list(break_lines(FONT, text, width_mm * 1000, round(points * PT), **costs) or ())


@pytest.mark.parametrize(
    "lines",
    [
        ["Gub bit a bun,", "a nut and a bag."],  # not after `a`
        ["Tip, tap,", "tip, tap, pop!"],  # where it begins again
        ["Up got the sun, and", "Nid said, “I did it!”"],  # nothing better in two lines
        ["“The sun is in", "the Dip!” said Nid."],
        ["“No! I had a lid,", "a rug and a mop,”", "said Gub,", "“but not a bug!”"],
        ["Nid sat on his log.", "Kick, kick, kick!", "But the log", "was on the hill."],
        ["No, Tam,", "I am not a mop!"],
    ],
)
def test_a_line_ends_where_a_reader_may_pause(lines: list[str]) -> None:
    assert broken(" ".join(lines)) == lines


@pytest.mark.parametrize(
    "text",
    [
        "“No,” said Gub. “It is the hill!” And Don hid in a tub.",
        "A rug, a lid, a net, a tub. “What a mess!” said Wex. “What bit all of this?” “I did,” said Gub. “Yum.”",
        "In the gap was a lot of fuzz. “It is stuck,” said Don. “Tug, Tam! Tug, Nid! Tug, Gub! Get it out!”",
        "Tug, tug, tug! “Stop tugging,” said the fuzz.",
        "But the box was in bits. “You can rest with us, Wex,” said Tam. “Yum,” said Gub.",
    ],
)
def test_no_easy_line_ends_in_a_small_word_or_the_first_word_of_a_sentence(text: str) -> None:
    lines = broken(text, easy=True)
    words = text.split()
    ends = [len(" ".join(lines[: i + 1]).split()) - 1 for i in range(len(lines) - 1)]
    firsts = {i for i, word in enumerate(words) if i == 0 or word[0] == "“" or words[i - 1][-1] in ".!”"}
    small = {"a", "the", "and", "but", "i", "it", "to", "is", "of"}
    closed = [i for i in ends if words[i][-1] in "”!."]
    assert [words[i] for i in ends if i not in closed and (i in firsts or words[i].lower() in small)] == []
    assert len(lines) <= len(broken(text)) + 1


def test_no_line_more_is_spent_where_it_is_not_asked_for() -> None:
    text = "“No,” said Gub. “It is the hill!” And Don hid in a tub."
    assert (len(broken(text)), len(broken(text, easy=True))) == (3, 4)


def test_what_an_adult_reads_is_broken_after_a_full_stop() -> None:
    note = "It is a record, not a measure of the child. If you are worried, ask the doctor."
    assert broken(note, 118, 10)[0].endswith("child.")


def test_slashes_of_the_author_are_taken_out_and_break_lines() -> None:
    text, breaks = without_slashes("Tug, Tam, / and tug,  Nid, / and tug, Don!\nUp / he got.")
    assert text == "Tug, Tam, and tug, Nid, and tug, Don!\nUp he got."
    assert [text[:place].rsplit(maxsplit=1)[-1] for place in breaks] == ["Tam,", "Nid,", "Up"]
    assert all(text[place] == " " for place in breaks)
    fitted = fit_text(FONT, text, 87_000, 90_000, round(26 * PT), round(26 * PT), breaks=breaks, line_cost=EASY_LINES)
    assert fitted
    assert fitted.lines == ("Tug, Tam,", "and tug, Nid,", "and tug, Don!", "Up he got.")
    assert phrased("Tug, / Tam") == ("Tug, Tam", (4,))


def test_costs_are_for_all_words_but_the_last() -> None:
    costs = end_costs(("Gub", "bit", "a", "bun,", "a", "nut."))
    assert len(costs) == 5
    assert costs[3] < 0 < costs[2], "better after the comma than after `a`"
    assert costs[1] < costs[0], "not after the first word of a sentence"
    assert end_costs(("Gub", "bit", "a"), (0,))[0] < costs[3], "best where the author says"


def test_an_authors_line_ends_bind_in_booklets() -> None:
    text, breaks = without_slashes("Kem the duck can kick. / Kick, kick, kick, / in the Dip!")
    assert with_line_ends(text, breaks).split("\n") == ["Kem the duck can kick.", "Kick, kick, kick,", "in the Dip!"]
