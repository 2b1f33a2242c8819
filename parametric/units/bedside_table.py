"""Bedside table: a carcass without feet, on the steel angle between two bases, fixed through its
back to blocking.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from parametric.geometry.space import Box, Direction, Point
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import FixedToWall, Seated
from parametric.primitives.carcass import carcass
from parametric.primitives.steel_angle import screwed_up
from parametric.stock.construction import Construction
from parametric.units.family import Family, Limit, Space, Stands, UnitPlan
from parametric.units.size import Length

BACK_SCREW_END_MM = 60.0  # from the ends of the back; common practice, no source
# Below the top, where a driver still passes: the higher they are, the less a load in front pulls.
# Common practice, no source.
BACK_SCREW_UNDER_TOP_MM = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSizes:
    """Sizes of a table; `shelf_height_mm` is None for one without a shelf."""

    width_mm: Annotated[float, Length(200, 1200, "Along the wall.")]
    depth_mm: Annotated[float, Length(200, 1000, "Out from the wall.")]
    height_mm: Annotated[float, Length(120, 700, "From the underside to the top.")]
    shelf_height_mm: (
        Annotated[
            float,
            Length(30, 600, "Underside of the shelf above that of the table; none if left out."),
        ]
        | None
    ) = None


def table_space(plan: UnitPlan[TableSizes]) -> Space:
    """Return the carcass of a table, its underside at the height of the bases' tops."""
    table, low, under = plan.sizes, plan.start_mm, plan.base_height_mm
    return Space(
        whole=Box.spanning(
            (low, low + table.width_mm), (0.0, table.depth_mm), (under, under + table.height_mm)
        )
    )


def table_parts(plan: UnitPlan[TableSizes], space: Space) -> Assembly:
    """Return a table on the angle that carries it.

    Its wall screws stand just under the top, or in the middle of the clear space where that is low.

    Raises:
        ValueError: no angle carries it.
    """
    name, construction, angle, whole = plan.name, plan.construction, plan.carried_by, space.whole
    if angle is None:
        raise ValueError(f"no steel angle carries {name}")
    box = carcass(name, whole, plan.sizes.shelf_height_mm, construction)
    back, bottom = box.board(f"{name}/back"), box.board(f"{name}/bottom")
    under = max(
        (board.box.high.z for board in box.boards if board.name == f"{name}/shelf"),
        default=bottom.box.high.z,
    )
    top_z = box.board(f"{name}/top").box.low.z
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
            screwed_up(angle, bottom, (whole.low.x, whole.high.x), construction),
            Assembly(joints=(*fixings, Seated(top=bottom.name, on=(angle.name,)))),
        )
    )


def table_limits(plan: UnitPlan[TableSizes]) -> Iterator[Limit]:
    """Yield what must hold between the sizes of a table."""
    table = plan.sizes
    if table.shelf_height_mm is not None:
        board_mm = plan.construction.carcass.thickness_mm
        most_mm = table.height_mm - 2 * board_mm
        reason = "between bottom and top"
        yield Limit(("shelf_height",), table.shelf_height_mm, board_mm, most_mm, reason)


def table_grooves(construction: Construction) -> Iterator[tuple[float, str]]:
    """Yield the width of the grooves that the carcass stands in."""
    width_mm = construction.carcass.thickness_mm + construction.housing_clearance_mm
    yield width_mm, "boards of carcass, with housing_clearance"


BEDSIDE_TABLE = Family(
    name="bedside-table",
    meaning="Bedside table: an open carcass on the steel angle between two units.",
    sizes=TableSizes,
    stands=Stands.BETWEEN,
    space=table_space,
    parts=table_parts,
    limits=table_limits,
    grooves=table_grooves,
)
