"""Bad input, one by one: a located problem or a plain sentence, exit code 1, nothing written and nothing lost."""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from kitbuilder.export import pack_folder

Run = Callable[..., Result]
Family = Callable[..., Path]


def refused(result: Result, code: str, *says: str) -> None:
    """The run ended with exit code 1, this problem code, and these words in what the parent reads."""
    assert result.exit_code == 1, result.output
    assert f"[{code}]" in result.stderr, result.stderr
    for words in says:
        assert words in result.stderr, result.stderr
    assert result.stdout == ""


def changed(root: Path, old: str, new: str, name: str = "01") -> None:
    path = root / "units" / f"{name}.yaml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_a_missing_folder(run: Run, tmp_path: Path) -> None:
    refused(run("week", 1, "--home", tmp_path / "nowhere"), "missing-folder", "kitbuilder new")


def test_an_empty_folder(run: Run, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    refused(run("week", 1, "--home", tmp_path / "empty"), "missing-sequence")


@pytest.mark.parametrize(
    ("old", "new", "code", "says"),
    [
        ("title: Tide", "titel: Tide", "unknown-key", "01.yaml:2:1"),
        ("copywork:", "materials:\n  leter-card:\n    count: 2\ncopywork:", "unknown-kind", "'letter-card'"),
        ("copywork:", "materials:\n  letter-card:\n    size: 62 x 87\ncopywork:", "not-a-length", "01.yaml:"),
        ("copywork:", "materials:\n  letter-card:\n    size: -62 mm x 87 mm\ncopywork:", "not-a-length", "01.yaml:"),
        ("copywork:", "materials:\n  letter-card:\n    size: 300 mm x 400 mm\ncopywork:", "larger-than-paper", "a4"),
        ("copywork:", "materials:\n  letter-card:\n    ring-bell: yes\ncopywork:", "unknown-option", "01.yaml:"),
        ("copywork:", "materials:\n  fluency-grid:\n    rows: 99\ncopywork:", "bad-option", "2 to 12"),
        ("copywork:", "materials:\n  letter-card:\n    stock: velvet\ncopywork:", "unknown-stock", "plain"),
        ("picture: otter", "picture: oter", "unknown-picture", "'otter'"),
        ("words: [nod,", "words: [" + "n" * 60 + ",", "does-not-fit", "01.yaml:"),
        ("  - Odd did nod.\n  - The", "  - " + "Odd did nod and nod. " * 16 + "\n  - The", "does-not-fit", "strip"),
        ("- On!", "- On \U0001f9a6!", "unprintable-character", "picture character"),
        ("- On!", "- שלום!", "unprintable-character", "right to left"),
        ("- On!", "- x\u0301n!", "unprintable-character", "accent"),
        ("sentences:\n", "sentences: [Yes, Odd can nod.]\nnames: [x]\nwords: [on]\nno:\n", "duplicate-key", "01.yaml:"),
        ("  - Odd did nod.\n", "  - Odd said: nod.\n", "colon-in-text", "01.yaml:"),
        ("n as in nose", "n as in tree", "unclear-keyword", "01.yaml:"),
    ],
)
def test_a_mistake_in_a_unit_is_told_at_its_line(
    run: Run, family: Family, tmp_path: Path, old: str, new: str, code: str, says: str
) -> None:
    root = family()
    changed(root, old, new)
    refused(run("week", 1, "--home", root), code, says, "hint:")
    assert not (root / "out").exists()


def test_all_mistakes_are_told_in_one_run(run: Run, family: Family) -> None:
    root = family()
    changed(root, "picture: otter", "picture: oter")
    changed(root, "- On!", "- Pat!")
    result = run("week", 1, "--home", root)
    refused(result, "unknown-picture")
    refused(result, "not-yet", "2 problems")


def test_two_units_with_one_number(run: Run, family: Family) -> None:
    root = family(**{"02": "unit: 1\n"})
    refused(run("check", "--home", root), "duplicate-unit")


def test_a_word_that_was_not_taught(run: Run, family: Family) -> None:
    root = family()
    changed(root, "- On!", "- Pat!")
    refused(run("check", "--home", root), "not-yet", "01.yaml:20:9", "'Pat'")


@pytest.mark.parametrize(
    "face",
    [
        "draw:\n  - text: \"{{ 'a' * 10**9 }}\"\n    box: [0, 0, 9 mm, 9 mm]\n    size: 9 pt\n",
        "draw:\n  - text: \"{{ open('/etc/passwd') }}\"\n    box: [0, 0, 9 mm, 9 mm]\n    size: 9 pt\n",
        'draw:\n  - text: "{{ item.__class__ }}"\n    box: [0, 0, 9 mm, 9 mm]\n    size: 9 pt\n',
        "draw:\n  - text: \"{% include '/etc/passwd' %}\"\n    box: [0, 0, 9 mm, 9 mm]\n    size: 9 pt\n",
        'draw:\n  - group:\n      - rect: [0, 0, 1 mm, 1 mm]\n    repeat: "{{ 1999 | count }}"\n',
    ],
)
def test_a_hostile_template(run: Run, family: Family, face: str) -> None:
    root = family()
    folder = root / "templates" / "faces"
    folder.mkdir(parents=True)
    (folder / "own.yaml").write_text("face: letter-card-front\n" + face, encoding="utf-8")
    refused(run("week", 1, "--home", root, "--only", "letter-card"), "bad-face", "templates/faces/own.yaml:")


def test_a_kind_that_asks_for_too_many_copies(run: Run, family: Family) -> None:
    root = family()
    folder = root / "templates" / "kinds"
    folder.mkdir(parents=True)
    (folder / "own.yaml").write_text(
        'kind: own\ncode: OW\nsize: 20 mm x 20 mm\nmade-for: words\ncopies: "{{ 99999 }}"\nfront: letter-tile\n',
        encoding="utf-8",
    )
    refused(run("week", 1, "--home", root, "--only", "own"), "bad-kind", "200")


def test_an_out_folder_that_is_a_file(run: Run, family: Family, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    refused(run("week", 1, "--home", family(), "--out", tmp_path / "taken"), "cannot-write", "--out")
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("error", "code", "says"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), "disk-full", "make room"),
        (PermissionError(errno.EACCES, "Permission denied"), "cannot-write", "--out"),
        (OSError(errno.EROFS, "Read-only file system"), "cannot-write", "--out"),
    ],
)
def test_a_folder_that_cannot_be_written(
    run: Run, family: Family, monkeypatch: pytest.MonkeyPatch, error: OSError, code: str, says: str
) -> None:
    root = family()

    def fails(*args: object, **kwargs: object) -> None:
        raise error

    monkeypatch.setattr(pack_folder, "write_pdf", fails)
    refused(run("week", 1, "--home", root), code, says)
    assert list((root / "out").iterdir()) == []


def test_a_print_file_held_open_by_a_viewer_on_windows(
    run: Run, family: Family, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = family()
    assert run("week", 1, "--home", root).exit_code == 0
    before = (root / "out" / "week-01" / "manifest.json").read_bytes()

    def held(old: object, new: object) -> None:
        raise PermissionError(errno.EACCES, "in use", str(old))

    monkeypatch.setattr(pack_folder.os, "replace", held)
    monkeypatch.setattr(pack_folder, "_on_windows", lambda: True)
    result = run("week", 1, "--home", root, "--replace")
    monkeypatch.undo()
    refused(result, "file-in-use", "close the PDF")
    assert (root / "out" / "week-01" / "manifest.json").read_bytes() == before


def test_ctrl_c_in_the_middle_leaves_the_old_pack(run: Run, family: Family, monkeypatch: pytest.MonkeyPatch) -> None:
    root = family()
    assert run("week", 1, "--home", root).exit_code == 0
    before = (root / "out" / "week-01" / "manifest.json").read_bytes()

    def stopped(*args: object, **kwargs: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(pack_folder, "write_drawings", stopped)
    result = run("week", 1, "--home", root, "--replace")
    assert result.exit_code == 1
    assert "stopped" in result.stderr
    assert (root / "out" / "week-01" / "manifest.json").read_bytes() == before


class TestReprint:
    """What can be wrong with a pack or with an id."""

    @pytest.fixture
    def pack(self, run: Run, family: Family) -> Path:
        root = family()
        assert run("week", 1, "--home", root, "--quiet").exit_code == 0
        return root / "out" / "week-01"

    def test_a_folder_that_is_no_pack(self, run: Run, pack: Path) -> None:
        refused(run("reprint", pack.parent.parent, "01-LC-1"), "no-pack")
        refused(run("reprint", pack.parent / "week-99", "01-LC-1"), "no-pack", "week-01")

    @pytest.mark.parametrize("lost", ["drawings.json.gz", "manifest.json"])
    def test_half_a_pack(self, run: Run, pack: Path, lost: str) -> None:
        (pack / lost).unlink()
        refused(run("reprint", pack, "01-LC-1"), "broken-pack" if lost.startswith("d") else "no-pack")

    @pytest.mark.parametrize("name", ["drawings.json.gz", "manifest.json"])
    def test_a_damaged_pack(self, run: Run, pack: Path, name: str) -> None:
        data = (pack / name).read_bytes()
        (pack / name).write_bytes(data[: len(data) // 2])
        refused(run("reprint", pack, "01-LC-1"), "broken-pack", "make the pack again")

    def test_a_pack_of_a_later_version(self, run: Run, pack: Path) -> None:
        manifest = json.loads((pack / "manifest.json").read_bytes())
        manifest["version"] = 2
        (pack / "manifest.json").write_text(json.dumps(manifest), encoding="utf-8")
        refused(run("reprint", pack, "01-LC-1"), "later-version")

    def test_an_unknown_id_and_a_wrong_check_letter(self, run: Run, pack: Path) -> None:
        rows = json.loads((pack / "manifest.json").read_bytes())["pieces"]
        card = next(r["piece"] for r in rows if r["kind"] == "letter-card")
        wrong = card[:-1] + ("A" if card[-1] != "A" else "B")
        refused(run("reprint", pack, "01-LC-99Z"), "unknown-id", "did you mean")
        refused(run("reprint", pack, wrong), "wrong-check-letter", card)

    def test_nothing_that_says_so(self, run: Run, pack: Path) -> None:
        refused(run("reprint", pack, "--saying", "zebra"), "nothing-picked")

    def test_offcuts_that_are_too_small_or_no_size(self, run: Run, pack: Path) -> None:
        refused(
            run("reprint", pack, "--only", "letter-card", "--sheet", "70x95mm"), "offcuts-too-small", "pieces find no"
        )
        refused(run("reprint", pack, "--only", "letter-card", "--sheet", "70x95"), "bad-sheet", "210x120mm")

    def test_no_choice_at_all_is_a_wrong_command(self, run: Run, pack: Path) -> None:
        assert run("reprint", pack).exit_code == 2


@pytest.mark.parametrize("name", ["a b", "été", "con", "aux.", "семья"])
def test_folders_and_files_with_awkward_names(run: Run, family: Family, tmp_path: Path, name: str) -> None:
    if os.name == "nt" and name in ("con", "aux."):
        name = f"{name}-1"  # Windows itself refuses these
    root = tmp_path / name
    shutil.copytree(family(), root)
    (root / "units" / "01.yaml").rename(root / "units" / f"01 {name} é.yaml")
    result = run("week", 1, "--home", root, "--only", "letter-card")
    assert result.exit_code == 0, result.output
    assert (root / "out" / "week-01-letter-card" / "manifest.json").is_file()


def test_wrong_commands_are_told_apart_from_wrong_files(run: Run) -> None:
    for words in (("weak",), ("term",), ("term", "4-1"), ("term", "one-two"), ("check", "--text", "on"), ("week", "x")):
        assert run(*words).exit_code == 2, words
