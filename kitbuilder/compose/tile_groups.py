"""Which tile group a grapheme belongs to, from a plain table."""

from __future__ import annotations

from kitbuilder.compose.palette import GROUPS

VOWEL_LETTERS = frozenset("aeiou")
# y, w and r take part in vowel spellings; these are the common ones of English (common practice, no source).
_TEAMS = "a_e e_e i_e o_e u_e y_e ai ay ea ee ei eigh ey ie igh oa oe oi oo ou ow oy"
_MORE_TEAMS = "au augh aw ew ue ui ar er ir or ur air are ear eer ere ire oar oor ore our ure"
VOWEL_TEAMS = frozenset(_TEAMS.split(" ") + _MORE_TEAMS.split(" "))
# no English word begins with these, so they have no capital
NEVER_FIRST = frozenset(["ck", "dge", "ff", "gg", "igh", "ll", "mb", "ng", "nk", "ss", "tch", "zz"])
ENDINGS = frozenset(["s", "es", "ed", "ing", "er", "est", "'s", "'t"])


def group_of(grapheme: str, *, suffix: bool = False) -> str:
    """Return the group: vowel, vowel team, consonant, consonant team, ending or mark."""
    text = grapheme.lower()
    if suffix or text.startswith("-"):
        return "ending"
    if not any(c.isalpha() for c in text):
        return "mark"
    if text in VOWEL_LETTERS:
        return "vowel"
    if text in VOWEL_TEAMS or all(c in VOWEL_LETTERS for c in text.replace("_", "")):
        return "vowel team"
    return "consonant" if len(text) == 1 else "consonant team"


def group_rank(group: str) -> int:
    """Return the group's place in the order in which groups are laid out."""
    return GROUPS.index(group)


def tiles_of(grapheme: str, taught: frozenset[str]) -> tuple[str, ...]:
    """Return the tiles a grapheme is built from: `a_e` is a and e; what is no tile, such as nn, is its letters."""
    if grapheme in taught:
        return (grapheme,)
    return tuple(letter for letter in grapheme if letter != "_")
