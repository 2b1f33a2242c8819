"""Whether a unit stands by itself once it is set down, before anything holds it."""

from __future__ import annotations

from parametric.assembly import Assembly
from parametric.joints import Seated
from parametric.mass import centre_of_mass
from parametric.space import SAME_MM, Axis, Box
from parametric.steps.tasks import Task


def stands_on(assembly: Assembly, task: Task) -> list[Box]:
    """Return what carries the unit: others that it is seated on, or its own lowest parts."""
    carried = [
        on
        for joint in assembly.joints
        if isinstance(joint, Seated) and joint.top in task.parts
        for name in joint.on
        if name not in task.parts
        and (on := _in_plan(assembly.part(name).box, assembly.part(joint.top).box)) is not None
    ]
    boxes = [assembly.part(name).box for name in task.parts]
    lowest = min(box.low.z for box in boxes)
    stands = [box for box in boxes if box.low.z <= lowest + SAME_MM]
    on_floor = lowest <= SAME_MM
    return stands if on_floor or not carried else carried


def to_tipping_mm(assembly: Assembly, task: Task) -> float:
    """Return how far the centre of mass lies inside the rectangle that the unit stands on, where it
    is nearest to its edge; negative if it would tip.
    """
    centre = centre_of_mass([assembly.part(name) for name in task.parts])
    boxes = stands_on(assembly, task)
    return min(
        min(
            centre[axis] - min(box.low[axis] for box in boxes),
            max(box.high[axis] for box in boxes) - centre[axis],
        )
        for axis in (Axis.X, Axis.Y)
    )


def _in_plan(carrying: Box, carried: Box) -> Box | None:
    """Return the part of what carries that lies below what is carried."""
    lifted = Box(carrying.low.at(Axis.Z, carried.low.z), carrying.high.at(Axis.Z, carried.high.z))
    return lifted.overlap(carried)
