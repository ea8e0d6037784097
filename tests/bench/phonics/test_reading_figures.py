"""The figures of aligning and reading, printed: pytest -m bench -s tests/bench/phonics/test_reading_figures.py."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest
import yaml

from kitbuilder.phonics.alignment import align
from kitbuilder.phonics.correspondences import Correspondence
from kitbuilder.phonics.decodability import Reader
from kitbuilder.phonics.lexicon import load_lexicon
from kitbuilder.phonics.teaching import Teaching

LETTERS = "a=AE b=B c=K d=D e=EH f=F g=G i=IH l=L m=M n=N"
pytestmark = pytest.mark.bench
DATA = Path(__file__).parents[2] / "phonics" / "data"
LOAD = """
import time
start = time.perf_counter()
from kitbuilder.phonics.lexicon import load_lexicon
between = time.perf_counter()
load_lexicon()
end = time.perf_counter()
print(1000 * (between - start), 1000 * (end - between))
"""


def _common_words() -> list[str]:
    lines = (DATA / "common_words.txt").read_text("utf-8").splitlines()
    return [word for line in lines if not line.startswith("#") for word in line.split()]


def test_share_of_frequent_words_aligned() -> None:
    lexicon, words = load_lexicon(), _common_words()
    missing = [word for word in words if not (entry := lexicon.get(word)) or entry.guessed]
    print(f"\n{len(words)} most frequent words: {1 - len(missing) / len(words):.2%} aligned; not: {' '.join(missing)}")
    assert len(missing) <= 0.015 * len(words)


def _merged(sound: str) -> str:
    return ".".join({"AO": "AA", "IH": "AX", "AH": "AX"}.get(one, one) for one in sound.split("."))


def test_share_of_hand_cut_words_met() -> None:
    lexicon = load_lexicon()
    wanted = yaml.safe_load((DATA / "segmentations.yaml").read_text("utf-8"))["words"]
    cut, sounds = [], []
    for one in wanted:
        entry = lexicon.get(one["word"])
        found = entry.alignments[0] if entry else align(one["word"], _possessive(one["word"]))[0]
        if [s.grapheme for s in found.segments] not in (one["graphemes"], *one.get("also_ok", ())):
            cut.append(one["word"])
        elif len(found.segments) == len(one["sounds"]) and any(
            _merged(s.phoneme) != _merged(sound) for s, sound in zip(found.segments, one["sounds"], strict=True)
        ):
            sounds.append(one["word"])
    print(f"\n{len(wanted)} words cut by hand: boundaries {1 - len(cut) / len(wanted):.1%}, not {cut}")
    print(f"sounds {1 - len(sounds) / len(wanted):.1%}, not {sounds}")
    assert len(cut) <= 0.03 * len(wanted)


def _possessive(word: str) -> tuple[str, ...]:
    owner = load_lexicon().get(word.removesuffix("'s"))
    assert owner
    return (*owner.pronunciations[0], "S")


def test_time_to_load_and_to_read() -> None:
    done = [
        subprocess.run([sys.executable, "-c", LOAD], capture_output=True, text=True, check=True).stdout.split()
        for _ in range(5)
    ]
    imports, loads = (min(float(times[n]) for times in done) for n in (0, 1))
    print(f"\nimport {imports:.0f} ms, load_lexicon {loads:.0f} ms")
    links = tuple(Correspondence(*pair.split("=")) for pair in LETTERS.split())
    reader = Reader(load_lexicon(), [Teaching(unit, links, ("CVC",)) for unit in range(1, 37)])
    words = _common_words()[:1000]
    start = time.process_time()
    reader.check_text(" ".join(words), 1)
    print(f"1,000 different words at unit 1 of 36: {time.process_time() - start:.2f} s")
    assert loads < 60
