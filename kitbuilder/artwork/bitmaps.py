"""The size of a family's own PNG or JPEG, read from its first bytes.

Sources: ISO/IEC 15948 (PNG), 5.2 and 11.2.2; ITU-T T.81 (JPEG), B.1.1.3 and B.2.2.
"""

from __future__ import annotations

import struct

from kitbuilder.artwork.pictures import PictureProblem

_PNG = b"\x89PNG\r\n\x1a\n"
_FRAME_MARKERS = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}  # start of frame, without DHT, JPG and DAC
_LONE_MARKERS = frozenset((0x01, *range(0xD0, 0xD8)))  # TEM and RSTn carry no length
MAX_PIXELS = 100_000_000


def bitmap_info(data: bytes) -> tuple[str, int, int]:
    """Return (`png` or `jpeg`, width, height) in pixels.

    Raises:
        PictureProblem: when it is neither, is cut short, or is too large to print from.
    """
    try:
        if data.startswith(_PNG):
            width, height = _png_size(data)
            return _checked("png", width, height)
        if data.startswith(b"\xff\xd8\xff"):
            width, height = _jpeg_size(data)
            return _checked("jpeg", width, height)
    except (struct.error, IndexError) as error:
        raise PictureProblem("the picture file is cut short", "save or copy it again") from error
    raise PictureProblem("the picture is neither a PNG nor a JPEG", "save it again as a PNG")


def _png_size(data: bytes) -> tuple[int, int]:
    if data[12:16] != b"IHDR":
        raise PictureProblem("the PNG file is damaged", "save or copy it again")
    width, height = struct.unpack_from(">LL", data, 16)
    return width, height


def _jpeg_size(data: bytes) -> tuple[int, int]:
    at = 2
    while True:
        if data[at] != 0xFF:
            raise PictureProblem("the JPEG file is damaged", "save or copy it again")
        marker = data[at + 1]
        if marker == 0xFF:  # fill byte
            at += 1
        elif marker in _LONE_MARKERS:
            at += 2
        elif marker in _FRAME_MARKERS:
            height, width = struct.unpack_from(">HH", data, at + 5)
            return width, height
        else:
            at += 2 + struct.unpack_from(">H", data, at + 2)[0]


def _checked(form: str, width: int, height: int) -> tuple[str, int, int]:
    if width == 0 or height == 0:
        raise PictureProblem("the picture has no size", "save it again as a PNG")
    if width * height > MAX_PIXELS:
        raise PictureProblem(f"the picture is {width} x {height} pixels", "make it smaller; 2,000 wide is plenty")
    return form, width, height
