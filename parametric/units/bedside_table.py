"""Bedside table: a carcass without feet, on the steel angle between the two bases, fixed through
its back to blocking.
"""

from __future__ import annotations

from parametric.assembly import Assembly, joined
from parametric.joints import FixedToWall, Seated
from parametric.primitives.carcass import carcass
from parametric.primitives.steel_angle import screwed_up
from parametric.space import Direction, Point
from parametric.units.set_plan import TABLE, SetPlan

BACK_SCREW_END_MM = 60.0  # from the ends of the back; common practice, no source
BACK_SCREW_FROM_TOP_MM = 55.0


def bedside_table(plan: SetPlan) -> Assembly:
    """Return the table of the planned set; empty if the set has none."""
    table, space, angle = plan.sizes.table, plan.table, plan.angle
    if table is None or space is None or angle is None:
        return Assembly()
    construction = plan.construction
    box = carcass(TABLE, space, table.shelf_height_mm, construction)
    back, bottom = box.board(f"{TABLE}/back"), box.board(f"{TABLE}/bottom")
    fixings = tuple(
        FixedToWall(
            screw=construction.screw_wall,
            head=Point(x, back.box.high.y, space.high.z - BACK_SCREW_FROM_TOP_MM),
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
