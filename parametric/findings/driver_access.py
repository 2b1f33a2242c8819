"""Whether a straight driver reaches the heads of screws: here wall screws, the others step by step
(`steps.step_findings`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.geometry.space import Box, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, FixedToWall, Hung, Screwed
from parametric.stock.amounts import Words, length

# All four: common practice, no source.
DRIVER_MM = 200.0  # a compact drill driver with its bit, in line with the screw: warning
SHORT_DRIVER_MM = 120.0  # a right-angle driver with its bit: failure below it
BIT_HOLDER_MM = 12.0  # width of bit and holder, kept free all the way
LOOKED_AT_MM = 1000.0  # how far from the head parts are looked for


def driver_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield for each part fixed to the wall the straight way free behind its screw heads.

    Looked at with the parts of its own unit that are there when it is fixed: a deck that is bonded
    on comes later, and so does a panel that is hung on the plates being fixed.
    """
    for name, joints in assembly.wall_fixings().items():
        boxes = present(assembly, name)
        yield access_finding(
            f"{where}: {name}",
            "a wall screw",
            min(free_way_mm(joint, boxes) for joint in joints),
        )


def access_finding(where: str, screw: str, free_mm: float) -> Finding:
    """Return whether so much of a way to the head of a screw is enough for a driver."""
    what = f"clear run for a driver in line with {screw}:"
    far: Words = (what, " ", length(LOOKED_AT_MM), " or more (min ", length(DRIVER_MM), ")")
    return at_least(
        code="driver-access",
        where=where,
        what=what,
        says=far if free_mm >= LOOKED_AT_MM else (),
        measured=free_mm,
        warn_below=DRIVER_MM,
        fail_below=SHORT_DRIVER_MM,
        advice="move the screws or what stands in front of them, or fix the part earlier",
    )


def present(assembly: Assembly, name: str) -> list[Box]:
    """Return the boxes of the other parts of its unit that are there when `name` is fixed."""
    later = {joint.top for joint in assembly.joints if isinstance(joint, Bonded)}
    later |= {
        joint.panel for joint in assembly.joints if isinstance(joint, Hung) and name in joint.plates
    }
    if name in assembly.on_walls():  # put up by itself: only others on the wall are there
        later |= {part.name for part in (*assembly.boards, *assembly.members)} - assembly.on_walls()
    unit = assembly.part(name).unit
    return [
        part.box
        for part in (*assembly.boards, *assembly.members)
        if part.unit == unit and part.name != name and part.name not in later
    ]


def free_way_mm(joint: FixedToWall | Screwed, boxes: Iterable[Box]) -> float:
    """Return how far a driver's width is free from the head, against the way it is driven."""
    back = joint.direction.opposite
    way = Box(joint.head, joint.head).grown(back, LOOKED_AT_MM)
    for side in Direction:
        if side.axis is not back.axis:
            way = way.grown(side, BIT_HOLDER_MM / 2)
    start = joint.head[back.axis]
    stops = [
        (common.side(back.opposite) - start) * back.sign
        for common in (way.overlap(box) for box in boxes)
        if common is not None
    ]
    return max(min(stops, default=LOOKED_AT_MM), 0.0)
