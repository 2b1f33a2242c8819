"""What was measured in one room."""

from __future__ import annotations

from dataclasses import dataclass

Range = tuple[float, float]
"""From a lower to a higher value, millimetres."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was measured in one room; None where nobody has measured yet.

    Openings are clear lengths along the head wall, at the floor, at the seat and at mid height of
    the wall panel; `side_opening_mm` is one along the side wall, from the corner. `floor_width_mm`
    and `floor_depth_mm` are the floor that is clear before the set comes, along the head wall and
    out from it, both from the corner. Floor points are
    heights above (below: negative) the level that the job is set out from.
    `corner_out_of_square_per_1000` is how far the side wall leaves a line square to the head wall,
    in thousandths of the distance from the corner: positive where the corner is wider than 90
    degrees. Studs count from the corner of head wall and side wall, along the head wall.
    `wall_lining_mm` is what lies over studs and blocking. Blocking runs the length of its wall
    between heights above the finished floor; an empty tuple says that there is none.
    """

    opening_at_floor_mm: float | None = None
    opening_at_seat_mm: float | None = None
    opening_at_panel_mm: float | None = None
    side_opening_mm: float | None = None
    floor_width_mm: float | None = None
    floor_depth_mm: float | None = None
    corner_out_of_square_per_1000: float | None = None
    floor_high_mm: float | None = None
    floor_low_mm: float | None = None
    wall_base_height_mm: float | None = None
    wall_base_thickness_mm: float | None = None
    first_stud_mm: float | None = None
    stud_spacing_mm: float | None = None
    wall_lining_mm: float | None = None
    blocking_mm: tuple[Range, ...] | None = None
    side_blocking_mm: tuple[Range, ...] | None = None
