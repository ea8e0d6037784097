"""Frames, pieces, pictures and type metrics: what lies where on a face. Goes in: nothing. Knows no paper and no PDF."""
