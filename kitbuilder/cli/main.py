"""The command `kitbuilder` and its commands."""

from __future__ import annotations

import click

from kitbuilder import __version__
from kitbuilder.cli import calibrate, folder, packs


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="%(prog)s %(version)s")
def main() -> None:
    """Print-ready phonics kits from short unit files: cards, tiles, strips, booklets and pages."""


for command in (
    folder.new,
    folder.check,
    folder.words,
    folder.order,
    packs.week,
    packs.term,
    packs.reprint,
    packs.preview,
    calibrate.calibrate,
    folder.kinds,
    folder.schema,
):
    main.add_command(command)
