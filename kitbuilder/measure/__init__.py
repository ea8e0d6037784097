"""Lengths, rectangles, paper and formats. Goes in: text with a unit. Comes out: whole micrometres. Knows nothing else."""
