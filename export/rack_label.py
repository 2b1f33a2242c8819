"""What is written on an offcut before it goes on the rack: which sheet it is from, and a letter."""

from __future__ import annotations

from parametric.lists.face_up import FaceUp

_LETTERS = 26


def rack_label(material: str, face_up: FaceUp, sheet: int, number: int) -> str:
    """Return the label of offcut `number` (from 1) of a layout, `sheet`, of a material's nest.

    Sheets that lie good face up are counted apart. Sheets that are cut alike leave offcuts that are
    alike, with one label.

    >>> rack_label("oak", FaceUp.EITHER, 3, 1), rack_label("oak", FaceUp.FRONT, 3, 28)
    ('oak-3-A', 'oak-up-3-AB')
    """
    letters = ""
    while number > 0:
        number, last = divmod(number - 1, _LETTERS)
        letters = chr(ord("A") + last) + letters
    up = "-up" if face_up is FaceUp.FRONT else ""
    return f"{material}{up}-{sheet}-{letters}"
