"""Whether the slots of both bases lie in one line, with board enough beside them."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least, at_most
from parametric.geometry.space import Box
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Passing
from parametric.joints.machining import Machining
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import Routing

SLOT_LINE_MM = 0.05  # both come from one angle, so any more is a slip and no tolerance
LEFT_BESIDE_MM = 50.0  # board from the notch to the panel's end: warning
LEFT_BESIDE_LEAST_MM = 20.0  # and failure


def slot_findings(
    where: str, assembly: Assembly, worked: Machining, routing: Routing
) -> Iterator[Finding]:
    """Yield board left beside each notch, then the line of each angle.

    Notches are read from the machining of the panels, not from the angle that they are made for.
    """
    for angle in assembly.angles:
        slots: list[tuple[Board, Cutout]] = []
        for joint in assembly.joints:
            if isinstance(joint, Passing) and joint.member == angle.name:
                panel = assembly.board(joint.through)
                slots.extend((panel, cut) for cut in slots_of(angle, panel, worked))
        for panel, cut in slots:
            across = angle.upright.axis
            taken = cut.reached(routing.bit_radius_mm)
            yield at_least(
                code="notch-left-beside",
                where=f"{where}: {angle.name} in {panel.name}",
                what="material between the notch and the end of the panel",
                measured=min(
                    taken.low[across] - panel.box.low[across],
                    panel.box.high[across] - taken.high[across],
                ),
                warn_below=LEFT_BESIDE_MM,
                fail_below=LEFT_BESIDE_LEAST_MM,
                advice="increase from_wall of the angle, or the depth of the base",
            )
        if len(slots) < 2:
            continue
        yield at_most(
            code="slot-line",
            where=f"{where}: {angle.name}",
            what="slots out of line with each other by",
            measured=out_of_line_mm(angle, [cut.box for _, cut in slots]),
            fail_above=SLOT_LINE_MM,
            advice="cut both slots from one height and one distance from the wall",
        )


def slots_of(angle: SteelAngle, panel: Board, worked: Machining) -> Iterator[Cutout]:
    """Yield the notches of the panel that cross the angle's path."""
    for feature in worked.of(panel.name):
        if isinstance(feature, Cutout) and feature.box.overlap(angle.box) is not None:
            yield feature


def side_clearance_mm(cut: Cutout, angle: SteelAngle, routing: Routing) -> float:
    """Return how far the angle may move to its tighter side until it meets the notch.

    Its toe stands on the bottom, so that is where the corners that the bit leaves round begin.
    """
    axis = angle.upright.axis
    low_mm, high_mm = cut.flat(axis, routing.bit_radius_mm)
    return min(angle.box.low[axis] - low_mm, high_mm - angle.box.high[axis])


def out_of_line_mm(angle: SteelAngle, slots: list[Box]) -> float:
    """Return the larger spread of the slots' bottoms and of their middles."""
    across = angle.upright.axis
    bottoms = [slot.low.z for slot in slots]
    middles = [slot.centre[across] for slot in slots]
    return max(max(bottoms) - min(bottoms), max(middles) - min(middles))
