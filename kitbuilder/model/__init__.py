"""What people wrote, checked and frozen, every text with its place. Goes in: located values. Knows no files."""
