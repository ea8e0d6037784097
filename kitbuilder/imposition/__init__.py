"""Pieces in, sheets with cut lines and piles out. Knows rectangles, sides and stacks; knows no letters and no files."""
