"""Where the units of a set stand, in plan: for signs, not for sizes."""

from __future__ import annotations

from parametric.geometry.outline import Bounds
from parametric.geometry.space import Box
from parametric.joints.joints import Hung
from parametric.joints.standing import rim
from parametric.sets.room_set import RoomSet


def stands_in_plan(room_set: RoomSet) -> tuple[Bounds, ...]:
    """Return what each unit covers of the floor, in the order of the set, alike in both hands: x
    from the side wall, y from the head wall. What hangs on plates is left out.
    """
    hung = {joint.panel for joint in room_set.assembly.joints if isinstance(joint, Hung)}
    boxes: dict[str, list[Box]] = {}
    for board in room_set.assembly.boards:
        if board.name not in hung:
            boxes.setdefault(board.unit, []).append(board.box)
    return tuple(_from_corner(rim(of_unit)) for of_unit in boxes.values())


def _from_corner(box: Box) -> Bounds:
    x0, x1 = sorted((abs(box.low.x), abs(box.high.x)))
    y0, y1 = sorted((abs(box.low.y), abs(box.high.y)))
    return Bounds(x0, y0, x1, y1)
