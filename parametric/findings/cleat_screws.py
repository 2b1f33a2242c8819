"""Whether screws stand far enough from the edges and ends of solid cleats, and from each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from math import isinf

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Screwed, parts_of
from parametric.shapes.members import Cleat
from parametric.stock.amounts import DIAMETERS

COMMENTARY = (
    "NDS 2018 Commentary, table C12.1.5.7 (advisory): wood screws thinner than 1/4 in, holes bored"
)
EDGE, END, IN_ROW = 2.5, 5.0, 5.0  # diameters of the screw; loads across the grain
_EDGE, _END = "edge of the cleat", "end of the cleat"
_ALONE = "one screw in each row: none beside it"
SPLITS = 0.6  # a failure below so much of it: common practice, no source


def cleat_screw_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield for each cleat the least distances of its screws, in diameters of the screw."""
    rows: dict[tuple[str, Axis], list[Screwed | FixedToWall]] = defaultdict(list)
    for joint in assembly.joints:
        if isinstance(joint, Screwed | FixedToWall):
            for name in parts_of(joint):
                rows[name, joint.direction.axis].append(joint)
    for cleat in assembly.cleats:
        own = [(axis, row) for (name, axis), row in rows.items() if name == cleat.name]
        if not own:
            continue
        measures = (
            (
                "cleat-edge",
                _EDGE,
                EDGE,
                min(edge_diameters(cleat, *each) for each in own),
            ),
            (
                "cleat-end",
                _END,
                END,
                min(end_diameters(cleat, row) for _, row in own),
            ),
            ("cleat-row", "next screw", IN_ROW, min(row_diameters(cleat, row) for _, row in own)),
        )
        for code, what, wanted, measured in measures:
            yield at_least(
                code=code,
                where=f"{where}: {cleat.name}",
                what=f"from a screw to the {what}",
                says=_ALONE if isinf(measured) else (),
                measured=min(measured, 99.0),
                warn_below=wanted,
                fail_below=SPLITS * wanted,
                unit=DIAMETERS,
                source=COMMENTARY,
                advice="use a thinner screw, or a larger cleat",
            )


def edge_diameters(cleat: Cleat, axis: Axis, row: list[Screwed | FixedToWall]) -> float:
    """Return the least distance of a row of screws to the cleat's edges along its section."""
    across = next(each for each in Axis if each not in (axis, cleat.along))
    return min(_to_side(cleat, joint, across) / joint.screw.major_diameter_mm for joint in row)


def end_diameters(cleat: Cleat, row: list[Screwed | FixedToWall]) -> float:
    """Return the least distance of a row of screws to the cleat's ends."""
    return min(_to_side(cleat, joint, cleat.along) / joint.screw.major_diameter_mm for joint in row)


def row_diameters(cleat: Cleat, row: list[Screwed | FixedToWall]) -> float:
    """Return the least distance between screws of a row; infinite for a single one."""
    diameter = max(joint.screw.major_diameter_mm for joint in row)
    places = sorted(joint.head[cleat.along] for joint in row)
    return min((b - a for a, b in pairwise(places)), default=float("inf")) / diameter


def _to_side(cleat: Cleat, joint: Screwed | FixedToWall, axis: Axis) -> float:
    at = joint.head[axis]
    return min(at - cleat.box.low[axis], cleat.box.high[axis] - at)
