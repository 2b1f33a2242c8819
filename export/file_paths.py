"""Names of files in an output folder, and where those stand that other files name.

Paths are relative to the folder, with forward slashes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from parametric.lists.operations import Operation

PART_FILES = "shop/parts/*.dxf"
SHEET_FILES = "shop/sheets/*.dxf"

_UNFIT = re.compile(r"[^A-Za-z0-9_.-]+")


def named(paths: str, name: str) -> str:
    """Return the one of the paths that has the name where all of them have a `*`."""
    return paths.replace("*", name)


def part_name(number: str, operation: Operation) -> str:
    """Return what tells a part's DXF for one operation from the others."""
    return number if operation is Operation.FIRST else f"{number}-second"


def sheet_name(folder: str, layout_number: int) -> str:
    """Return what tells a layout's DXF from the others: its folder, and a number from 1."""
    return f"{folder}/{layout_number:03d}"


def part_file(number: str, operation: Operation = Operation.FIRST) -> str:
    """Return the path of a part's DXF for one operation."""
    return named(PART_FILES, part_name(number, operation))


def sheet_file(folder: str, layout_number: int) -> str:
    """Return the path of a layout's DXF; layouts count from 1, `folder` is the material's."""
    return named(SHEET_FILES, sheet_name(folder, layout_number))


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
