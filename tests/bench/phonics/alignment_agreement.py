"""How far the alignments agree with an independently aligned lexicon: the file lexicon.db of gruut-lang-en 2.0.1 (MIT).

    pip download --no-deps gruut-lang-en==2.0.1     (in an environment of its own; unpack it)
    python tests/bench/phonics/alignment_agreement.py gruut_lang_en/lexicon.db [--show]

A letter disagrees when the other lexicon ties it to a sound and here it is part of a grapheme without that sound.
Letters the other leaves silent say nothing, nor do words pronounced otherwise there. Unclear vowels count as one sound,
so do AA and AO.
"""

from __future__ import annotations

import re
import sqlite3
import sys

from kitbuilder.phonics.alignment import Alignment
from kitbuilder.phonics.lexicon import load_lexicon

SOUNDS = {
    "ɑ": "AA", "æ": "AE", "ʌ": "AH", "ɔ": "AA", "ə": "AX", "ɛ": "EH", "ɚ": "ER", "ɝ": "ER", "ɪ": "AX", "i": "IY",
    "ʊ": "UH", "u": "UW", "aʊ": "AW", "aɪ": "AY", "eɪ": "EY", "oʊ": "OW", "ɔɪ": "OY", "b": "B", "d": "D", "f": "F",
    "h": "HH", "k": "K", "l": "L", "m": "M", "n": "N", "p": "P", "s": "S", "t": "T", "v": "V", "w": "W", "z": "Z",
    "ð": "DH", "ŋ": "NG", "ɡ": "G", "ɹ": "R", "ʃ": "SH", "ʒ": "ZH", "d͡ʒ": "JH", "t͡ʃ": "CH", "θ": "TH", "j": "Y",
}  # fmt: skip
MERGED = {"AO": "AA", "IH": "AX", "AH": "AX"}


def read_alignment(text: str) -> list[tuple[str, tuple[str, ...]]] | None:
    """Letters and sounds of one row ("e|r}ɚ"), None when a symbol is not known."""
    pairs = []
    for part in text.split(" "):
        letters, _, sounds = part.partition("}")
        names = []
        for sound in sounds.split("|"):
            bare = re.sub("[ˈˌː]", "", sound)
            if bare == "_":
                continue
            if bare not in SOUNDS:
                return None
            names.append(MERGED.get(SOUNDS[bare], SOUNDS[bare]))
        pairs.append((letters.replace("|", ""), tuple(names)))
    return pairs


def merged(sounds: tuple[str, ...]) -> tuple[str, ...]:
    """The sounds with mergers made equal."""
    return tuple(MERGED.get(sound, sound) for sound in sounds)


def disagreeing(theirs: list[tuple[str, tuple[str, ...]]], ours: Alignment, length: int) -> list[int]:
    """The letters tied to different sounds."""
    heard: list[tuple[str, ...]] = [()] * length
    for segment in ours.segments:
        sounds = merged(tuple(segment.phoneme.split(".")))
        for at in [*range(segment.start, segment.end), *([] if segment.tail is None else [segment.tail])]:
            heard[at] = sounds
    wrong, at = [], 0
    for letters, sounds in theirs:
        span = range(at, at + len(letters))
        at += len(letters)
        here = {sound for place in span for sound in heard[place]}
        if sounds and not set(sounds) & here:
            wrong.extend(span)
    return wrong


def main() -> None:
    """Print the shares of words and letters that agree."""
    lexicon, words, letters, bad_words, bad_letters = load_lexicon(), 0, 0, [], 0
    for word, text in sqlite3.connect(sys.argv[1]).execute("select word, alignment from g2p_alignments order by word"):
        entry, theirs = lexicon.get(word), read_alignment(text)
        if not entry or entry.guessed or not theirs or "".join(part for part, _ in theirs) != word:
            continue
        sounds = tuple(sound for _, part in theirs for sound in part)
        ours = next((a for a in entry.alignments if merged(a.pronunciation) == sounds), None)
        if not ours:
            continue
        wrong = disagreeing(theirs, ours, len(word))
        words, letters, bad_letters = words + 1, letters + len(word), bad_letters + len(wrong)
        if wrong:
            bad_words.append(f"{word}: {text} / {' '.join(s.grapheme + '=' + s.phoneme for s in ours.segments)}")
    if "--show" in sys.argv:
        print("\n".join(bad_words))
    print(f"{words} words said alike: no letter tied to another sound in {1 - len(bad_words) / words:.2%}")
    print(f"{letters} letters: {1 - bad_letters / letters:.3%} agree")


if __name__ == "__main__":
    main()
