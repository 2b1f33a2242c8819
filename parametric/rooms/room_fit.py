"""What one measured room does to its set, as data that tables and papers are made from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SideGap:
    """Room between the set and a wall at one height: what a filler or a scribe has to close."""

    where: str
    height_mm: float
    gap_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """A shim behind a fixing, or under a leg or a corner of a base: how thick, and where."""

    where: str
    thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MissedFixing:
    """A wall fixing that meets neither stud nor blocking: the nearest stud is so far away."""

    where: str
    across_mm: float
    height_mm: float
    to_stud_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomFit:
    """How the set goes into one room. `refusal` is empty where it does; else why it does not, and
    `nearest` names what would. What nobody has measured is in `unknown`, and nothing is assumed.
    """

    room: str
    set_name: str
    refusal: str
    nearest: str
    gaps: tuple[SideGap, ...]
    shims: tuple[Packing, ...]
    levelling: tuple[Packing, ...]
    wall_base_cut_mm: float | None
    missed: tuple[MissedFixing, ...]
    unknown: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """Whether nothing stands against it."""
        return not self.refusal
