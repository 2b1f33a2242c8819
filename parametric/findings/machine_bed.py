"""Whether sheets and parts lie on the table of the router."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.geometry.space import SAME_MM
from parametric.joints.assembly import Assembly
from parametric.shapes.routing import Routing
from parametric.stock.amounts import Words, length

Bed = tuple[float, float]
"""Length and width of the table that the bit reaches, millimetres."""

_UNLIMITED = float("-inf")


def machine_findings(
    where: str, assembly: Assembly, routing: Routing, bed: Bed
) -> Iterator[Finding]:
    """Yield for each board what is to spare on the table, and for each of their materials what is
    to spare beside its largest sheet: a sheet that is larger can be moved on, or cut first.
    """
    for board in assembly.boards:
        space = board.cut_box(routing.pre_mill_mm)
        board_spare_mm = _spare_mm((space.size(board.grain), space.size(board.width_axis)), bed)
        yield at_least(
            code="machine-bed",
            where=f"{where}: {board.name}",
            what="",
            says=_says("", board_spare_mm),
            measured=board_spare_mm,
            warn_below=-SAME_MM,
            fail_below=-SAME_MM,
            advice="make the board smaller, or cut it on a larger machine",
        )
    for material in dict.fromkeys(board.material for board in assembly.boards):
        spare_mm, _, sheet = min(
            (_spare_mm((stock.length_mm, stock.width_mm), bed), stock.key, stock)
            for stock in material.stock
        )
        listed = "" if sheet.origin is None else f" ({sheet.origin.in_its_folder})"
        yield at_least(
            code="machine-sheet",
            where=f"{where}: {material.key}",
            what="",
            says=_says(f"sheet {sheet.key} ", spare_mm),
            measured=spare_mm,
            warn_below=-SAME_MM,
            fail_below=_UNLIMITED,
            advice=f"take that sheet{listed} out of the stock, or cut it down before it is loaded",
        )


def _says(what: str, spare_mm: float) -> Words:
    if spare_mm < -SAME_MM:
        return (what, "too large for the router's table, by ", length(-spare_mm))
    return (what, "fits the router's table, ", length(spare_mm), " to spare")


def _spare_mm(size: tuple[float, float], bed: Bed) -> float:
    """Return what is left where it is tightest, in the better of two ways to lie."""
    length, width = size
    ways = ((length, width), (width, length))
    return max(min(bed[0] - one, bed[1] - other) for one, other in ways)
