"""Whether every hole lies well inside its part and meets no other cut."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.geometry.space import SAME_MM, Axis, Box, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.machining import Machining
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout, Feature, Hole
from parametric.shapes.members import Cleat
from parametric.shapes.routing import Routing

RIM_MM = 5.0  # board between a hole and the part's edge
APART_MM = 2.0  # board between two cuts


def drilling_findings(
    where: str, assembly: Assembly, worked: Machining, routing: Routing
) -> Iterator[Finding]:
    """Yield for each drilled board and cleat what is left at the edge, and between cuts.

    Edges are those that carry: what is milled off before a band goes on has gone, the band is none.
    """
    parts: tuple[Board | Cleat, ...] = (*assembly.boards, *assembly.cleats)
    for part in parts:
        space = part.core_box() if isinstance(part, Board) else part.box
        features = worked.of(part.name)
        rims = [rim_mm(f, space) for f in features if isinstance(f, Hole)]
        if not rims:
            continue
        yield at_least(
            code="hole-edge",
            where=f"{where}: {part.name}",
            what="material between a hole and the nearest edge",
            measured=min(rims),
            warn_below=RIM_MM,
            fail_below=1.0,
            advice="move the screw, or make the part larger",
        )
        boxes = {feature: taken(feature, space, routing) for feature in features}
        gaps = [
            gap_mm(boxes[a], boxes[b]) for a, b in combinations(features, 2) if may_not_meet(a, b)
        ]
        if gaps:
            yield at_least(
                code="cuts-apart",
                where=f"{where}: {part.name}",
                what="material between a hole and the next cut",
                measured=min(gaps),
                warn_below=APART_MM,
                fail_below=SAME_MM,
                advice="change the sizes that bring the two together",
            )


def rim_mm(hole: Hole, space: Box) -> float:
    """Return what is left between the hole's wall and the nearest side along its depth."""
    sides = [side for side in Direction if side.axis is not hole.direction.axis]
    return (
        min((space.side(side) - hole.start[side.axis]) * side.sign for side in sides)
        - hole.diameter_mm / 2
    )


def may_not_meet(a: Feature, b: Feature) -> bool:
    """Return whether the two must stay apart: grooves may run into each other, and a recess and
    its shank share an axis.
    """
    if isinstance(a, Hole) and isinstance(b, Hole):
        return a.start != b.start or a.direction is not b.direction
    return isinstance(a, Hole) or isinstance(b, Hole)


def gap_mm(first: Box, second: Box) -> float:
    """Return how far two cuts are apart, along the axis where they are furthest; negative if their
    boxes share space.
    """
    return max(
        max(first.low[axis] - second.high[axis], second.low[axis] - first.high[axis])
        for axis in Axis
    )


def taken(feature: Feature, space: Box, routing: Routing) -> Box:
    """Return the box that bounds what a feature takes out of a part."""
    if isinstance(feature, Cutout):
        return feature.reached(routing.bit_radius_mm)
    axis, depth = feature.direction.axis, feature.depth_mm
    box = Box(feature.start, feature.start)
    for side in Direction:
        if side.axis is not axis:
            box = box.grown(side, feature.diameter_mm / 2)
    end = space.side(feature.direction)
    reach = abs(end - feature.start[axis]) if depth is None else depth
    return box.grown(feature.direction, reach)
