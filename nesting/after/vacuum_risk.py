"""Parts that a vacuum table may not hold while they are cut free."""

from dataclasses import dataclass
from enum import StrEnum

from nesting.answer.solution import Layout
from nesting.question.instance import Instance, Piece
from nesting.question.ticks import gap_ticks, to_mm

_SQUARE_MM = gap_ticks(1) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldLimits:
    """From when on a part is at risk: below an area (square ticks), or above an aspect (longer
    side over shorter).
    """

    least_area: int
    greatest_aspect: float


COMMON_LIMITS = HoldLimits(least_area=50_000 * _SQUARE_MM, greatest_aspect=10.0)
"""500 cm2, and ten times as long as wide (common practice, no source): hold grows with the area
under the part, and a narrow strip tips over its long edge.
"""


class RiskKind(StrEnum):
    """Why a part is at risk."""

    SMALL = "small"
    NARROW = "long and narrow"


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk:
    """One part on a sheet that may come loose: its index among the placements, and why."""

    placement: int
    kinds: tuple[RiskKind, ...]
    reason: str


def risks(
    instance: Instance, layout: Layout, limits: HoldLimits = COMMON_LIMITS
) -> tuple[Risk, ...]:
    """Return the parts of a layout that are at risk, in the order of its placements.

    Raises:
        KeyError: the layout names a piece that the question does not have.
    """
    found = []
    for index, placed in enumerate(layout.placements):
        reasons = _reasons(instance.piece_of[placed.piece], limits)
        if reasons:
            found.append(
                Risk(
                    placement=index,
                    kinds=tuple(reasons),
                    reason=f"part {placed.piece}: " + "; ".join(reasons.values()),
                )
            )
    return tuple(found)


def _reasons(piece: Piece, limits: HoldLimits) -> dict[RiskKind, str]:
    area = piece.length * piece.width
    longer, shorter = max(piece.length, piece.width), min(piece.length, piece.width)
    reasons = {}
    if area < limits.least_area:
        reasons[RiskKind.SMALL] = (
            f"{RiskKind.SMALL}, {_cm2(area)} cm2 where the table holds {_cm2(limits.least_area)}"
        )
    if longer > limits.greatest_aspect * shorter:
        reasons[RiskKind.NARROW] = (
            f"{RiskKind.NARROW}, {to_mm(longer):.1f} x {to_mm(shorter):.1f} mm, "
            f"more than {limits.greatest_aspect:g} to 1"
        )
    return reasons


def _cm2(area: int) -> str:
    return f"{area / _SQUARE_MM / 100:.0f}"
