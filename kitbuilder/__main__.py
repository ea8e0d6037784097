"""`python -m kitbuilder` is the command `kitbuilder`."""

from kitbuilder.cli import main

main(prog_name="kitbuilder")
