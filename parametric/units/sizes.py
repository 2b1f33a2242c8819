"""What a job says about its sets: sizes of each unit.

All lengths are millimetres. Sizes are finished sizes. Depth is measured out from the head wall,
width along it, heights from the finished floor.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchSizes:
    """Corner bench: its deck, and the base box set back under it on the two free sides."""

    deck_width_mm: float
    deck_depth_mm: float
    overhang_mm: float
    corner_radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSizes:
    """Bedside table on the steel angle; `shelf_height_mm` is above its underside, None for none."""

    width_mm: float
    depth_mm: float
    height_mm: float
    shelf_height_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BedSizes:
    """Platform bed: deck on a base box that stands clear of the wall, legs under the foot end."""

    deck_width_mm: float
    deck_length_mm: float
    wall_clearance_mm: float
    side_overhang_mm: float
    foot_overhang_mm: float
    leg_inset_mm: float
    corner_radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPanelSizes:
    """Wall panel behind the bed, as wide as the deck, its lower edge `gap_mm` above the deck."""

    height_mm: float
    gap_mm: float
    plates: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleSizes:
    """Steel angle that ties the set: its distance from the wall and its length in each base."""

    from_wall_mm: float
    bearing_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSizes:
    """One set. The table needs both bench and bed, the wall panel needs the bed.

    `butt_gap_mm` is left where the table meets each deck; `base_height_mm` is the height of all
    base tops.
    """

    name: str
    base_height_mm: float
    butt_gap_mm: float
    bench: BenchSizes | None
    table: TableSizes | None
    bed: BedSizes | None
    wall_panel: WallPanelSizes | None
    angle: AngleSizes | None
