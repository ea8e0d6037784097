"""Packs made from family folders through the command line's own road."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.build import make_pack, plan_pack, read_family
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.export.pack_folder import WrittenPack
from kitbuilder.request import Request


@pytest.fixture
def week(tmp_path: Path) -> Callable[..., WrittenPack]:
    """Return a function that makes a pack of a folder."""

    def make(
        root: Path, first: int | None = 1, last: int | None = None, *, replace: bool = False, **asked: object
    ) -> WrittenPack:
        request = Request(root, first, last, **asked)  # type: ignore[arg-type]  # passed on as given
        read = read_family(request, ProblemLog())
        return make_pack(read, plan_pack(read, request), tmp_path / "out", replace_old=replace)

    return make
