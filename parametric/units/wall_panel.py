"""Wall panel: hung over one or more units, as wide as they are together, its lower edge just above
them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated

from parametric.geometry.space import Box
from parametric.joints.assembly import Assembly
from parametric.primitives.hung_panel import (
    LIFT_MM,
    PLATE_END_MM,
    PLATE_FROM_TOP_MM,
    SCREW_FROM_EDGE_MM,
    hung_panel,
)
from parametric.stock.construction import Construction
from parametric.units.family import Limit
from parametric.units.size import Count, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPanelSizes:
    """Sizes of a wall panel; its lower edge is `gap_mm` above the highest of what it hangs over."""

    height_mm: Annotated[float, Length(200, 2000, "From lower to upper edge.")]
    gap_mm: Annotated[float, Length(0, 300, "Lower edge above what it hangs over.")]
    plates: Annotated[int, Count(2, 12, "How many wall plates carry it.")]


def wall_panel(
    name: str, panel: WallPanelSizes, over: Sequence[Box], construction: Construction
) -> Assembly:
    """Return the panel over the spaces of some units along its wall, with plates and screws."""
    low_z = max(space.high.z for space in over) + panel.gap_mm
    run = (min(space.low.x for space in over), max(space.high.x for space in over))
    return hung_panel(name, run, (low_z, low_z + panel.height_mm), panel.plates, construction)


def panel_limits(panel: WallPanelSizes, construction: Construction) -> Iterator[Limit]:
    """Yield what must hold between the sizes of a panel."""
    plate = construction.wall_plate
    least_mm = PLATE_FROM_TOP_MM + plate.height_mm + 2 * SCREW_FROM_EDGE_MM
    reason = "for plates and screws one above the other"
    yield Limit(("height",), panel.height_mm, least_mm, math.inf, reason)


def least_panel_mm(panel: WallPanelSizes, construction: Construction) -> float:
    """Return the least width of a panel on so many plates side by side."""
    return panel.plates * construction.wall_plate.length_mm + 2 * PLATE_END_MM


def panel_grooves(construction: Construction) -> Iterator[tuple[float, str]]:
    """Yield the width of the groove in a panel's back."""
    yield construction.wall_plate.thickness_mm + LIFT_MM, "the lip of wall_plate"
