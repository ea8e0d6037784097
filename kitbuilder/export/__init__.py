"""Sheets and frames in, files out: PDF, SVG, preview, guide. Never chooses a position, a size or a word."""
