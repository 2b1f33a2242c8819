"""What parts stand on, and whether they tip over its edge."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from shapely import MultiPoint
from shapely import Point as PlanPoint

from parametric.geometry.space import SAME_MM, Axis, Box, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Seated
from parametric.shapes.board import Board
from parametric.shapes.mass import centre_of_mass
from parametric.shapes.members import Member, SteelAngle

PLAN = (Axis.X, Axis.Y)


def lowest(boxes: Iterable[Box]) -> list[Box]:
    """Return the boxes that reach down furthest, in order; none of none."""
    listed = list(boxes)
    down_to = min((box.low.z for box in listed), default=0.0)
    return [box for box in listed if box.low.z <= down_to + SAME_MM]


def stands_on(assembly: Assembly, parts: Collection[str], *, under_load: bool = False) -> list[Box]:
    """Return what carries parts together: others that they are seated on, as far as they lie below
    them, and their own lowest ones where these stand on the floor or there are no others. What
    stands on the floor does so before a steel angle comes under it.

    Under load a steel angle carries along its upright leg alone: a load on the rest of its flat leg
    twists it, as nothing clamps it where it passes through panels.
    """
    own = lowest(assembly.part(name).box for name in parts)
    on_floor = own[0].low.z <= SAME_MM
    late = {angle.name for angle in assembly.angles} if on_floor else frozenset()
    carried = [
        _below(_bearing(assembly.part(name), under_load), assembly.part(joint.top).box)
        for joint in assembly.joints
        if isinstance(joint, Seated) and joint.top in parts
        for name in joint.on
        if name not in parts and name not in late
    ]
    others = [box for box in carried if box is not None]
    return [*own, *others] if on_floor else others or own


def _bearing(part: Board | Member, under_load: bool) -> Box:
    return part.upright_leg if under_load and isinstance(part, SteelAngle) else part.box


def rim(boxes: Collection[Box]) -> Box:
    """Return the box that bounds them all.

    Raises:
        ValueError: there are none.
    """
    return Box(
        Point(*(min(box.low[axis] for box in boxes) for axis in Axis)),
        Point(*(max(box.high[axis] for box in boxes) for axis in Axis)),
    )


def to_tipping_mm(assembly: Assembly, parts: Collection[str]) -> float:
    """Return how far the centre of mass lies inside the outline around all that the parts stand on,
    where it is nearest to its edge; negative if they tip.
    """
    base = MultiPoint(
        [
            (x, y)
            for box in stands_on(assembly, parts)
            for x in (box.low.x, box.high.x)
            for y in (box.low.y, box.high.y)
        ]
    ).convex_hull
    centre = centre_of_mass([assembly.part(name) for name in parts])
    at = PlanPoint(centre.x, centre.y)
    to_edge = float(base.boundary.distance(at))
    return to_edge if base.contains(at) else -to_edge


def _below(carrying: Box, carried: Box) -> Box | None:
    """Return the part of what carries that lies below what is carried."""
    lifted = Box(carrying.low.at(Axis.Z, carried.low.z), carrying.high.at(Axis.Z, carried.high.z))
    under = lifted.overlap(carried)
    if under is None:
        return None
    return Box(under.low.at(Axis.Z, carrying.low.z), under.high.at(Axis.Z, carrying.high.z))
