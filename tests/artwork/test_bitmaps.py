"""The size of PNG and JPEG files is read as an image library reads it."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from kitbuilder.artwork.bitmaps import bitmap_info
from kitbuilder.artwork.pictures import PictureProblem


def image(form: str, size: tuple[int, int], mode: str = "RGB", **options: object) -> bytes:
    data = io.BytesIO()
    Image.new(mode, size, 0).save(data, form, **options)
    return data.getvalue()


@pytest.mark.parametrize("size", [(1, 1), (300, 200), (17, 1_023)])
@pytest.mark.parametrize(
    "options", [{}, {"progressive": True}, {"exif": b"Exif\0\0" + b"x" * 5_000}, {"comment": b"a"}]
)
def test_a_jpegs_size_is_read(size: tuple[int, int], options: dict[str, object]) -> None:
    assert bitmap_info(image("JPEG", size, **options)) == ("jpeg", *size)


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA"])
def test_a_pngs_size_is_read(mode: str) -> None:
    assert bitmap_info(image("PNG", (320, 77), mode)) == ("png", 320, 77)


def test_a_jpeg_with_fill_bytes_is_read() -> None:
    data = image("JPEG", (30, 20))
    assert bitmap_info(data[:2] + b"\xff\xff" + data[2:]) == ("jpeg", 30, 20)


def test_a_table_before_the_frame_is_not_taken_for_it() -> None:
    """The marker of a Huffman table lies among those of frames (ITU-T T.81, table B.1)."""
    data = image("JPEG", (30, 20))
    assert bitmap_info(data[:2] + b"\xff\xc4\x00\x09" + bytes(7) + data[2:]) == ("jpeg", 30, 20)


@pytest.mark.parametrize("form", ["PNG", "JPEG"])
def test_a_file_cut_short_is_a_problem(form: str) -> None:
    for length in range(20):
        with pytest.raises(PictureProblem):
            bitmap_info(image(form, (30, 20))[:length])


@pytest.mark.parametrize("data", [b"", b"GIF89a" + bytes(40), b"RIFF" + bytes(40), b"%PDF-1.7", b"<svg/>"])
def test_other_files_are_a_problem_with_a_hint(data: bytes) -> None:
    with pytest.raises(PictureProblem) as caught:
        bitmap_info(data)
    assert caught.value.hint


def test_a_size_that_would_fill_the_memory_is_a_problem() -> None:
    data = bytearray(image("PNG", (10, 10)))
    data[16:24] = (60_000).to_bytes(4, "big") * 2
    with pytest.raises(PictureProblem) as caught:
        bitmap_info(bytes(data))
    assert "60000 x 60000" in caught.value.message
