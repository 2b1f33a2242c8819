"""The names of the layers in cut files, as a machine's owner may set them.

Numbers are filled in where a name says `{depth}` or `{diameter}` (mm, `_` for the decimal point).
Names keep to what the oldest DXF release carries: letters, digits, `_` and `-`, at most
31 characters once they are filled in.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, fields

from export.errors import LayerNameFault

LONGEST_LAYER_NAME = 31
NUMBERS_IN_NAMES = {
    "groove": ("depth",),
    "bore": ("diameter", "depth"),
    "bore_through": ("diameter",),
}
WIDEST_NUMBER = "123_456"  # what a number may take up at most

PORTABLE_NAME = re.compile(r"[A-Za-z0-9_-]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerNames:
    """A name for each operation; `back_suffix` marks cuts from the face that lies down.

    Raises:
        LayerNameFault: a name is not portable, lacks its numbers, or is given twice.
    """

    sheet: str = "SHEET"
    outline: str = "OUTLINE"
    opening: str = "OPENING"
    groove: str = "GROOVE-DEEP-{depth}"
    bore: str = "BORE-{diameter}-DEEP-{depth}"
    bore_through: str = "BORE-{diameter}-THROUGH"
    text: str = "PART_TEXT"
    back_suffix: str = "-BACK"

    def __post_init__(self) -> None:
        """Refuse names that no cut file could carry."""
        given = {field.name: getattr(self, field.name) for field in fields(self)}
        faults = layer_name_faults(given)
        if faults:
            raise LayerNameFault(
                tuple(f"{name} '{given[name]}' must be {allowed}" for name, allowed in faults)
            )


def layer_name_faults(given: dict[str, str]) -> tuple[tuple[str, str], ...]:
    """Return what is wrong with a full set of names: (field, what is allowed there).

    `given` holds a text for every field of `LayerNames`.
    """
    faults = []
    seen: set[str] = set()
    for name, text in given.items():
        allowed = _allowed_instead(name, text, given["back_suffix"])
        if allowed is None and text.casefold() in seen:
            allowed = "a name that no other operation has"
        seen.add(text.casefold())
        if allowed is not None:
            faults.append((name, allowed))
    return tuple(faults)


def _allowed_instead(name: str, text: str, back_suffix: str) -> str | None:
    """Return what the field allows, None if `text` is just that."""
    numbers = NUMBERS_IN_NAMES.get(name, ())
    filled = text
    for number in ("depth", "diameter"):
        placeholder = f"{{{number}}}"
        if text.count(placeholder) != (1 if number in numbers else 0):
            return _with_numbers(numbers)
        filled = filled.replace(placeholder, WIDEST_NUMBER)
    if not PORTABLE_NAME.fullmatch(filled):
        return _with_numbers(numbers)
    longest = len(filled) + (len(back_suffix) if numbers else 0)
    if longest > LONGEST_LAYER_NAME:
        return f"at most {LONGEST_LAYER_NAME} characters once filled in (this: {longest})"
    return None


def _with_numbers(numbers: tuple[str, ...]) -> str:
    shown = " and ".join(f"{{{number}}}" for number in numbers)
    number_part = f"with {shown} once" if numbers else "without numbers to fill in"
    return f"a name {number_part}, of letters, digits, '_' and '-' only"
