"""The cuts of one layout on a panel saw, in order.

A *board* is a rectangle that lies on the saw; the first is the whole sheet. A *cut* divides one
board: what lies between its edge and the blade is *taken* off, the rest is beyond the blade. The
*distance* is from the board's left or lower edge to the blade, where the fence stands. All lengths
are ticks, places in the frame of the sheet.
"""

from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby

from nesting.answer.solution import Placement
from nesting.question.ticks import to_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSequence:
    """How one sheet is cut: boards by their number, and cuts in the order in which they are made.

    `stages` counts the passes over all boards, without trim and cuts to size. `kerf` is the width
    of the blade.
    """

    stock: str
    kerf: int
    first: "Line"
    stages: int
    boards: tuple["Board", ...]
    cuts: tuple["Cut", ...]

    @property
    def settings(self) -> tuple[tuple["Cut", ...], ...]:
        """Return the cuts that follow each other with the fence at one distance."""
        groups = groupby(self.cuts, key=lambda cut: (cut.stage, cut.line, cut.distance))
        return tuple(tuple(cuts) for _, cuts in groups)

    @property
    def left_over(self) -> tuple["Board", ...]:
        """Return the boards that hold no piece, by their number."""
        return tuple(board for board in self.boards if board.fate in {Fate.OFFCUT, Fate.WASTE})

    def freed_by(self, cut: "Cut") -> tuple[Placement, ...]:
        """Return the pieces that are finished with this cut."""
        return tuple(
            placement
            for board in self.boards_from(cut)
            if board.fate is Fate.PIECE
            for placement in board.holds
        )

    def boards_from(self, cut: "Cut") -> tuple["Board", ...]:
        """Return the boards that the cut makes: the one taken off, then the rest."""
        return tuple(self.boards[number] for number in (cut.taken, cut.rest) if number is not None)


class Line(StrEnum):
    """Which way a cut runs."""

    ALONG = "along the sheet's length"
    ACROSS = "across the sheet's length"

    @property
    def other(self) -> "Line":
        """Return the line at a right angle to it."""
        return Line.ACROSS if self is Line.ALONG else Line.ALONG


class CutKind(StrEnum):
    """What a cut is called (common practice, no source)."""

    TRIM = "trim"
    """Takes the sheet's own edge off."""
    RIP = "rip"
    """Along the sheet, in the first or second stage."""
    CROSSCUT = "crosscut"
    """Across the sheet, in the first or second stage."""
    RECUT = "recut"
    """Any cut of the third stage or later."""
    SIZE = "cut to size"
    """After the last stage: takes waste off a single piece, and is not counted as a stage."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One cut of one board.

    `dust` is what the blade turns to dust: its kerf, or less where it runs along the board's edge.
    `taken` and `rest` are the boards made; None where only dust is left on that side.
    """

    number: int
    stage: int
    """Pass over all boards; 0 for the trim."""
    kind: CutKind
    line: Line
    board: int
    distance: int
    dust: int
    taken: int | None
    rest: int | None

    @property
    def distance_mm(self) -> float:
        """Return the distance from the fence to the blade in millimetres."""
        return to_mm(self.distance)


class Fate(StrEnum):
    """What becomes of a board."""

    CUT = "is cut on"
    PIECE = "is a piece"
    OFFCUT = "is kept"
    WASTE = "is waste"


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A rectangle on the saw, with the pieces that will come out of it."""

    number: int
    x: int
    y: int
    length: int
    width: int
    holds: tuple[Placement, ...]
    fate: Fate
