"""Files in, checked models out, or all problems at once. The only room that opens a family's files."""
