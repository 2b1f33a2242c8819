"""Bedside table: a carcass without feet, on the steel angle between the two bases, fixed through
its back to blocking.
"""

from __future__ import annotations

from parametric.geometry.space import Direction, Point
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import FixedToWall, Seated
from parametric.primitives.carcass import carcass
from parametric.primitives.steel_angle import screwed_up
from parametric.units.set_plan import TABLE, SetPlan

BACK_SCREW_END_MM = 60.0  # from the ends of the back; common practice, no source
# Below the top, where a driver still passes: the higher they are, the less a load in front pulls.
# Common practice, no source.
BACK_SCREW_UNDER_TOP_MM = 50.0


def bedside_table(plan: SetPlan) -> Assembly:
    """Return the table of the planned set; empty if the set has none.

    Its wall screws stand just under the top, or in the middle of the clear space where that is low.
    """
    table, space, angle = plan.sizes.table, plan.table, plan.angle
    if table is None or space is None or angle is None:
        return Assembly()
    construction = plan.construction
    box = carcass(TABLE, space, table.shelf_height_mm, construction)
    back, bottom = box.board(f"{TABLE}/back"), box.board(f"{TABLE}/bottom")
    under = max(
        (board.box.high.z for board in box.boards if board.name == f"{TABLE}/shelf"),
        default=bottom.box.high.z,
    )
    top_z = box.board(f"{TABLE}/top").box.low.z
    z = max((under + top_z) / 2, top_z - BACK_SCREW_UNDER_TOP_MM)
    fixings = tuple(
        FixedToWall(
            screw=construction.screw_panel,
            head=Point(x, back.box.high.y, z),
            direction=Direction.Y_MINUS,
            through=back.name,
            cap=construction.cap,
        )
        for x in (back.box.low.x + BACK_SCREW_END_MM, back.box.high.x - BACK_SCREW_END_MM)
    )
    return joined(
        (
            box,
            screwed_up(angle, bottom, (space.low.x, space.high.x), construction),
            Assembly(joints=(*fixings, Seated(top=bottom.name, on=(angle.name,)))),
        )
    )
