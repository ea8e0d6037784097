"""Files to double click: they run the right command in the right folder, also where names hold spaces and accents."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from kitbuilder.load.double_click import ACTIONS, starters, write_starters


@pytest.mark.parametrize(("system", "ending"), [("nt", ".bat"), ("darwin", ".command"), ("linux", ".desktop")])
def test_every_action_has_a_file_its_system_opens(system: str, ending: str) -> None:
    made = starters(system)
    assert sorted(s.name for s in made if s.name.endswith(ending)) == sorted(
        f"{name}{ending}" for name, _, _ in ACTIONS
    )
    assert all(sys.executable in s.text for s in made if s.name.endswith((".bat", ".command", ".sh")))


def test_windows_files_have_windows_line_ends_and_wait_to_be_read(tmp_path: Path) -> None:
    for path in write_starters(tmp_path, "nt"):
        data = path.read_bytes()
        assert data.count(b"\r\n") == data.count(b"\n")
        assert data.rstrip().endswith(b"pause")
        assert b'cd /d "%~dp0"' in data


def test_the_check_starter_runs_in_its_own_folder(tmp_path: Path) -> None:
    home = tmp_path / "été au jardin"
    (home / "units").mkdir(parents=True)
    (home / "units" / "sequence.yaml").write_text("title: Test\n", encoding="utf-8")
    (home / "units" / "01.yaml").write_text("unit: 1\n", encoding="utf-8")
    windows = os.name == "nt"
    write_starters(home, "nt" if windows else "darwin")
    script = home / f"{ACTIONS[0][0]}{'.bat' if windows else '.command'}"
    command = ["cmd", "/c", str(script)] if windows else [str(script)]
    root = str(Path(__file__).resolve().parents[2])
    run = subprocess.run(
        command, input="\n", capture_output=True, text=True, check=False, cwd="/",
        env={**os.environ, "PYTHONPATH": root},
    )  # fmt: skip
    assert "no problems" in run.stdout
    assert "Done." in run.stdout
    (home / "units" / "01.yaml").write_text("unit: one\n", encoding="utf-8")
    run = subprocess.run(
        command, input="\n", capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": root}
    )
    assert "Something has to be mended" in run.stdout
    assert "units/01.yaml:1:7" in run.stderr


def test_desktop_files_quote_as_the_standard_wants() -> None:
    """Desktop Entry Specification 1.5, "The Exec key": an argument is quoted whole, in double quotes; inside them the
    signs `"`, `` ` `` and `$` are escaped, each backslash itself written twice. Undone here step by step."""
    for (name, _, _), starter in zip(
        ACTIONS, [s for s in starters("linux") if s.name.endswith(".desktop")], strict=True
    ):
        line = next(line for line in starter.text.splitlines() if line.startswith("Exec="))
        value = line.removeprefix("Exec=").replace("\\\\", "\\")  # a string's own escapes first
        found = re.fullmatch(r'sh -c "((?:[^"`$\\]|\\["`$\\])*)" sh %k', value)
        assert found, value
        assert re.sub(r"\\(.)", r"\1", found[1]) == f'exec "$(dirname "$1")/{name}.sh"'
