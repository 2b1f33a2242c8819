"""Whether the router's rack has a bit for everything that the sheets ask for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.job import Machine
from casewright.wording import counted
from export.drawing.panel_drawing import panel_drawing
from export.layer_names import LayerNames
from export.layer_table import layer_table
from export.routing.cuts import layer_cuts
from export.routing.machine_rates import BitRole
from export.routing.router_work import bit_for
from parametric.findings.finding import Finding, Sense, Severity
from parametric.lists.cut_list import Part
from parametric.lists.operations import operations
from parametric.stock.lengths import Units, show_diameter

_CUTS = {BitRole.BORE: "hole", BitRole.GROOVE: "groove", BitRole.OPENING: "opening"}


def bit_findings(machine: Machine, parts: Sequence[Part], units: Units) -> Iterator[Finding]:
    """Yield a warning for each size that no bit of the machine file cuts, or that there is none;
    nothing for a machine that lists no bits.
    """
    if not machine.bits or not parts:
        return
    missing = _missing(machine, parts)
    for (role, _), (narrowest_mm, found) in missing.items():
        size = show_diameter(narrowest_mm, units)
        kind = f"drill of {size}" if role is BitRole.BORE else f"bit for what is {size} wide"
        what = _CUTS.get(role, "cut")
        counts = ", ".join(f"{number} ({counted(many, what)})" for number, many in found.items())
        yield _finding(f"no {kind}, for {counts}", len(missing))
    if not missing:
        yield _finding("there is a bit for every hole, groove, opening and outline", 0)


def _finding(message: str, missing: int) -> Finding:
    return Finding(
        code="bit-missing",
        severity=Severity.WARN if missing else Severity.OK,
        where="the router's rack",
        message=message,
        measured=float(missing),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="sizes",
        source="the bits of the machine file, and what the parts ask for",
        advice="put it into the rack and the machine file, or change the hardware or the sizes"
        if missing
        else "",
    )


def _missing(
    machine: Machine, parts: Sequence[Part]
) -> dict[tuple[BitRole, float], tuple[float, dict[str, int]]]:
    """Return by what no bit can cut its size, and how often each part has it."""
    layers = layer_table(parts, LayerNames(), machine.largest_drill_mm)
    found: dict[tuple[BitRole, float], tuple[float, dict[str, int]]] = {}
    for part in parts:
        for operation in operations(part):
            drawing = panel_drawing(part, operation, layers)
            for cuts in layer_cuts(drawing, layers, part.material.thickness_mm):
                if bit_for(cuts, machine.bits) is None:
                    size = round(cuts.narrowest_mm, 2)
                    _, own = found.setdefault((cuts.role, size), (cuts.narrowest_mm, {}))
                    own[part.number] = own.get(part.number, 0) + len(cuts.cuts)
    return found
