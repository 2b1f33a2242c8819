"""What one measured room does to its set, as data that tables and papers are made from."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.hand import Hand
from parametric.geometry.walls import Wall
from parametric.rooms.turning_room import TurnedHere


@dataclass(frozen=True, slots=True, kw_only=True)
class SideGap:
    """Room between the set and a wall at one place: open, or for a filler or a scribe.

    `beyond` is the board that the gap begins at, empty for a wedge.
    """

    where: str
    gap_mm: float
    beyond: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """A shim behind a fixing, or under a leg or a base: from the least to the most thickness. Where
    each screw of a part has its own, `screw` counts them from the corner.
    """

    where: str
    least_mm: float
    most_mm: float
    screw: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class MissedFixing:
    """A wall fixing that finds no wood: how far from the corner of its wall with another, how high,
    and why.
    """

    where: str
    across_mm: float
    height_mm: float
    reason: str
    corner_with: Wall


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomFit:
    """How a set goes into one room. `refusal` is empty where it does; else why it does not, and
    `nearest` is the set of the job that would, empty if none does.

    `measured` says whether somebody measured the opening of each of the two walls of the corner
    that the set stands along: else nobody knows whether it goes in.

    `gaps` are beyond the far end of the set along the head wall, `side_gaps` beyond that along the
    side wall. `wedge` is what a corner out of square leaves at the side wall, and `shift_mm` how
    far a side wall that leans in keeps what stands along the head wall from the corner;
    `width_off_mm` is how much wider the room is than a set with a far wall counts on. What nobody
    has measured is in `unknown`. `wood_known` is whether any wall screw looks for studs or
    blocking, and somebody measured them. `turned` is what is turned over on the floor of this room,
    where that was measured.
    """

    room: str
    set_name: str
    refusal: str
    nearest: str
    gaps: tuple[SideGap, ...]
    side_gaps: tuple[SideGap, ...]
    wedge: SideGap | None
    measured: bool
    shift_mm: float
    width_off_mm: float | None
    floor_fall_mm: float | None
    shims: tuple[Packing, ...]
    levelling: tuple[Packing, ...]
    wall_base_cut_mm: float | None
    missed: tuple[MissedFixing, ...]
    unknown: tuple[str, ...]
    wood_known: bool = True
    turned: tuple[TurnedHere, ...] = ()

    @property
    def fits(self) -> bool:
        """Whether nothing stands against it."""
        return not self.refusal


HandedFit = tuple[Hand, RoomFit]
"""The hand of the set that a room gets, and how it goes in."""
