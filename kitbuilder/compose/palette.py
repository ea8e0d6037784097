"""Named colours and the tile groups' edge marks. Ink-light, and told apart in greyscale by form before tint.

Text a child reads is near-black on white or on a pale tint: at least 7:1 by WCAG 2.2, 1.4.6 (tests compute it).
"""

from __future__ import annotations

COLOURS: dict[str, str] = {
    "ink": "#111111",
    "soft": "#555555",  # adult's small print, 7.5:1 on white
    "mark": "#7a7a7a",  # ids and fold marks: seen when looked for
    "rule": "#9a9a9a",  # handwriting rules and panels
    "faint": "#cccccc",
    "paper": "#ffffff",
}

# What `tint_choice.py` computes: pale, no two alike for a colour-blind eye or in greyscale; consonants stay white.
TINTS: dict[str, str] = {
    "vowel": "#fef7d4",
    "vowel team": "#daeed6",
    "consonant": "#ffffff",
    "consonant team": "#e5d4ed",
    "ending": "#cdf7fc",
    "mark": "#e1e1e1",
}

GROUPS: tuple[str, ...] = tuple(TINTS)


def colour_of(name: str) -> str | None:
    """Return `#rrggbb` for a colour's name, `tint NAME` or a `#rrggbb` itself; None when it is none of these."""
    if name in COLOURS:
        return COLOURS[name]
    if name.startswith("tint "):
        return TINTS.get(name[5:])
    digits = name[1:]
    if name.startswith("#") and len(digits) == 6 and all(c in "0123456789abcdefABCDEF" for c in digits):
        return name.lower()
    return None
