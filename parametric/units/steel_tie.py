"""Steel angle that ties two or more units of a wall, and carries what stands between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from parametric.primitives.steel_angle import steel_angle
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import CornerRelief
from parametric.stock.construction import Construction
from parametric.units.family import Space
from parametric.units.size import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class TieSizes:
    """Where an angle lies: its distance from the wall, and its length in the bases it ends in."""

    from_wall_mm: Annotated[float, Length(0, 1500, "Its near side from the wall.")]
    bearing_mm: Annotated[
        float,
        Length(20, 1500, "Its length inside each base box that it ends in, beyond the panel."),
    ]


def tie_angle(
    name: str, tie: TieSizes, first: Space, last: Space, construction: Construction
) -> SteelAngle:
    """Return the angle from inside the base of the first unit to inside that of the last.

    Raises:
        ValueError: one of the two has no base box.
    """
    if first.base is None or last.base is None:
        raise ValueError(f"{name} ends in units with base boxes")
    bearing = construction.base_panel.thickness_mm + tie.bearing_mm
    return steel_angle(
        f"{name}/steel angle",
        (first.base.high.x - bearing, last.base.low.x + bearing),
        tie.from_wall_mm,
        first.base.high.z,
        construction,
    )


def tie_grooves(construction: Construction, relief: CornerRelief) -> Iterator[tuple[float, str]]:
    """Yield the width of the notches that an angle runs through, where the bit must pass them."""
    if relief is CornerRelief.OVERCUT:
        width_mm = construction.angle.leg_mm + 2 * construction.angle_clearance_mm
        yield width_mm, "the steel angle, with angle_clearance"
