"""The question as the packers see it: sizes grown by the gap, identities as indices.

Growing each piece and each trimmed sheet by one gap turns "keep the gap" into "do not overlap".
"""

from dataclasses import dataclass

from nesting.instance import Instance, Stock, Turn


@dataclass(frozen=True, slots=True)
class Kind:
    """A piece type: size along x and y in ticks, grown by the gap."""

    index: int
    length: int
    width: int
    turnable: bool

    @property
    def area(self) -> int:
        """Return the grown area in square ticks."""
        return self.length * self.width

    def fits(self, room: "Room") -> bool:
        """Return whether one piece fits the empty room."""
        straight = self.length <= room.length and self.width <= room.width
        turned = self.width <= room.length and self.length <= room.width
        return straight or (self.turnable and turned)


@dataclass(frozen=True, slots=True)
class Room:
    """The inside of a stock's trim, grown by the gap (ticks), with its price and sheets on hand.

    `weight` is what one sheet counts when fillings are compared: its price, or a stand-in that is
    above zero for a sheet that costs nothing.
    """

    index: int
    length: int
    width: int
    price: float
    weight: float
    on_hand: int | None

    @property
    def area(self) -> int:
        """Return the grown area in square ticks."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Problem:
    """Kinds with their demand, and rooms to put them in."""

    kinds: tuple[Kind, ...]
    demand: tuple[int, ...]
    rooms: tuple[Room, ...]


def problem_of(instance: Instance) -> Problem:
    """Return the packers' view of a question."""
    gap, trim = instance.rules.gap, instance.rules.trim
    kinds = tuple(
        Kind(index, piece.length + gap, piece.width + gap, piece.turn is Turn.QUARTER)
        for index, piece in enumerate(instance.pieces)
    )
    weights = _weights(instance.stocks)
    rooms = tuple(
        Room(
            index,
            stock.length - 2 * trim + gap,
            stock.width - 2 * trim + gap,
            stock.price,
            weights[index],
            stock.on_hand,
        )
        for index, stock in enumerate(instance.stocks)
    )
    demand = tuple(piece.quantity for piece in instance.pieces)
    return Problem(kinds, demand, rooms)


_FREE_SHARE = 0.001
"""What a free sheet counts, against the cheapest priced area: nearly nothing, but not nothing."""


def _weights(stocks: tuple[Stock, ...]) -> list[float]:
    """Return what a sheet of each stock counts; by area alone when all are free."""
    rates = [stock.price / (stock.length * stock.width) for stock in stocks if stock.price > 0]
    free = min(rates) * _FREE_SHARE if rates else 1.0
    return [stock.price or stock.length * stock.width * free for stock in stocks]
