"""Colours: contrast, and tints told apart, judged by a general colour-science library.

colorspacious gives distances in CAM02-UCS (M. R. Luo, G. Cui, C. Li, "Uniform colour spaces based on CIECAM02 colour
appearance model", Color Research and Application 31 (2006) 320-330; about 1 is just noticed side by side) and the sight
of colour-blind eyes. Contrast is the formula of WCAG 2.2, computed here anew.
"""

from __future__ import annotations

import colorsys
from itertools import combinations

import colorspacious
import numpy as np
import pytest

from kitbuilder.artwork.frame import Box, Line
from kitbuilder.artwork.type_metrics import metrics
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.palette import COLOURS, GROUPS, TINTS
from kitbuilder.compose.pen import Workshop
from kitbuilder.compose.picture_book import PictureBook
from kitbuilder.compose.tint_choice import chosen_tints
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.load.templates import load_templates
from kitbuilder.measure.format import Format
from kitbuilder.measure.geometry import Insets, Size
from kitbuilder.measure.length import mm

SIGHTS = ("normal", "protanomaly", "deuteranomaly", "tritanomaly")  # the last three at full severity: -anopia
CLEARLY_APART = 4.5  # CAM02-UCS: well above what is just noticed, for flat areas side by side
GREY_APART = 2.0  # L*


def rgb(code: str) -> np.ndarray:
    return np.array([int(code[i : i + 2], 16) / 255 for i in (1, 3, 5)])


def seen(code: str, sight: str) -> np.ndarray:
    if sight == "normal":
        return rgb(code)
    space = {"name": "sRGB1+CVD", "cvd_type": sight, "severity": 100}
    return np.clip(colorspacious.cspace_convert(rgb(code), space, "sRGB1"), 0, 1)


def contrast(one: str, two: str) -> float:
    """WCAG 2.2, definition of contrast ratio and relative luminance."""
    levels = []
    for code in (one, two):
        parts = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in rgb(code)]
        levels.append(0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2])
    return (max(levels) + 0.05) / (min(levels) + 0.05)


def test_the_tints_are_those_the_computation_gives() -> None:
    assert {**chosen_tints(), "consonant": "#ffffff"} == TINTS


def test_text_on_every_tint_has_the_enhanced_contrast() -> None:
    for tint in TINTS.values():
        assert contrast(COLOURS["ink"], tint) >= 7
    assert contrast(COLOURS["soft"], COLOURS["paper"]) >= 7
    # edge marks are graphics: WCAG 2.2, 1.4.11 asks for 3:1
    assert all(contrast(COLOURS["soft"], tint) >= 3 for tint in TINTS.values())


@pytest.mark.parametrize("sight", SIGHTS)
def test_every_two_tints_are_told_apart_by_every_eye(sight: str) -> None:
    for one, two in combinations(GROUPS, 2):
        apart = colorspacious.deltaE(seen(TINTS[one], sight), seen(TINTS[two], sight), input_space="sRGB1")
        assert apart >= CLEARLY_APART, f"{one} and {two}: {apart:.1f}"


def test_every_two_tints_differ_in_greyscale() -> None:
    grey = {g: float(colorspacious.cspace_convert(rgb(t), "sRGB1", "CIELab")[0]) for g, t in TINTS.items()}
    for one, two in combinations(GROUPS, 2):
        assert abs(grey[one] - grey[two]) >= GREY_APART, f"{one} and {two}"


def test_groups_keep_away_from_colours_that_are_not_ours_to_use() -> None:
    turns = {g: colorsys.rgb_to_hsv(*rgb(t)) for g, t in TINTS.items()}
    hue = {g: turn[0] * 360 for g, turn in turns.items()}
    assert TINTS["consonant"] == "#ffffff"
    assert all(45 <= hue[group] <= 170 for group in ("vowel", "vowel team")), "yellow to green: no red, pink, orange"
    assert not 180 <= hue["consonant team"] <= 260, "not blue"
    assert 160 <= hue["ending"] <= 200, "teal: not yellow, not the blue of ink"


def test_edge_marks_alone_tell_the_groups_apart() -> None:
    """In black and white, tints taken away: every group has a mark of its own, a plain consonant has none."""
    log = ProblemLog()
    book = FaceBook(load_templates(None, log).faces, Workshop(lambda name: metrics(name), PictureBook(), log))
    page = Format(Size(mm(38), mm(38)), Insets.even(mm(3)))
    marks = {}
    for group in GROUPS:
        scope = {"item": {"text": "a", "group": group, "blank": False}, "options": {"double": False}}
        frame = book.draw("letter-tile", scope, page, None, "a tile")
        shapes = (i for i in frame.items if isinstance(i, Box | Line))
        marks[group] = tuple(
            (i.x_um, i.y_um, i.width_um, i.height_um)
            if isinstance(i, Box)
            else (i.x1_um, i.y1_um, i.x2_um, i.y2_um, i.dash)
            for i in shapes
            if getattr(i, "fill", None) == COLOURS["soft"] or getattr(i, "colour", None) == COLOURS["soft"]
        )
    assert marks["consonant"] == ()
    assert len(set(marks.values())) == len(GROUPS)
