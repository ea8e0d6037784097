"""What an adult listens for: nothing of letters that are old, nothing of two sounds that are one."""

from __future__ import annotations

from kitbuilder.compose.listening import listen_for


def sound(text: str, phoneme: str, *, new: bool = False) -> dict[str, object]:
    return {"text": text, "phoneme": phoneme, "new": new}


def test_a_letter_with_a_second_sound_is_no_new_letter_and_sounds_like_no_other() -> None:
    """s of rose beside s of sun and z: s and z were told apart when z was new; now they may be one sound."""
    taught = (sound("s", "S"), sound("z", "Z"), sound("m", "M"), sound("n", "N"), sound("s", "Z", new=True))
    lines = " ".join(listen_for(taught))
    assert "s and z" not in lines
    assert "look alike" not in lines
    assert "s and z: do they sound alike" in " ".join(listen_for((sound("s", "S"), sound("z", "Z", new=True))))
