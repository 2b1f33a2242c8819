"""Layer names that each are fine, and that numbers filled in could make the same."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

_SUFFIX = "back_suffix"


def layer_clashes(names: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the names that could stand for two layers: (field, what is allowed there).

    `names` holds a text for every field of `LayerNames`, each as it may be.
    """
    earlier: dict[str, list[str]] = {}
    for field, text in names.items():
        if field == _SUFFIX:
            continue
        shapes = _shapes(text, names[_SUFFIX])
        other = next((known for known in earlier if _meet(shapes, earlier[known])), None)
        earlier[field] = shapes
        if other is not None:
            yield field, f"a name that {other} cannot have, whatever numbers are filled in"
        elif re.search(r"#[0-9_]*#", shapes[0]):
            yield field, "a name with a letter or '-' between its two numbers"


def _shapes(text: str, back_suffix: str) -> list[str]:
    """Return the name with `#` for each number, as it is told apart, and that of back faces."""
    shape = re.sub(r"\{[a-z]+\}", "#", text).casefold()
    return [shape, shape + back_suffix.casefold()] if "#" in shape else [shape]


def _meet(shapes: list[str], others: list[str]) -> bool:
    return any(
        re.fullmatch(wide.replace("#", "[0-9_#]+"), narrow)
        for shape in shapes
        for other in others
        for wide, narrow in ((shape, other), (other, shape))
    )
