"""Where a sentence may be breathed: the author's own " / ", else after a comma."""

from __future__ import annotations

import re

_OWN = re.compile(r"\s+/\s+")
_COMMA = re.compile(r"[,;:][”’\"']?(?=\s)")


def phrased(text: str) -> tuple[str, tuple[int, ...]]:
    """Return the sentence without its slashes, and the places of the spaces where a phrase ends."""
    parts = _OWN.split(" ".join(text.split()))
    clean = " ".join(parts)
    if len(parts) > 1:
        ends: list[int] = []
        for part in parts[:-1]:
            ends.append((ends[-1] + 1 if ends else 0) + len(part))
        return clean, tuple(ends)
    return clean, tuple(match.end() for match in _COMMA.finditer(clean))
