"""The text of a definition file: bytes to characters, with what editors and web pages leave in it put right."""

from __future__ import annotations

import re
from pathlib import Path

from kitbuilder.diagnostics import Location, ProblemLog

MOST_BYTES = 1_000_000
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
# Spaces that do not break, and line ends that YAML would take for new lines: one plain space each, so columns stay.
_SPACES = str.maketrans(dict.fromkeys("\u00a0\u202f\u2007\u0085\u2028\u2029", " "))
# What YAML 1.1, 5.1, does not count as printable (the mark in the middle of a text is dropped, not refused).
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


def text_of_file(path: Path, name: str, log: ProblemLog) -> str | None:
    """Return the text of a file, or None with the problem in the log."""
    try:
        if not path.is_file():
            what = "a folder" if path.is_dir() else "missing"
            log.add(f"this file is {what}", "not-a-file", "a text file is expected here", Location(name, 1, 1))
            return None
        if path.stat().st_size > MOST_BYTES:
            _too_large(name, log)
            return None
        data = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "").lower() or "it is locked"
        log.add(
            f"this file cannot be read: {reason}",
            "unreadable-file",
            "close it elsewhere, or copy it",
            Location(name, 1, 1),
        )
        return None
    return text_of_bytes(data, name, log)


def text_of_bytes(data: bytes, name: str, log: ProblemLog) -> str | None:
    """Return the characters: no byte order mark, lines that end in a line feed, plain spaces."""
    if len(data) > MOST_BYTES:
        _too_large(name, log)
        return None
    hint = "open it in a plain text editor and save it with the encoding UTF-8"
    if data[:2] in _UTF16:
        log.add("this file is saved as UTF-16; UTF-8 is expected", "not-utf-8", hint, Location(name, 1, 1))
        return None
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        log.add("this character is not saved as UTF-8", "not-utf-8", hint, _end_of(before, name))
        return None
    text = (
        text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").translate(_SPACES).replace("\ufeff", "")
    )
    bad = _UNPRINTABLE.search(text)
    if bad:
        log.add(
            f"there is a character that cannot be printed here (U+{ord(bad[0]):04X})",
            "unprintable-character",
            "delete it; it may show as nothing or as a box",
            _end_of(text[: bad.start()], name),
        )
        return None
    return text


def _too_large(name: str, log: ProblemLog) -> None:
    log.add(
        "this file is larger than 1 MB",
        "file-too-large",
        "a unit has a few hundred lines; split it",
        Location(name, 1, 1),
    )


def _end_of(text: str, name: str) -> Location:
    lines = text.replace("\r\n", "\n").split("\n")
    return Location(name, len(lines), len(lines[-1]) + 1)
