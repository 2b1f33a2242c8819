"""Where each file of an output folder stands, relative to the folder, with forward slashes."""

from __future__ import annotations

import re
from collections.abc import Iterable

from export.drawing.panel_drawing import Operation

_UNFIT = re.compile(r"[^A-Za-z0-9_.-]+")


def part_file(number: str, operation: Operation = Operation.FIRST) -> str:
    """Return the path of a part's DXF for one operation."""
    ending = "" if operation is Operation.FIRST else "-second"
    return f"shop/parts/{number}{ending}.dxf"


def sheet_file(folder: str, layout_number: int) -> str:
    """Return the path of a layout's DXF; layouts count from 1, `folder` is the material's."""
    return f"shop/sheets/{folder}/{layout_number:03d}.dxf"


def safe_names(keys: Iterable[str]) -> dict[str, str]:
    """Return a name for files and folders for each key: letters, digits, `_`, `.`, `-`, none twice.

    The names depend on the set of keys alone, not on their order.
    """
    folders: dict[str, str] = {}
    taken: set[str] = set()
    for key in sorted(set(keys)):
        plain = _UNFIT.sub("-", key).strip("-.") or "unnamed"
        name, count = plain, 1
        # Some file systems take names that differ only in case for one.
        while name.casefold() in taken:
            count += 1
            name = f"{plain}-{count}"
        taken.add(name.casefold())
        folders[key] = name
    return folders
