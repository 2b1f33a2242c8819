"""The rules of every sheet of a nest. All lengths are ticks."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Self

from nesting.question.errors import Fault, raise_if_any, too_low


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRules:
    """What every sheet must keep: edges lost, the gap between parts, the way it is cut.

    The gap is measured along x or along y: two parts keep it when they stand at least `gap` apart
    in one of the two directions, so that parts which meet at their corners keep it too. A part
    keeps it from a defect of the sheet as well. It is the bit's diameter when parts are routed,
    and the blade's kerf when they are sawn.

    Raises:
        InvalidInstance: a negative or fractional gap.
    """

    trim: "Trim"
    gap: int
    rim: "Rim | None" = None
    """Small parts kept away from the trimmed edges; None: they may lie anywhere."""
    saw: "EdgeToEdge | None" = None
    """Cuts that only run from edge to edge; None: parts are routed and lie freely."""

    def __post_init__(self) -> None:
        """Refuse negative rules, naming all faults."""
        raise_if_any(too_low("rules: gap", self.gap, 0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """What is lost along each edge of a sheet before parts are cut from it.

    Raises:
        InvalidInstance: a negative or fractional width.
    """

    left: int
    right: int
    bottom: int
    top: int

    @classmethod
    def even(cls, width: int) -> Self:
        """Return the same loss on all four edges."""
        return cls(left=width, right=width, bottom=width, top=width)

    @property
    def along(self) -> int:
        """Return what the sheet's length loses."""
        return self.left + self.right

    @property
    def across(self) -> int:
        """Return what the sheet's width loses."""
        return self.bottom + self.top

    def __post_init__(self) -> None:
        """Refuse negative widths, naming all faults."""
        widths = {
            "left": self.left,
            "right": self.right,
            "bottom": self.bottom,
            "top": self.top,
        }
        raise_if_any(
            fault for edge, width in widths.items() for fault in too_low(f"trim: {edge}", width, 0)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rim:
    """Parts with no side longer than `longest_side` stay `distance` away from the trimmed edges.

    Near the rim of the sheet a vacuum holds least (common practice, no source).

    Raises:
        InvalidInstance: a side below 1, or a negative distance.
    """

    longest_side: int
    distance: int

    def __post_init__(self) -> None:
        """Refuse impossible sizes, naming all faults."""
        raise_if_any(
            [
                *too_low("rim: longest side", self.longest_side, 1),
                *too_low("rim: distance", self.distance, 0),
            ]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeToEdge:
    """Every cut runs from one edge of what lies on the saw to the opposite one.

    `stages` counts how often the direction changes, the first cuts included: 2 rips strips and
    crosscuts them, 3 recuts the pieces of the crosscut; None sets no limit. The last cut that only
    takes waste off a single part is not counted (common practice, no source).

    Raises:
        InvalidInstance: a number of stages below 2.
    """

    stages: int | None

    def __post_init__(self) -> None:
        """Refuse fewer stages than any rectangle needs."""
        if self.stages is not None:
            raise_if_any(too_low("edge to edge: stages", self.stages, 2))


def small(rim: Rim | None, length: int, width: int) -> bool:
    """Return whether the rim rule holds for a part of that size."""
    return rim is not None and max(length, width) <= rim.longest_side


def trimmed_away(stock: str, length: int, width: int, trim: Trim) -> Iterable[Fault]:
    """Yield a fault for each direction in which the trim leaves nothing of a sheet."""
    for name, side, lost in (("length", length, trim.along), ("width", width, trim.across)):
        if lost >= side:
            yield Fault(
                where=f"stock {stock}: trim",
                found=f"{lost} ticks lost of a {name} of {side}",
                allowed="less than that",
            )
