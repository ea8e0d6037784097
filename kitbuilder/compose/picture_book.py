"""Pictures by name: the family's own first, then the shipped outlines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches

from kitbuilder.artwork.pictures import PictureOutline, find_picture, nearest_names, unclear_words


@dataclass(frozen=True, slots=True)
class FamilyBitmap:
    """A PNG or JPEG of the family's own: SHA-256 of its bytes, format and size in pixels."""

    digest: str
    format: str
    width_px: int
    height_px: int


@dataclass(frozen=True, slots=True)
class PictureBook:
    """Looks pictures up by name; names compare without capitals. `family` comes from the folder's pictures/."""

    family: Mapping[str, PictureOutline | FamilyBitmap] = field(default_factory=dict)

    def find(self, name: str) -> PictureOutline | FamilyBitmap | None:
        key = " ".join(name.lower().split())
        return self._own(key) or find_picture(key)

    def prompt(self, word: str) -> str:
        """Return the word when its picture alone asks for it; nothing when a child may well say another word.

        A family's own picture is taken to show what it is called.
        """
        key = " ".join(word.lower().split())
        clear = self._own(key) or (key not in unclear_words() and find_picture(key))
        return word if clear else ""

    def _own(self, key: str) -> PictureOutline | FamilyBitmap | None:
        return self.family.get(key) or self.family.get(key.rsplit(".", 1)[0])

    def nearest(self, name: str) -> tuple[str, ...]:
        """Return up to three names a parent may have meant, the family's own first."""
        own = get_close_matches(name.lower(), sorted(self.family), n=3)
        return tuple(dict.fromkeys([*own, *nearest_names(name)]))[:3]
