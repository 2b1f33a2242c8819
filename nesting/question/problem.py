"""The question as the packers see it: sizes grown by the gap, identities as indices.

Growing each piece and each trimmed sheet by one gap turns "keep the gap" into "do not overlap".
"""

from dataclasses import dataclass
from fractions import Fraction

from nesting.question.instance import Instance, Stock, Turn
from nesting.question.maximal_rectangles import Rectangle, maximal_rectangles
from nesting.question.prices import exact_price, unit_price
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, small


@dataclass(frozen=True, slots=True)
class ItemType:
    """A piece type: size along x and y in ticks, grown by the gap.

    `rim` is how far it stays from every side of a room.
    """

    index: int
    length: int
    width: int
    turnable: bool
    rim: int = 0

    @property
    def area(self) -> int:
        """Return the grown area in square ticks."""
        return self.length * self.width

    def fits(self, room: "Room") -> bool:
        """Return whether one piece fits the empty room."""
        turns = [(self.length, self.width)]
        if self.turnable:
            turns.append((self.width, self.length))
        return any(self._fits(turn, room, free) for turn in turns for free in room.free)

    def _fits(self, sides: tuple[int, int], room: "Room", free: Rectangle) -> bool:
        x0, y0 = max(free.x, self.rim), max(free.y, self.rim)
        x1 = min(free.x + free.length, room.length - self.rim)
        y1 = min(free.y + free.width, room.width - self.rim)
        return sides[0] <= x1 - x0 and sides[1] <= y1 - y0


@dataclass(frozen=True, slots=True)
class Room:
    """The inside of a stock's trim, grown by the gap (ticks), with its price and sheets on hand.

    `cost` is the price as a whole number of the problem's `unit`; only it is summed and compared.
    `free` are the largest empty rectangles between its defects: the whole room without any.
    """

    index: int
    length: int
    width: int
    price: float
    cost: int
    on_hand: int | None
    free: tuple[Rectangle, ...]

    @property
    def area(self) -> int:
        """Return the grown area in square ticks, defects included."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Problem:
    """Item types with their demand, rooms to put them in, and how they are cut.

    `unit` is the price of which all costs count whole numbers.
    """

    item_types: tuple[ItemType, ...]
    demand: tuple[int, ...]
    rooms: tuple[Room, ...]
    unit: Fraction
    saw: EdgeToEdge | None = None


def problem_of(instance: Instance) -> Problem:
    """Return the packers' view of a question."""
    rules = instance.rules
    item_types = tuple(
        ItemType(
            index,
            piece.length + rules.gap,
            piece.width + rules.gap,
            piece.turn is Turn.QUARTER and piece.length != piece.width,
            rules.rim.distance if rules.rim and small(rules.rim, piece.length, piece.width) else 0,
        )
        for index, piece in enumerate(instance.pieces)
    )
    demand = tuple(piece.quantity for piece in instance.pieces)
    return Problem(item_types, demand, rooms_of(instance), unit_of(instance), rules.saw)


def rooms_of(instance: Instance) -> tuple[Room, ...]:
    """Return the packers' view of the stocks of a question."""
    unit = unit_of(instance)
    return tuple(
        _room(index, stock, instance.rules, unit) for index, stock in enumerate(instance.stocks)
    )


def unit_of(instance: Instance) -> Fraction:
    """Return the price of which all stocks cost a whole number."""
    return unit_price(exact_price(stock.price_to_pay) for stock in instance.stocks)


def _room(index: int, stock: Stock, rules: SheetRules, unit: Fraction) -> Room:
    trim, gap = rules.trim, rules.gap
    length = stock.length - trim.along + gap
    width = stock.width - trim.across + gap
    blocked = [
        # Grown like a part, and by one gap to the left and downwards as well.
        Rectangle(
            defect.x - trim.left, defect.y - trim.bottom, defect.length + gap, defect.width + gap
        )
        for defect in stock.defects
    ]
    free = maximal_rectangles(length, width, blocked)
    cost = int(exact_price(stock.price_to_pay) / unit)
    return Room(index, length, width, stock.price_to_pay, cost, stock.on_hand, free)
