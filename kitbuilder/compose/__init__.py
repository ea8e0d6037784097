"""Definitions and choices in, pieces out. Knows faces and formats; knows no paper, no sheets and no files."""
