"""Whether the slots of both bases lie in one line, and the steel angle can be brought into them."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.features import Cutout
from parametric.findings.finding import Finding
from parametric.findings.measure import at_least, at_most
from parametric.joints import Bonded, Passing
from parametric.machining import Machining
from parametric.members import Cleat, SteelAngle
from parametric.space import SAME_MM, Axis, Box, Direction

SLOT_LINE_MM = 0.05  # both come from one angle, so any more is a slip and no tolerance
LEFT_BESIDE_MM = 50.0  # board from the notch to the panel's end: warning
LEFT_BESIDE_LEAST_MM = 20.0  # and failure
ENTRY_MM = 5.0  # spare to let a level angle down with both hands on it


def slot_findings(where: str, assembly: Assembly, worked: Machining) -> Iterator[Finding]:
    """Yield board left beside each notch, then line and way in of each angle.

    Notches are read from the machining of the panels, not from the angle that they are made for.
    """
    for angle in assembly.angles:
        slots: list[tuple[Board, Box]] = []
        for joint in assembly.joints:
            if isinstance(joint, Passing) and joint.member == angle.name:
                panel = assembly.board(joint.through)
                slots.extend((panel, cut) for cut in slots_of(angle, panel, worked))
        for panel, cut in slots:
            across = angle.upright.axis
            yield at_least(
                code="notch-left-beside",
                where=f"{where}: {angle.name} in {panel.name}",
                what="board left from the notch to the panel's end",
                measured=min(
                    cut.low[across] - panel.box.low[across],
                    panel.box.high[across] - cut.high[across],
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
            what="bearing height or middle of one slot off the other's",
            measured=out_of_line_mm(angle, [cut for _, cut in slots]),
            fail_above=SLOT_LINE_MM,
            advice="cut both slots from one height and one distance from the wall",
        )
        yield at_least(
            code="angle-entry",
            where=f"{where}: {angle.name}",
            what="spare to let the angle down behind one base's open notch, clear of the other "
            "base, and slide it along into that one's notch",
            measured=entry_spare_mm(assembly, angle, [panel for panel, _ in slots]),
            warn_below=ENTRY_MM,
            fail_below=0.0,
            advice="reduce bearing of the angle",
        )


def slots_of(angle: SteelAngle, panel: Board, worked: Machining) -> Iterator[Box]:
    """Yield the notches of the panel that cross the angle's path."""
    for feature in worked.of(panel.name):
        if isinstance(feature, Cutout) and feature.box.overlap(angle.box) is not None:
            yield feature.box


def out_of_line_mm(angle: SteelAngle, slots: list[Box]) -> float:
    """Return the larger spread of the slots' bottoms and of their middles."""
    across = angle.upright.axis
    bottoms = [slot.low.z for slot in slots]
    middles = [slot.centre[across] for slot in slots]
    return max(max(bottoms) - min(bottoms), max(middles) - min(middles))


def entry_spare_mm(assembly: Assembly, angle: SteelAngle, panels: list[Board]) -> float:
    """Return what the angle's length leaves of the way from inside a base to the other base.

    The angle is let down into the base whose deck is bonded on last, its notch open at the top; if
    no deck is bonded, into the one that has more room.
    """
    bonded = {
        assembly.board(joint.top).unit for joint in assembly.joints if isinstance(joint, Bonded)
    }
    ways: list[float] = []
    for panel in panels:
        if bonded and panel.unit not in bonded:
            continue
        ways.extend(
            behind_mm(assembly, angle, panel, other) for other in panels if other is not panel
        )
    spare = (way - angle.box.size(angle.along) for way in ways)
    return max(spare, default=-angle.box.size(angle.along))


def behind_mm(assembly: Assembly, angle: SteelAngle, panel: Board, other: Board) -> float:
    """Return the way from `other`'s near face to the first part behind `panel` in the path."""
    axis = angle.along
    inward = Direction((axis, 1 if panel.box.centre[axis] > other.box.centre[axis] else -1))
    start = other.box.side(inward)
    inner = panel.box.side(inward)
    parts: tuple[Board | Cleat, ...] = (*assembly.boards, *assembly.cleats)
    stops = [
        (part.box.side(inward.opposite) - start) * inward.sign
        for part in parts
        if part.unit == panel.unit
        and in_path(part, angle)
        and (part.box.side(inward.opposite) - inner) * inward.sign > -SAME_MM
    ]
    return min(stops, default=abs(inner - start))


def in_path(part: Board | Cleat, angle: SteelAngle) -> bool:
    """Return whether the part stands in the angle's section, seen along the angle."""
    return all(
        min(part.box.high[axis], angle.box.high[axis])
        - max(part.box.low[axis], angle.box.low[axis])
        > SAME_MM
        for axis in Axis
        if axis is not angle.along
    )
