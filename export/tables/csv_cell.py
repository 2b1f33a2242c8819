"""Single cells of CSV tables: texts that a spreadsheet takes for texts, and how to undo that.

A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula, also behind spaces.
Where a text does, one apostrophe is put in front of it, and one more where apostrophes stand there
already. Characters that steer a display are escaped, see `export.visible_text`. Numbers that we
write are no texts: they stay as they are.
"""

from __future__ import annotations

import re

from export.visible_text import restored, spelled

GUARD = "'"
# Full-width signs too: spreadsheets in East Asian languages read formulas in them.
_FORMULA = re.compile(r"['\s]*[=+\-@\uff1d\uff0b\uff0d\uff20]")


class Figure(str):
    """The text of a number that we wrote, which is a number in a spreadsheet too."""

    __slots__ = ()


def cell_text(value: object) -> str:
    """Return what stands in the cell: numbers as they are, texts so that they stay texts."""
    if isinstance(value, Figure | int | float):
        return str(value)
    text = spelled(str(value))
    return f"{GUARD}{text}" if _FORMULA.match(text) else text


def read_cell(text: str) -> str:
    """Return the text that `cell_text` was given. What people write comes through unchanged unless
    it begins with an apostrophe and the sign of a formula, or holds an escape.
    """
    if text.startswith(GUARD) and _FORMULA.match(text):
        text = text[1:]
    return restored(text)
