"""The question: pieces, stock and the rules of the sheet. All lengths are ticks.

Frame: a sheet lies with its length along x and its width along y, lower-left corner at the origin.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

from nesting.errors import Fault, InvalidInstance


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """All that one nest is asked: which pieces, from which stock, under which rules.

    Raises:
        InvalidInstance: an identity is used twice, there is no stock for the pieces, or the trim
            leaves nothing of a sheet.
    """

    pieces: tuple["Piece", ...]
    stocks: tuple["Stock", ...]
    rules: "SheetRules"

    def __post_init__(self) -> None:
        """Refuse a contradictory question, naming all faults."""
        faults = [
            *_repeated("piece", (piece.id for piece in self.pieces)),
            *_repeated("stock", (stock.id for stock in self.stocks)),
            *(fault for stock in self.stocks for fault in _trimmed_away(stock, self.rules)),
        ]
        if self.pieces and not self.stocks:
            faults.append(Fault(where="stocks", found="none", allowed="at least one"))
        _raise_if_any(faults)


class Turn(StrEnum):
    """How a piece may lie on a sheet."""

    FIXED = "as it is"
    """Length along the sheet's length: the grain decides."""
    QUARTER = "quarter turn"
    """Either way round."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A rectangle to be cut `quantity` times; its length runs along the sheet's unless turned.

    Raises:
        InvalidInstance: a blank id, or a length, width or quantity that is not a whole number
            of at least 1.
    """

    id: str
    length: int
    width: int
    quantity: int
    turn: Turn

    def __post_init__(self) -> None:
        """Refuse impossible sizes, naming all faults."""
        where = f"piece {self.id}"
        _raise_if_any(
            [
                *_blank("piece id", self.id),
                *_below(f"{where}: length", self.length, 1),
                *_below(f"{where}: width", self.width, 1),
                *_below(f"{where}: quantity", self.quantity, 1),
            ]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A size of sheet: its price for one sheet, and the sheets on hand (None: no limit).

    Raises:
        InvalidInstance: a blank id, a length or width below 1, a negative price or number on hand.
    """

    id: str
    length: int
    width: int
    price: float
    on_hand: int | None

    def __post_init__(self) -> None:
        """Refuse impossible sizes, naming all faults."""
        where = f"stock {self.id}"
        faults = [
            *_blank("stock id", self.id),
            *_below(f"{where}: length", self.length, 1),
            *_below(f"{where}: width", self.width, 1),
        ]
        if not isfinite(self.price) or self.price < 0:
            faults.append(
                Fault(where=f"{where}: price", found=str(self.price), allowed="0 or more")
            )
        if self.on_hand is not None:
            faults += _below(f"{where}: on hand", self.on_hand, 0)
        _raise_if_any(faults)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRules:
    """Rules of every sheet: `trim` lost on all four edges, `gap` kept between any two parts.

    The gap is measured along x or along y: two parts keep it when they stand at least `gap` apart
    in one of the two directions, so that parts which meet at their corners keep it too.

    Raises:
        InvalidInstance: a negative or fractional trim or gap.
    """

    trim: int
    gap: int

    def __post_init__(self) -> None:
        """Refuse negative rules, naming all faults."""
        _raise_if_any([*_below("rules: trim", self.trim, 0), *_below("rules: gap", self.gap, 0)])


def _raise_if_any(faults: list[Fault]) -> None:
    if faults:
        raise InvalidInstance(faults=tuple(faults))


def _below(where: str, value: int, least: int) -> Iterable[Fault]:
    # A float would quietly break "fits exactly means exactly", so it is refused here too.
    if not isinstance(value, int) or value < least:
        yield Fault(where=where, found=str(value), allowed=f"a whole number, {least} or more")


def _blank(where: str, text: str) -> Iterable[Fault]:
    if not text.strip():
        yield Fault(where=where, found="blank", allowed="any text")


def _repeated(what: str, ids: Iterable[str]) -> Iterable[Fault]:
    for name, times in Counter(ids).items():
        if times > 1:
            yield Fault(where=f"{what} {name}", found=f"{times} of that id", allowed="1")


def _trimmed_away(stock: Stock, rules: SheetRules) -> Iterable[Fault]:
    smaller = min(stock.length, stock.width)
    if 2 * rules.trim >= smaller:
        yield Fault(
            where=f"stock {stock.id}: trim",
            found=f"{rules.trim} ticks on each edge of a side of {smaller}",
            allowed="less than half of it",
        )
