"""The lists of a build as one workbook."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Left, Rendered
from export.manifest import FileRole
from export.tables.lists_workbook import ListSheet, lists_xlsx

SHEETS = {
    FileRole.CUT_LIST: "Cut list",
    FileRole.LINEAR_LIST: "Cleats and angles",
    FileRole.LINEAR_HOLES: "Holes",
    FileRole.EDGE_BORES: "Holes in edges",
    FileRole.PIECES: "Joined pieces",
    FileRole.PLACES: "Places",
    FileRole.SHOP_HARDWARE: "Shop hardware",
    FileRole.KITS: "Kits",
    FileRole.PICK_LIST: "Pick list",
    FileRole.PURCHASE: "Purchase",
    FileRole.OFFCUTS: "Offcuts",
}


def lists_workbook(built: Built, before: tuple[Left, ...]) -> Iterator[Rendered]:
    """Yield a sheet for each list that was left before, as that has it."""
    left = {e.entry.role: e.file.content.decode() for e in before if e.entry.role in SHEETS}
    sheets = (ListSheet(name=name, table=left[r]) for r, name in SHEETS.items() if r in left)
    yield Rendered(content=lists_xlsx(sheets))
