"""What templates ask of type: how high texts get, and in what size they all fit. Lengths are millimetres.

Texts are as the author wrote them: slashes say where lines end.
"""

from __future__ import annotations

from typing import Any

from kitbuilder.artwork.type_metrics import FontMetrics, metrics
from kitbuilder.compose.phrases import without_slashes
from kitbuilder.compose.text_fitting import EASY_LINES, STEP_UM, FittedText, set_text, with_line_ends
from kitbuilder.remembering import remembered

FONT = "Andika"  # what children read is set in; a family's own font of that name is fitted again when it is drawn
MOST_TEXTS = 60
LARGEST_SIZE = 150  # an em in millimetres: above, a template has slipped


def height(texts: Any, width: float, size: float, leading: float) -> float:
    """Return the height of the highest of the texts, broken into easy lines: letter tops to the last line's feet.

    A word too wide for the size counts as one line more. Raises ValueError for what is no short list of texts.
    """
    return max((_height_um(text, width, size, leading) for text in _texts(texts)), default=0) / 1000


def common_size(texts: Any, width: float, height: float, largest: float, least: float, leading: float) -> float:
    """Return the largest size, from `largest` down to `least`, in which every text fits; `least` when none does."""
    return _common_size(_texts(texts), width, height, _size(largest), _size(least), leading)


@remembered(64)  # every page of a booklet asks for that of the whole book
def _common_size(
    texts: tuple[str, ...], width: float, height: float, largest: float, least: float, leading: float
) -> float:
    def fits(text: str) -> bool:
        fitted = _set(text, width, size, leading)
        return fitted is not None and fitted.height_um <= height * 1000

    size, smallest = round(largest * 1000), round(least * 1000)
    longest_first = sorted(texts, key=len, reverse=True)
    while size > smallest:
        if all(map(fits, longest_first)):
            return size / 1000
        size -= STEP_UM
    return smallest / 1000


def _height_um(text: str, width: float, size: float, leading: float) -> int:
    size_um = round(_size(size) * 1000)
    fitted = _set(text, width, size_um, leading)
    return fitted.height_um if fitted else round(size_um * leading * (2 + len(text.split()) // 2))


def _set(text: str, width: float, size_um: int, leading: float) -> FittedText | None:
    own = with_line_ends(*without_slashes(text))
    return set_text(_font(), own, round(width * 1000), size_um, leading, line_cost=EASY_LINES)


@remembered()
def _font() -> FontMetrics:
    return metrics(FONT)


def _size(size: float) -> float:
    if not 0 < size <= LARGEST_SIZE:
        raise ValueError(f"type is over 0 and up to {LARGEST_SIZE} mm large, not {size:g} mm")
    return size


def _texts(texts: Any) -> tuple[str, ...]:
    if not isinstance(texts, tuple | list) or len(texts) > MOST_TEXTS:
        raise ValueError(f"it needs a list of {MOST_TEXTS} texts at most")
    return tuple(str(text) for text in texts if str(text).strip())
