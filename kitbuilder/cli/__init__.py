"""The command line. Goes in: words typed. Comes out: packs, answers, problems in plain words, an exit code."""
