"""Rectangles and a sheet go in, guillotine layouts with a proved lower bound come out; it knows integers, not cards."""
