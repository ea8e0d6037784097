"""Where the folders that come with the programme lie: the only place that knows how it was installed."""

from __future__ import annotations

from functools import cache
from pathlib import Path

FOLDERS = ("templates", "fonts", "units")


@cache
def shipped(folder: str) -> Path:
    """Return the shipped folder `templates`, `fonts` or `units`.

    Installed, it lies inside the package (`_shipped`, filled by the wheel); in a checkout, beside the package.

    Raises:
        ValueError: for another folder name.
        FileNotFoundError: when the installation is broken.
    """
    if folder not in FOLDERS:
        raise ValueError(f"{folder!r} is not shipped; the shipped folders are {', '.join(FOLDERS)}")
    package = Path(__file__).resolve().parent.parent
    for place in (package / "_shipped" / folder, package.parent / folder):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the folder {folder!r} that belongs to kitbuilder is missing; install kitbuilder again")
