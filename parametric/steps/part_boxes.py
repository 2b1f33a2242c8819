"""Parts as boxes, less what is cut out of them, for asking whether one passes another."""

from __future__ import annotations

from parametric.geometry.space import Box, Direction, Point
from parametric.joints.machining import Machining
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout
from parametric.shapes.members import Leg, Member, SteelAngle, WallPlate


def boxes_of(part: Board | Member, worked: Machining) -> tuple[Box, ...]:
    """Return boxes that together hold the part; round corners and holes count as full."""
    match part:
        case SteelAngle():
            return (part.flat_leg, part.upright_leg)
        case WallPlate():
            return (part.plate, part.lip)
        case Leg():
            return _leg_boxes(part)
        case _:
            boxes: tuple[Box, ...] = (part.box,)
            for feature in worked.of(part.name):
                if isinstance(feature, Cutout):
                    boxes = tuple(rest for box in boxes for rest in without(box, feature.box))
            return boxes


def without(box: Box, cut: Box) -> tuple[Box, ...]:
    """Return boxes that together are `box` less `cut`."""
    common = box.overlap(cut)
    if common is None:
        return (box,)
    rests = []
    left = box
    for side in Direction:
        beyond_mm = (left.side(side) - common.side(side)) * side.sign
        rest = left.grown(side.opposite, beyond_mm - left.size(side.axis))
        if left.overlap(rest) is not None:
            rests.append(rest)
            left = left.grown(side, -beyond_mm)
    return tuple(rests)


def _leg_boxes(leg: Leg) -> tuple[Box, ...]:
    x, y, z = leg.foot
    half = leg.hardware.tube_diameter_mm / 2
    tube = Box(Point(x - half, y - half, z), Point(x + half, y + half, leg.box.high.z))
    plate_mm = leg.hardware.plate_thickness_mm
    return (leg.box.grown(Direction.Z_MINUS, plate_mm - leg.box.size(Direction.Z_PLUS.axis)), tube)
