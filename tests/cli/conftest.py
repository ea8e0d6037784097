"""The command line, run inside the test."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from kitbuilder.cli.main import main

Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return a function that runs the command in an empty folder; a traceback fails the test."""
    monkeypatch.chdir(tmp_path)

    def call(*words: object) -> Result:
        result = CliRunner().invoke(main, [str(w) for w in words])
        if result.exception and not isinstance(result.exception, SystemExit):
            raise result.exception
        return result

    return call
