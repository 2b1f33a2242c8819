"""What a set must carry, and what it is fixed to. Figures with their sources; a job may raise them.

An aid to the engineer. Local codes and licensed practice decide what a set must carry.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import sqrt

from parametric.shapes.board import Surface
from parametric.strength.board_rules import Climate

ADA_903_6 = "2010 ADA Standards 903.6: 250 lbf at any point, vertical or horizontal"
AWS_SHELVES = (
    "Architectural Woodwork Standards, 1st ed. 2009, section 10, 1.2.21: shelves 50 lbf/ft2, not"
    " over 200 lbf each, sag not over L/144"
)
NDS_SPRUCE = "NDS 2018 table 12.3.3A: spruce-pine-fir"

EN_527 = "EN 527-2, vertical load on the edge of a work surface (from memory)"

SEAT_N = 1112.0  # 250 lbf
LEANING_N = 1000.0
SPREAD_N_M2 = 2394.0  # 50 lbf/ft2
MOST_ON_A_SHELF_N = 890.0  # 200 lbf
SAG_SPAN = 144.0  # the span over so much may be lost to sag
FLOOR_FRICTION = 0.3  # of feet and panel edges on a hard floor; from memory
DROPPED_KG, DROP_SPRING_N_MM = 25.0, 7.0  # dropped onto a seat, its springs: EN 1728, from memory
STANDARD_GRAVITY = 9.80665  # m/s2, exact by definition (CGPM 1901)


class Use(StrEnum):
    """How hard furniture is used: by which standard its seats are tested."""

    HOME = "home"
    CONTRACT = "contract"
    SEVERE = "severe"


@dataclass(frozen=True, slots=True)
class SeatTest:
    """What a test puts on a seat: a load that presses on it, and a weight dropped onto it."""

    seat_n: float
    drop_mm: float
    source: str

    @property
    def drop_n(self) -> float:
        """What the weight's springs press at most on a seat that does not give way: all that it
        loses in height is in them then, m g (h + F/k) = F2 / 2k.
        """
        weight_n = DROPPED_KG * STANDARD_GRAVITY
        return weight_n + sqrt(weight_n**2 + 2 * DROP_SPRING_N_MM * weight_n * self.drop_mm)


SEAT_TESTS = {
    Use.HOME: SeatTest(1300.0, 180.0, "EN 12520 (from memory)"),
    Use.CONTRACT: SeatTest(1600.0, 240.0, "EN 16139, level 1 (from memory)"),
    Use.SEVERE: SeatTest(2000.0, 300.0, "EN 16139, level 2 (from memory)"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """Loads of a job, in newtons, the air of its rooms, and the wood that its wall screws go into.

    `use` says by which test seats are judged. `seat_n` stands anywhere on a deck that is sat on, or
    pulls where the set is fixed; `leaning_n` is what somebody leans with anywhere on a work
    surface; `spread_n_m2` lies on decks, work surfaces, tables and shelves, `lasting` of it
    for years: psi_2 of rooms that people live in, EN 1990 table A1.1 (from memory). `panel_n`
    is what somebody adds who holds on to a hung panel; common practice, no source. `lining_mm`
    is what the wall screws go through before they reach wood, gypsum board of 5/8 in, and
    `blocking_mm` how thick that is, a board of nominal 2 in; common practice, no source.
    """

    use: Use = Use.CONTRACT
    seat_n: float = SEAT_N
    leaning_n: float = LEANING_N
    spread_n_m2: float = SPREAD_N_M2
    lasting: float = 0.3
    panel_n: float = 450.0
    climate: Climate = Climate.HEATED
    blocking_gravity: float = 0.42
    blocking_mm: float = 38.1
    lining_mm: float = 15.9

    def anywhere_on(self, surface: Surface | None) -> tuple[float, str]:
        """Return the load that may stand anywhere on a board that others carry, by what its face is
        for, and where that is from: what nobody has said is taken to be sat on.
        """
        if surface is Surface.LEANING:
            return self.leaning_n, source_of(self.leaning_n, LEANING_N, EN_527)
        return self.seat_n, source_of(self.seat_n, SEAT_N, ADA_903_6)

    def on_shelf_n(self, area_mm2: float) -> float:
        """Return the load on a table or shelf: spread, up to the most that is asked of one, which
        a raised spread load raises as well.
        """
        most = MOST_ON_A_SHELF_N * max(1.0, self.spread_n_m2 / SPREAD_N_M2)
        return min(self.spread_n_m2 * area_mm2 * 1e-6, most)


def source_of(value: float, published: float, source: str) -> str:
    """Return the source, and that the job raised the value if it did."""
    return source if value == published else f"{source}; raised by the job"
