"""What can stop the cutting of bars, besides a malformed question (nesting.question.errors).

    NestingError
    |-- PieceTooLong      a piece is longer than every bar between its trims
    |-- NotEnoughBars     the bars on hand do not hold all pieces
    `-- BrokenBarAnswer   an answer failed verification: a bug in the nest

Messages are built from the fields; lengths are ticks in fields and millimetres in messages.
"""

from dataclasses import dataclass
from enum import StrEnum

from nesting.linear.violation import BarViolation
from nesting.question.errors import NestingError, ShortPiece
from nesting.question.ticks import to_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedBar:
    """A bar that a piece was tried on: its length between the trims, in ticks."""

    bar: str
    room: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LongPiece:
    """A piece (ticks) that fits no bar, with the bars that were tried."""

    piece: str
    length: int
    bars: tuple[TriedBar, ...]

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        rooms = "; ".join(f"{tried.bar} has room for {_length(tried.room)}" for tried in self.bars)
        return f"piece {self.piece} of {_length(self.length)} fits no bar: {rooms}"


class PieceTooLong(NestingError):
    """At least one piece is longer than every bar between its trims."""

    def __init__(self, *, pieces: tuple[LongPiece, ...]) -> None:
        """Keep all long pieces, in the order of the question."""
        super().__init__()
        self.pieces = pieces

    def __str__(self) -> str:
        """Return the pieces, one a line."""
        return "\n".join(map(str, self.pieces))


@dataclass(frozen=True, slots=True, kw_only=True)
class MoreBars:
    """So many more of a bar (its length in ticks)."""

    bar: str
    length: int
    quantity: int

    def __str__(self) -> str:
        """Return the number and the bar."""
        return f"{self.quantity} x {self.bar} ({_length(self.length)})"


class BarShortageProof(StrEnum):
    """How it is known that the bars on hand are not enough."""

    BOUND = "proven"
    SEARCH = "no way was found; there might be one"


class NotEnoughBars(NestingError):
    """The bars on hand do not hold all pieces."""

    def __init__(
        self,
        *,
        short: tuple[ShortPiece, ...],
        to_buy: tuple[MoreBars, ...],
        longer_than_sold: tuple[str, ...],
        proof: BarShortageProof,
    ) -> None:
        """Keep the pieces left over, the cheapest further bars that would hold them, and those
        pieces that only remnants are long enough for.
        """
        super().__init__()
        self.short = short
        self.to_buy = to_buy
        self.longer_than_sold = longer_than_sold
        self.proof = proof

    def __str__(self) -> str:
        """Return which pieces are short and what would do."""
        pieces = ", ".join(f"{short.quantity} x {short.piece}" for short in self.short)
        lines = [f"Not enough bars ({self.proof}). Short: {pieces}."]
        if self.to_buy:
            lines.append(f"Buying {', '.join(map(str, self.to_buy))} would do.")
        if self.longer_than_sold:
            names = ", ".join(self.longer_than_sold)
            lines.append(f"No bar that can be bought is long enough for {names}.")
        return "\n".join(lines)


class BrokenBarAnswer(NestingError):
    """An answer failed its independent verification. This is a bug, never a fault of the input."""

    def __init__(self, *, violations: tuple[BarViolation, ...]) -> None:
        """Keep the violations; the question brings them back, as nothing here is random."""
        super().__init__()
        self.violations = violations

    def __str__(self) -> str:
        """Return the violations, one a line."""
        head = "A cut plan for bars failed its verification; this is a bug in the nest:"
        return "\n".join([head, *map(str, self.violations)])


def _length(ticks: int) -> str:
    return f"{to_mm(ticks):.2f} mm"
