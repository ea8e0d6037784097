"""How high children write: from baseline to top line, by age (common practice, no source)."""

from __future__ import annotations

USUAL_AGE = 5  # of a learner whose age nobody wrote down
# years of age -> mm from baseline to top line: 20 to 25 at four, 16 at five, 12 at six, 9 to 10 at eight
_HEIGHTS_MM = ((4, 22.0), (5, 16.0), (6, 12.0), (7, 11.0))
_LEAST_MM = 9.5


def ruling_mm(age: int | None) -> float:
    """Return millimetres from baseline to top line; small letters are half as high, and so is the descender room."""
    years = USUAL_AGE if age is None else age
    return next((height for limit, height in _HEIGHTS_MM if years <= limit), _LEAST_MM)
