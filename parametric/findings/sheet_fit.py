"""Whether every board can be cut from a sheet that the job has."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.geometry.space import SAME_MM
from parametric.joints.assembly import Assembly
from parametric.shapes.routing import Routing
from parametric.stock.amounts import Words, length
from parametric.stock.stock_fit import spare_mm


def sheet_findings(
    where: str, assembly: Assembly, routing: Routing, sheet_trim_mm: float
) -> Iterator[Finding]:
    """Yield for each board the spare length or width on the sheet that fits it best."""
    for board in assembly.boards:
        origin = board.material.stock_origin
        listed = "" if origin is None else f" (stock is listed at {origin.in_its_folder})"
        space = board.cut_box(routing.pre_mill_mm)
        along, across = space.size(board.grain), space.size(board.width_axis)
        spare = spare_mm(board.material, along, across, sheet_trim_mm)
        yield at_least(
            code="sheet-fit",
            where=f"{where}: {board.name}",
            what="",
            says=_says(board.material.key, spare),
            measured=spare,
            warn_below=-SAME_MM,
            fail_below=-SAME_MM,
            advice=f"add a larger stock sheet, or make the board smaller{listed}",
        )


def _says(material: str, spare_mm: float) -> Words:
    if spare_mm < -SAME_MM:
        return ("too large for every stock sheet of ", material, ", by ", length(-spare_mm))
    return ("fits a stock sheet of ", material, ", ", length(spare_mm), " to spare")
