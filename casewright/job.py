"""A job, read and checked: what is built, from what, on which machine, for which rooms."""

from __future__ import annotations

from dataclasses import dataclass

from export.dxf_version import DxfVersion
from export.layer_names import LayerNames
from parametric.hand import Hand
from parametric.lengths import Units
from parametric.routing import Routing
from parametric.sizes import Construction, SetSizes


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """What the router imposes on sheets and cut files.

    `sheet_trim_mm` is left along every edge of a sheet, `gap_mm` between parts; holes larger than
    `largest_drill_mm` are routed.
    """

    name: str
    sheet_trim_mm: float
    gap_mm: float
    dxf_version: DxfVersion
    largest_drill_mm: float
    layer_names: LayerNames


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was measured in one room; None where nobody has measured yet.

    Openings are clear lengths along the head wall, at the floor, at the seat and at mid height of
    the wall panel. Floor points are heights above (below: negative) the level that the job is set
    out from. `corner_out_of_square_per_1000` is how far the side wall leaves a line square to the
    head wall, in thousandths of the distance from the corner: positive where the corner is wider
    than 90 degrees. Studs count from the corner of head wall and side wall.
    """

    opening_at_floor_mm: float | None = None
    opening_at_seat_mm: float | None = None
    opening_at_panel_mm: float | None = None
    corner_out_of_square_per_1000: float | None = None
    floor_high_mm: float | None = None
    floor_low_mm: float | None = None
    wall_base_height_mm: float | None = None
    wall_base_thickness_mm: float | None = None
    first_stud_mm: float | None = None
    stud_spacing_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """One room of the schedule and the set it gets."""

    number: str
    set_name: str
    hand: Hand
    measured: Measured


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole job. Sets are in the order of the job file, rooms in that of the schedule."""

    name: str
    units: Units
    currency: str
    sets: tuple[SetSizes, ...]
    construction: Construction
    routing: Routing
    machine: Machine
    rooms: tuple[Room, ...]
