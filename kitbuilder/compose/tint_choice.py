"""The tile tints by computation: as far apart as pale colours can be, also for eyes that see fewer colours.

`python -m kitbuilder.compose.tint_choice` prints the table that `palette.py` holds. Colours are CIE 1976 L*a*b*
(CIE 15, D65 white); what a colour-blind eye sees follows G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A
physiologically-based model for simulation of color vision deficiency", IEEE Transactions on Visualization and Computer
Graphics 15 (2009) 1291-1298, full severity; contrast is that of WCAG 2.2.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

Triple = tuple[float, float, float]
Seen = tuple[Triple, ...]  # L*a*b* in normal sight and in each deficiency

INK = "#111111"
LEAST_CONTRAST = 7.0  # WCAG 2.2, success criterion 1.4.6
LEAST_LIGHTNESS_STEP = 2.4  # L* between any two groups, white among them: what is left of a tint in greyscale
LIGHTNESSES = (97.0, 94.5, 92.0, 89.5, 87.0)  # pale: a tile is mostly paper
CHROMAS = (6.0, 10.0, 14.0, 18.0)  # a breath of colour: more would cost ink and shout

# L*a*b* hue angles in degrees a group may take. Vowels are neither red, pink nor orange, consonants
# are white and their teams not blue, endings are not yellow.
HUES: Mapping[str, tuple[int, ...]] = {
    "vowel": (95, 100, 105, 110),
    "vowel team": (130, 140, 150, 160),
    "consonant team": (305, 310, 315),
    "ending": (190, 200, 210, 220),
    "mark": (),  # grey
}

_DEFICIENCIES: tuple[tuple[Triple, Triple, Triple], ...] = (
    ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
)
# IEC 61966-2-1: linear sRGB to XYZ, and back
_TO_XYZ = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
_FROM_XYZ = ((3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.2040, 1.0570))
_WHITE: Triple = (0.9505, 1.0, 1.0890)


@dataclass(frozen=True, slots=True)
class Tint:
    """A colour a group may have, with its looks."""

    code: str
    seen: Seen


def chosen_tints() -> dict[str, str]:
    """Return the tint of each group as `#rrggbb`: the least distance between two of them is as large as may be.

    To a tenth of a unit among the colours that are tried; ties go to the paler colour and the smaller hue.
    """
    white = Tint("#ffffff", _seen("#ffffff"))
    groups = [[t for t in _tried(hues) if _apart(t, white) > 0] for hues in HUES.values()]
    distances = {(a.code, b.code): _apart(a, b) for one, two in combinations(groups, 2) for a in one for b in two}
    distances |= {(white.code, t.code): _apart(white, t) for group in groups for t in group}
    steps = sorted({round(distance, 1) for distance in distances.values()})
    low, high = 0, len(steps)
    best: Sequence[Tint] | None = None
    while low < high:
        middle = (low + high) // 2
        found = _pick(groups, [white], steps[middle], distances)
        best, low, high = (found, middle + 1, high) if found else (best, low, middle)
    if best is None:
        raise ValueError("no tints are far enough apart")
    return dict(zip(HUES, (tint.code for tint in best), strict=True))


def contrast(one: str, two: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21."""
    light, dark = sorted((_luminance(one), _luminance(two)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _pick(
    groups: Sequence[Sequence[Tint]], taken: list[Tint], least: float, distances: Mapping[tuple[str, str], float]
) -> list[Tint] | None:
    """Return one tint a group, all at least so far apart, or None: tried one after the other with going back."""
    if not groups:
        return taken[1:]
    for tint in groups[0]:
        if all(distances[other.code, tint.code] >= least for other in taken):
            found = _pick(groups[1:], [*taken, tint], least, distances)
            if found:
                return found
    return None


def _apart(one: Tint, two: Tint) -> float:
    """Return the least distance over all kinds of sight; 0 when greyscale would make the two alike."""
    if abs(one.seen[0][0] - two.seen[0][0]) < LEAST_LIGHTNESS_STEP:
        return 0.0
    return min(math.dist(a, b) for a, b in zip(one.seen, two.seen, strict=True))


def _tried(hues: Iterable[int]) -> Iterator[Tint]:
    for lightness in LIGHTNESSES:
        for hue in hues or (0,):
            for chroma in CHROMAS if hues else (0.0,):
                turn = math.radians(hue)
                code = _code((lightness, chroma * math.cos(turn), chroma * math.sin(turn)))
                if code and contrast(INK, code) >= LEAST_CONTRAST:
                    yield Tint(code, _seen(code))


def _seen(code: str) -> Seen:
    linear = _linear(code)
    return (_lab(linear), *(_lab(_times(matrix, linear)) for matrix in _DEFICIENCIES))


def _linear(code: str) -> Triple:
    red, green, blue = (int(code[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return _straight(red), _straight(green), _straight(blue)


def _straight(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)


def _luminance(code: str) -> float:
    return sum(part * share for part, share in zip(_linear(code), _TO_XYZ[1], strict=True))


def _times(matrix: Sequence[Triple], values: Triple) -> Triple:
    x, y, z = (min(1.0, max(0.0, sum(a * b for a, b in zip(row, values, strict=True)))) for row in matrix)
    return x, y, z


def _lab(linear: Triple) -> Triple:
    x, y, z = (
        _root(sum(a * b for a, b in zip(row, linear, strict=True)) / white)
        for row, white in zip(_TO_XYZ, _WHITE, strict=True)
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _root(value: float) -> float:
    return math.cbrt(value) if value > 216 / 24389 else (24389 / 27 * value + 16) / 116


def _code(lab: Triple) -> str | None:
    """Return `#rrggbb`, or None when no screen or printer of ordinary colours has it."""
    y = (lab[0] + 16) / 116
    roots = (y + lab[1] / 500, y, y - lab[2] / 200)
    xyz = [
        white * (r**3 if r > 6 / 29 else (116 * r - 16) * 27 / 24389) for r, white in zip(roots, _WHITE, strict=True)
    ]
    linear = [sum(a * b for a, b in zip(row, xyz, strict=True)) for row in _FROM_XYZ]
    if any(not -1e-3 <= value <= 1.001 for value in linear):
        return None
    bent = (12.92 * v if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055 for v in (max(0.0, v) for v in linear))
    return "#" + "".join(f"{min(255, round(255 * v)):02x}" for v in bent)


if __name__ == "__main__":
    for group, tint in chosen_tints().items():
        print(f'    "{group}": "{tint}",')
