"""What a machine file says of the router's work: its bits, its times, and what holds the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

SECONDS_PER_MINUTE = 60.0


class BitRole(StrEnum):
    """What a bit cuts, in the order in which a sheet is cut: outlines last, since they free the
    parts (common practice, no source).
    """

    BORE = "bore"
    GROOVE = "groove"
    OPENING = "opening"
    OUTLINE = "outline"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A bit or drill in the router's rack. Feeds are millimetres in a minute, along and downwards;
    `pass_depth_mm` is the most it takes at once, None: any depth.
    """

    name: str
    diameter_mm: float
    roles: tuple[BitRole, ...]
    feed_mm: float
    plunge_mm: float
    pass_depth_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Times:
    """Seconds that are not cutting, and how many millimetres the head travels in a minute above the
    sheet. A label counts for each part of a sheet, `second_s` for each part that is turned over.

    The defaults are common practice, no source: time your own machine.
    """

    tool_change_s: float = 15.0
    lift_s: float = 1.5
    rapid_mm: float = 20_000.0
    load_s: float = 180.0
    unload_s: float = 120.0
    label_s: float = 10.0
    second_s: float = 45.0

    def sheet_s(self, parts: int) -> float:
        """Return what a sheet with so many parts takes beside the machine's own work."""
        return self.load_s + self.unload_s + parts * self.label_s


class Table(StrEnum):
    """What holds a sheet on the table."""

    VACUUM = "vacuum"
    CLAMPS = "clamps"
    SCREWS = "screws"


class Held(StrEnum):
    """What holds parts that the table may not hold once they are cut free."""

    SKIN = "skin"  # a thin layer left under them, parted afterwards
    TABS = "tabs"  # bridges left to what is around them
    RIM = "rim"  # the waste around them, which is itself screwed or clamped down


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldDown:
    """How sheets and small parts are held (common practice, no source)."""

    table: Table = Table.VACUUM
    small_parts: Held = Held.SKIN
    skin_mm: float = 0.5


ASSUMED_FEED_MM = 6000.0
ASSUMED_PLUNGE_MM = 2000.0
ASSUMED_PASSES_OF_DIAMETER = 2.0
"""Of a machine file without bits (common practice, no source): papers say that it is assumed."""


def assumed_bits(bit_diameter_mm: float, drills_mm: tuple[float, ...]) -> tuple[Bit, ...]:
    """Return the bits of a machine that lists none: the one that its file names, for all that is
    routed, and a drill for each hole that is drilled, through in one stroke.
    """
    routed = (BitRole.OUTLINE, BitRole.OPENING, BitRole.GROOVE)
    rates = {"feed_mm": ASSUMED_FEED_MM, "plunge_mm": ASSUMED_PLUNGE_MM}
    router = Bit(
        name="router bit",
        diameter_mm=bit_diameter_mm,
        roles=routed,
        pass_depth_mm=ASSUMED_PASSES_OF_DIAMETER * bit_diameter_mm,
        **rates,
    )
    drills = (
        Bit(name="drill", diameter_mm=drill_mm, roles=(BitRole.BORE,), **rates)
        for drill_mm in sorted(set(drills_mm))
    )
    return (router, *drills)
