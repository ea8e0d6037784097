"""A pack's drawing file gives back every flat, and says so when it cannot."""

from __future__ import annotations

import gzip
import hashlib
import json

import pytest

from kitbuilder.artwork.drawings import bitmaps_of, decode_drawings, encode_drawings, fonts_of
from kitbuilder.artwork.frame import Bitmap, Frame, Group, Text

PICTURE = b"\x89PNG dots"
DIGEST = hashlib.sha256(PICTURE).hexdigest()


def card(word: str) -> Frame:
    return Frame(62_000, 87_000, (Text(5_000, 40_000, word, "Andika", 9_000),), "card")


BACK = Frame(62_000, 87_000, (Bitmap(0, 0, 9_000, 9_000, DIGEST, "png"), Text(1, 2, "öther ☃", "Bold", 9_000)))
FLATS = {"03-LC-2B": (card("d"), BACK), "03-LC-1A": (card("o"), BACK), "03-SS-1C": (card("Odd nods."), None)}
PACKED = encode_drawings(FLATS, {DIGEST: PICTURE, "f" * 64: b"not used"})


def lines(data: bytes = PACKED) -> list[bytes]:
    return gzip.decompress(data).splitlines()


def packed(rows: list[bytes]) -> bytes:
    return gzip.compress(b"\n".join(rows) + b"\n")


def test_every_flat_and_bitmap_comes_back_as_it_was():
    read = decode_drawings(PACKED)
    assert dict(read.flats) == FLATS
    assert dict(read.bitmaps) == {DIGEST: PICTURE}


def test_a_drawing_that_flats_share_is_kept_once_and_read_once():
    assert sum(line.startswith(b'["frame"') for line in lines()) == 4
    read = decode_drawings(PACKED)
    assert read.flats["03-LC-1A"][1] is read.flats["03-LC-2B"][1]


def test_only_what_is_wanted_is_read():
    read = decode_drawings(PACKED, {"03-SS-1C", "no such flat"})
    assert dict(read.flats) == {"03-SS-1C": FLATS["03-SS-1C"]}
    assert not read.bitmaps


def test_same_drawings_give_the_same_bytes_in_any_order():
    assert encode_drawings(dict(sorted(FLATS.items())), {DIGEST: PICTURE}) == PACKED
    assert PACKED[4:8] == bytes(4)  # RFC 1952, 2.3.1: the time of writing, here none
    assert PACKED[3] == 0  # and no file name


def test_frames_say_which_fonts_and_bitmaps_they_use():
    outer = Frame(9, 9, (Group(0, 0, 1, BACK), Text(0, 0, "a", "Andika", 9)))
    assert fonts_of(outer) == {"Andika", "Bold"}
    assert list(bitmaps_of(outer)) == [DIGEST]


def test_a_bitmap_that_is_missing_stops_the_writing():
    with pytest.raises(ValueError, match="missing"):
        encode_drawings(FLATS, {})


@pytest.mark.parametrize(
    "data", [b"", b"PK\3\4 something else", PACKED[:-9], PACKED[:40], PACKED[:30] + b"x" + PACKED[31:]]
)
def test_a_damaged_file_is_refused(data):
    with pytest.raises(ValueError, match=r"damaged|not a drawing file"):
        decode_drawings(data)


def test_every_single_line_is_missed_when_it_is_gone():
    for gone in range(len(lines())):
        rows = lines()
        del rows[gone]
        with pytest.raises(ValueError, match=r"damaged|not a drawing file"):
            decode_drawings(packed(rows))


def test_a_drawing_that_was_changed_is_noticed():
    rows = [line.replace(b"5000,40000", b"5001,40000") for line in lines()]
    with pytest.raises(ValueError, match="not the one that was written"):
        decode_drawings(packed(rows))
    rows = [
        line.replace(b'"bitmap","' + DIGEST.encode() + b'","i', b'"bitmap","' + DIGEST.encode() + b'","j')
        for line in lines()
    ]
    with pytest.raises(ValueError, match="not the one that was written"):
        decode_drawings(packed(rows))


def test_a_later_version_is_said_to_be_one():
    header = json.dumps({"format": "kitbuilder-drawings", "version": 2, "flats": 3}).encode()
    with pytest.raises(ValueError, match=r"version 2.*update"):
        decode_drawings(packed([header, *lines()[1:]]))


@pytest.mark.parametrize(
    "line",
    [
        b"7", b"[]", b"{}",
        b'["flat"]', b'["flat","a",null,null]', b'["flat","a","b",null]', b'["flat","03-LC-1A","x",null]',
        b'["page","a","b"]', b'["bitmap","a","!!!"]', b'["bitmap","a","YWFh"]', b"[" * 100_000, b"\xff\xfe",
        b'["frame","' + b"0" * 32 + b'",[[[]', b"nonsense", b'["flat",["a"],"b",null]',
    ],
)  # fmt: skip
def test_a_line_that_makes_no_sense_is_refused(line):
    extra = b'["flat","zz","' + b"0" * 32 + b'",null]' if line.startswith(b'["frame"') else b""
    rows = [lines()[0].replace(b'"flats":3', b'"flats":4'), *lines()[1:], line, *([extra] if extra else [])]
    with pytest.raises(ValueError, match="damaged"):
        decode_drawings(packed(rows))


def test_a_file_that_unpacks_without_end_is_stopped(monkeypatch):
    monkeypatch.setattr("kitbuilder.artwork.drawings.LARGEST", 1_000_000)
    with pytest.raises(ValueError, match="more than any pack"):
        decode_drawings(packed([lines()[0]] + [b'["frame","' + b"0" * 32 + b'",[]]'] * 50_000))
    monkeypatch.setattr("kitbuilder.artwork.drawings.LONGEST_LINE", 1_000)
    with pytest.raises(ValueError, match="more than any pack"):
        decode_drawings(packed([lines()[0], b"0" * 2_000]))
