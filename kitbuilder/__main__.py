"""`python -m kitbuilder` is the command `kitbuilder`."""

from kitbuilder.cli.main import main

main(prog_name="kitbuilder")
