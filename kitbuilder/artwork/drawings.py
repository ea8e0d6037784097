"""The drawings of a pack as one small file: every flat's frames, the bitmaps in them, and nothing else.

Compressed JSON, one row a line: a header, frames by digest, flats by id (front and back digest), bitmaps by SHA-256.
A frame that many flats share is kept once. Same drawings, same bytes.
"""

from __future__ import annotations

import base64
import binascii
import gzip
import hashlib
import json
import zlib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from kitbuilder.artwork.frame import Bitmap, Frame, Group, Text
from kitbuilder.artwork.frame_code import frame_text, read_frame, text_digest

FORMAT = "kitbuilder-drawings"
VERSION = 1
LARGEST = 1_000_000_000  # bytes unpacked: far above any year of packs, below what fills a computer
LONGEST_LINE = 100_000_000

FlatDrawing = tuple[Frame, Frame | None]  # front, and back where there is one


@dataclass(frozen=True, slots=True)
class Drawings:
    """What a pack's drawing file holds: flats by id, bitmaps by digest."""

    flats: Mapping[str, FlatDrawing]
    bitmaps: Mapping[str, bytes]


def bitmaps_of(frame: Frame) -> Iterator[str]:
    """Yield the digests of the frame's bitmaps, those in groups included, in drawing order."""
    for item in frame.items:
        if isinstance(item, Bitmap):
            yield item.digest
        elif isinstance(item, Group):
            yield from bitmaps_of(item.frame)


def fonts_of(frame: Frame) -> frozenset[str]:
    """Return the names of the fonts the frame uses, those in groups included."""
    names = {item.font for item in frame.items if isinstance(item, Text)}
    inner = [fonts_of(item.frame) for item in frame.items if isinstance(item, Group)]
    return frozenset(names.union(*inner))


def encode_drawings(flats: Mapping[str, FlatDrawing], bitmaps: Mapping[str, bytes]) -> bytes:
    """Return the drawing file of these flats with the bitmaps they use; `bitmaps` may hold more.

    Raises:
        ValueError: when a frame uses a bitmap that is not there.
    """
    out = BytesIO()
    with gzip.GzipFile(filename="", mode="wb", compresslevel=6, fileobj=out, mtime=0) as packed:
        for line in _lines(flats, bitmaps):
            packed.write(line.encode("utf-8", "surrogatepass") + b"\n")
    return out.getvalue()


def _lines(flats: Mapping[str, FlatDrawing], bitmaps: Mapping[str, bytes]) -> Iterator[str]:
    yield _json({"format": FORMAT, "version": VERSION, "flats": len(flats)})
    written: set[str] = set()
    used: set[str] = set()
    for flat_id in sorted(flats):
        digests: list[str | None] = []
        for frame in flats[flat_id]:
            if frame is None:
                digests.append(None)
                continue
            text = frame_text(frame)
            digests.append(text_digest(text))
            if digests[-1] not in written:
                written.add(str(digests[-1]))
                used.update(bitmaps_of(frame))
                yield f'["frame","{digests[-1]}",{text}]'
        yield _json(["flat", flat_id, *digests])
    for digest in sorted(used):
        if digest not in bitmaps:
            raise ValueError(f"the picture {digest[:12]} of a drawing is missing")
        yield _json(["bitmap", digest, base64.b64encode(bitmaps[digest]).decode("ascii")])


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def decode_drawings(data: bytes, wanted: Collection[str] | None = None) -> Drawings:
    """Return what `encode_drawings` packed: all flats, or only those whose ids are wanted and are there.

    Raises:
        ValueError: when the file is none of ours, from a later version, damaged, or unreasonably large.
    """
    lines = _unpacked(data)
    count = _checked_header(next(lines, b""))
    frames: dict[str, bytes] = {}
    flats: dict[str, FlatDrawing] = {}
    read: dict[str, Frame] = {}  # shared frames become one object again
    bitmaps: dict[str, bytes] = {}
    seen = 0
    for line in lines:
        if line.startswith(b'["frame","') and line[42:44] == b'",':
            frames[line[10:42].decode("ascii", "replace")] = line[44:-1]
            continue
        row = _loaded(line)
        if not isinstance(row, list) or len(row) < 3 or not all(isinstance(v, str) for v in row[:3]):
            raise _damaged("a line that is no flat, frame or picture")
        if row[0] == "flat" and len(row) == 4 and row[1] not in flats:
            seen += 1
            if wanted is None or row[1] in wanted:
                front, back = (None if d is None else _frame(d, frames, read) for d in row[2:])
                flats[row[1]] = (_required(front), back)
        elif row[0] == "bitmap" and len(row) == 3:
            bitmaps[row[1]] = _bitmap(row[1], row[2])
        else:
            raise _damaged(f"a line of kind {row[0][:20]!r}")
    if seen != count:
        raise _damaged(f"it should hold {count} flats and holds {seen}")
    needed = {d for pair in flats.values() for f in pair if f is not None for d in bitmaps_of(f)}
    if needed - bitmaps.keys():
        raise _damaged("a picture is missing")
    return Drawings(flats, {d: bitmaps[d] for d in sorted(needed)})


def _damaged(why: str) -> ValueError:
    return ValueError(f"the drawing file is damaged: {why}")


def _required(frame: Frame | None) -> Frame:
    if frame is None:
        raise _damaged("a flat without a front")
    return frame


def _unpacked(data: bytes) -> Iterator[bytes]:
    """Yield the lines; never unpacks more than is read, and never more than LARGEST in all."""
    total = 0
    try:
        with gzip.GzipFile(fileobj=BytesIO(data)) as packed:
            while line := packed.readline(LONGEST_LINE):
                total += len(line)
                if total > LARGEST or len(line) == LONGEST_LINE:
                    raise _damaged("it unpacks to more than any pack needs")
                yield line.removesuffix(b"\n")
    except (OSError, EOFError, zlib.error) as error:
        raise _damaged("it cannot be unpacked") from error


def _loaded(text: bytes) -> Any:
    try:
        return json.loads(text.decode("utf-8", "surrogatepass"))
    except (ValueError, RecursionError) as error:
        raise _damaged("a line that cannot be read") from error


def _checked_header(line: bytes) -> int:
    header = _loaded(line)
    if not isinstance(header, dict) or header.get("format") != FORMAT:
        raise ValueError("this is not a drawing file of ours")
    version, count = header.get("version"), header.get("flats")
    if type(version) is int and version > VERSION:
        raise ValueError(f"the drawing file is of version {version}; this kitbuilder reads up to {VERSION}: update it")
    if version != VERSION or type(count) is not int:
        raise _damaged("its first line")
    return count


def _frame(digest: Any, frames: Mapping[str, bytes], read: dict[str, Frame]) -> Frame:
    if not isinstance(digest, str) or digest not in frames:
        raise _damaged("a flat whose drawing is missing")
    if digest not in read:
        row = _loaded(frames[digest])
        try:
            frame = read_frame(row)
        except ValueError as error:
            raise _damaged(str(error)) from error
        if text_digest(frame_text(frame)) != digest:
            raise _damaged("a drawing is not the one that was written")
        read[digest] = frame
    return read[digest]


def _bitmap(digest: str, text: str) -> bytes:
    try:
        data = base64.b64decode(text, validate=True)
    except (binascii.Error, ValueError) as error:
        raise _damaged("a picture cannot be read") from error
    if hashlib.sha256(data).hexdigest() != digest:
        raise _damaged("a picture is not the one that was written")
    return data
