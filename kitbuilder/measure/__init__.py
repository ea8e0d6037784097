"""Lengths, rectangles, paper, formats. Goes in: text with a unit. Comes out: whole micrometres. Knows nothing else."""
