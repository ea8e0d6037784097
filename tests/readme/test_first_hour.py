"""The README's first hour, typed as it stands: the commands run, and say what the README says they say."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from kitbuilder.cli.main import main

README = Path(__file__).resolve().parents[2] / "README.md"
CHANGE = re.compile(r"Change `([^`]+)` to `([^`]+)`")


def section(title: str) -> str:
    text = README.read_text(encoding="utf-8")
    start = text.index(f"## {title}\n")
    end = text.find("\n## ", start + 1)
    return text[start : end if end > 0 else None]


def steps(text: str) -> list[tuple[str, str, list[str]]]:
    """Return what to do in order: ("change", old, [new]) and ("type", command, lines it must say)."""
    found: list[tuple[str, str, list[str]]] = []
    for block in re.split(r"\n\n+", text):
        flowing = " ".join(block.split())
        change = CHANGE.search(flowing)
        if change:
            found.append(("change", change[1], [change[2]]))
        if not block.startswith("    $ "):
            continue
        for line in block.splitlines():
            line = line[4:]
            if line.startswith("$ "):
                found.append(("type", line[2:], []))
            else:
                found[-1][2].append(line)
    return found


def says(expected: list[str], lines: list[str]) -> bool:
    """The lines are those expected; `...` stands for any lines between."""
    pattern = "".join(r"(?:.*\n)*" if line == "..." else re.escape(line) + r"\n" for line in expected)
    return re.fullmatch(pattern, "".join(line + "\n" for line in lines)) is not None


def test_the_first_hour(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = tmp_path / "été à la maison"
    place.mkdir()
    monkeypatch.chdir(place)
    played = steps(section("The first hour"))
    assert len([s for s in played if s[0] == "type"]) >= 8
    for kind, first, more in played:
        if kind == "change":
            files = [p for p in Path("units").glob("*.yaml") if first in p.read_text(encoding="utf-8")]
            assert len(files) == 1, f"{first!r} stands in {len(files)} files"
            text = files[0].read_text(encoding="utf-8")
            files[0].write_text(text.replace(first, more[0], 1), encoding="utf-8")
            continue
        words = shlex.split(first)
        if words[0] == "cd":
            monkeypatch.chdir(words[1])
            continue
        assert words[0] == "kitbuilder"
        result = CliRunner().invoke(main, words[1:])
        assert not (result.exception and not isinstance(result.exception, SystemExit)), result.exception
        told = (result.stdout + result.stderr).replace("\\", "/").splitlines()
        assert says(more, told), f"$ {first}\nREADME says:\n" + "\n".join(more) + "\nit said:\n" + "\n".join(told)
        pack = Path("out") / "week-03"
        if words[1] == "week":
            assert {p.name for p in pack.iterdir()} >= {"prep-guide.pdf", "preview.html", "manifest.json"}


def test_every_picture_of_the_readme_is_there() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README.read_text(encoding="utf-8"))
    assert pictures
    for picture in pictures:
        path = README.parent / picture
        assert path.is_file(), picture
        assert path.stat().st_size < 400_000, f"{picture} is too large for a README"


def test_every_command_the_readme_names_exists() -> None:
    text = README.read_text(encoding="utf-8")
    names = set(re.findall(r"kitbuilder ([a-z]+)", text)) - {"turns", "chooses", "said", "writes", "is", "treats"}
    known = set(main.commands)
    assert names - known <= {"finds", "works", "keeps", "lays"}, names - known
