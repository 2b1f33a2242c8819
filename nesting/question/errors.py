"""Everything that can stop a nest.

    NestingError
    |-- InvalidInstance     the question itself is malformed (all faults at once)
    |-- PieceTooBig         a piece fits no stock in any turn it may take
    |-- NotEnoughStock      the sheets on hand do not hold all pieces
    |-- StoppedTooEarly     stopped before there was any answer
    `-- BrokenSolution      an answer failed verification: a bug in the nest

Messages are built from the fields; lengths are ticks in fields and millimetres in messages.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from nesting.question.ticks import to_mm
from nesting.question.violation import Violation


class NestingError(Exception):
    """Root of all errors of the nest."""

    def __reduce__(self) -> tuple[object, ...]:
        """Return a recipe that survives the way back from another process."""
        return _rebuilt, (type(self), vars(self))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One malformed value: where it stands, what was found, what is allowed."""

    where: str
    found: str
    allowed: str

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        return f"{self.where}: found {self.found}, allowed {self.allowed}"


class InvalidInstance(NestingError):
    """The question is malformed; every fault found is listed."""

    def __init__(self, *, faults: tuple[Fault, ...]) -> None:
        """Keep the faults."""
        super().__init__()
        self.faults = faults

    def __str__(self) -> str:
        """Return the faults, one a line."""
        return "\n".join(["The nest cannot be asked like this:", *map(str, self.faults)])


def raise_if_any(faults: Iterable[Fault]) -> None:
    """Do nothing when there are no faults.

    Raises:
        InvalidInstance: there are some.
    """
    found = tuple(faults)
    if found:
        raise InvalidInstance(faults=found)


def too_low(where: str, value: int, least: int) -> Iterable[Fault]:
    """Yield a fault unless the value is a whole number of at least `least`.

    A float would quietly break "fits exactly means exactly", so it is refused too.
    """
    if not isinstance(value, int) or value < least:
        yield Fault(where=where, found=str(value), allowed=f"a whole number, {least} or more")


def blank(where: str, text: str) -> Iterable[Fault]:
    """Yield a fault when a text that must say something says nothing."""
    if not text.strip():
        yield Fault(where=where, found="blank", allowed="any text")


class Obstacle(StrEnum):
    """What keeps a piece off a stock."""

    SIZE = "which is too small"
    DEFECTS = "but its defects leave no place large enough"
    RIM = "but small parts must stay off the rim"
    DEFECTS_AND_RIM = "but its defects and the distance from the rim leave no place large enough"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A stock that a piece was tried on: the room inside its trim, in ticks, and why it fails."""

    stock: str
    room_length: int
    room_width: int
    obstacle: Obstacle


@dataclass(frozen=True, slots=True, kw_only=True)
class OversizedPiece:
    """A piece (ticks) that fits no stock, with the stocks and the turns that were tried."""

    piece: str
    length: int
    width: int
    turns: tuple[str, ...]
    stocks: tuple[Tried, ...]

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        rooms = "; ".join(
            f"{tried.stock} has room for {_size(tried.room_length, tried.room_width)}, "
            f"{tried.obstacle}"
            for tried in self.stocks
        )
        return (
            f"piece {self.piece} of {_size(self.length, self.width)} fits no stock "
            f"({' nor '.join(self.turns)}): {rooms}"
        )


class PieceTooBig(NestingError):
    """At least one piece fits no stock in any turn that its grain allows."""

    def __init__(self, *, pieces: tuple[OversizedPiece, ...]) -> None:
        """Keep all oversized pieces, in the order of the question."""
        super().__init__()
        self.pieces = pieces

    def __str__(self) -> str:
        """Return the pieces, one a line."""
        return "\n".join(map(str, self.pieces))


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortPiece:
    """A piece of which `quantity` could not be placed."""

    piece: str
    quantity: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitedStock:
    """A stock with its sheets on hand, and how many more of it alone would do (None: no number).

    The number surely holds the pieces that are short; fewer may do.
    """

    stock: str
    on_hand: int
    more_needed: int | None


class ShortageProof(StrEnum):
    """How it is known that the stock on hand is not enough."""

    AREA = "the pieces have more area than the sheets on hand"
    BOUND = "it is proven that the sheets on hand cannot hold the pieces"
    SEARCH = "no answer was found; a better search might find one"


class NotEnoughStock(NestingError):
    """The sheets on hand do not hold all pieces."""

    def __init__(
        self,
        *,
        short: tuple[ShortPiece, ...],
        stocks: tuple[LimitedStock, ...],
        proof: ShortageProof,
    ) -> None:
        """Keep the pieces left over by the best try, and the stocks that ran out."""
        super().__init__()
        self.short = short
        self.stocks = stocks
        self.proof = proof

    def __str__(self) -> str:
        """Return which pieces are short, of which stock, and what would do."""
        pieces = ", ".join(f"{short.quantity} x {short.piece}" for short in self.short)
        lines = [f"Not enough stock ({self.proof}). Short: {pieces}."]
        lines += [_limited(stock) for stock in self.stocks]
        return "\n".join(lines)


class StoppedTooEarly(NestingError):
    """A nest was stopped before it had any answer."""

    def __str__(self) -> str:
        """Return what happened."""
        return "The nest was stopped before it found a first answer."


class BrokenSolution(NestingError):
    """An answer failed its independent verification. This is a bug, never a fault of the input."""

    def __init__(self, *, violations: tuple[Violation, ...], seed: int) -> None:
        """Keep the violations and the seed that brings the answer back."""
        super().__init__()
        self.violations = violations
        self.seed = seed

    def __str__(self) -> str:
        """Return the violations, one a line, with the seed."""
        head = f"A nest failed its verification (seed {self.seed}); this is a bug in the nest:"
        return "\n".join([head, *map(str, self.violations)])


def _limited(stock: LimitedStock) -> str:
    text = f"Stock {stock.stock}: {stock.on_hand} on hand"
    if stock.more_needed is None:
        return f"{text}; it does not hold the short pieces."
    return f"{text}; {stock.more_needed} more would do."


def _size(length: int, width: int) -> str:
    return f"{to_mm(length):.2f} x {to_mm(width):.2f} mm"


def _rebuilt(kind: type[NestingError], fields: dict[str, object]) -> NestingError:
    error = kind.__new__(kind)
    vars(error).update(fields)
    return error
