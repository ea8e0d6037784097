"""Fonts are found by name, the family's own first, and their licences lie beside them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from kitbuilder.artwork.fonts import FontProblem, font_file, font_names
from kitbuilder.artwork.shipped import FOLDERS, shipped


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_shipped_folder_is_there(folder: str) -> None:
    assert shipped(folder).is_dir()


def test_other_folders_are_not_shipped() -> None:
    with pytest.raises(ValueError, match="not shipped"):
        shipped("../etc")


@pytest.mark.parametrize("name", ["Andika", "andika", "Andika-Regular", "Andika Bold", "ANDIKA-BOLD"])
def test_a_name_finds_its_file_whatever_its_capitals(name: str) -> None:
    expected = "Andika-Bold.ttf" if "bold" in name.lower() else "Andika-Regular.ttf"
    assert font_file(name).name == expected


def test_the_familys_own_font_comes_first(tmp_path: Path) -> None:
    shutil.copy(font_file("Andika-Bold"), tmp_path / "Andika.ttf")
    assert font_file("Andika", tmp_path) == tmp_path / "Andika.ttf"
    assert font_file("Andika-Bold", tmp_path).parent == shipped("fonts")
    assert font_names(tmp_path) == ("Andika", "Andika-Bold")


def test_a_family_without_a_fonts_folder_gets_the_shipped_ones(tmp_path: Path) -> None:
    assert font_file("Andika", tmp_path / "fonts").is_file()


def test_a_misspelled_name_gets_a_hint() -> None:
    with pytest.raises(FontProblem) as caught:
        font_file("Andicka")
    assert "'Andika'" in caught.value.hint


@pytest.mark.parametrize("name", ["", "../fonts/Andika", "/etc/passwd", "a/b", "..", "con\0"])
def test_a_name_never_leaves_the_fonts_folders(name: str) -> None:
    with pytest.raises(FontProblem):
        font_file(name)


def test_a_font_in_another_format_is_named_as_such(tmp_path: Path) -> None:
    (tmp_path / "Slate.otf").write_bytes(b"OTTO")
    with pytest.raises(FontProblem) as caught:
        font_file("Slate", tmp_path)
    assert ".otf" in caught.value.message


@pytest.mark.parametrize("name", ["Andika", "Andika-Bold"])
def test_the_shipped_font_says_its_licence_and_may_be_embedded(name: str) -> None:
    font = TTFont(font_file(name))
    assert "SIL Open Font License, Version 1.1" in font["name"].getDebugName(13)
    assert font["OS/2"].fsType == 0


@pytest.mark.parametrize(
    ("file", "notice"),
    [
        ("Andika-OFL.txt", "Copyright (c) 2004-2022 SIL International"),
        ("Andika-OFL.txt", 'Reserved Font Names "Andika" and "SIL"'),
        ("pictures/NotoEmoji-OFL.txt", "Copyright 2013 Google LLC"),
        ("pictures/README.txt", "modified\nversion"),
    ],
)
def test_licence_and_notice_lie_beside_what_they_cover(file: str, notice: str) -> None:
    text = (shipped("fonts") / file).read_text(encoding="utf-8")
    assert notice in text
    assert "SIL OPEN FONT LICENSE VERSION 1.1" in text.upper().replace(",", "").replace("\n", " ")
    if "OFL" in file:
        assert all(part in text for part in ("PERMISSION & CONDITIONS", "TERMINATION", "DISCLAIMER"))
