"""What a child can read: words cut into graphemes, sounds, and what has been taught.

In go words, texts and the teaching of each unit; out come verdicts, alignments and word lists. This room reads its own
shipped data and nothing else: it knows no definition files, no places in them, no pieces and no paper.
"""
