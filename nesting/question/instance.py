"""The question: pieces, stock and the rules of the sheet. All lengths are ticks.

Frame: a sheet lies with its length along x and its width along y, lower-left corner at the origin.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from math import isfinite

from nesting.question.errors import Fault, blank, raise_if_any, too_low
from nesting.question.sheet_rules import SheetRules, trimmed_away


@dataclass(frozen=True, kw_only=True)
class Instance:
    """All that one nest is asked: which pieces, from which stock, under which rules.

    Raises:
        InvalidInstance: an identity is used twice, there is no stock for the pieces, or the trim
            leaves nothing of a sheet.
    """

    pieces: tuple["Piece", ...]
    stocks: tuple["Stock", ...]
    rules: SheetRules

    def __post_init__(self) -> None:
        """Refuse a contradictory question, naming all faults."""
        faults = [
            *_repeated("piece", (piece.id for piece in self.pieces)),
            *_repeated("stock", (stock.id for stock in self.stocks)),
            *(
                fault
                for stock in self.stocks
                for fault in trimmed_away(stock.id, stock.length, stock.width, self.rules.trim)
            ),
        ]
        if self.pieces and not self.stocks:
            faults.append(Fault(where="stocks", found="none", allowed="at least one"))
        raise_if_any(faults)

    @cached_property
    def piece_of(self) -> Mapping[str, "Piece"]:
        """The pieces by their id."""
        return {piece.id: piece for piece in self.pieces}

    @cached_property
    def stock_of(self) -> Mapping[str, "Stock"]:
        """The stocks by their id."""
        return {stock.id: stock for stock in self.stocks}


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
    group: str = ""
    """Pieces of one room or unit share a group; they are kept together where it costs nothing."""
    priority: int = 0
    """Sheets with pieces of higher priority are cut first, and hold when the stock runs short."""
    cut_area: int | None = None
    """What is left of the rectangle between notches and openings (square ticks); None: all of it.
    Only the yield counts it.
    """

    @property
    def net_area(self) -> int:
        """Return the area that becomes the part, in square ticks."""
        return self.length * self.width if self.cut_area is None else self.cut_area

    def __post_init__(self) -> None:
        """Refuse impossible sizes, naming all faults."""
        where = f"piece {self.id}"
        raise_if_any(
            [
                *blank("piece id", self.id),
                *too_low(f"{where}: length", self.length, 1),
                *too_low(f"{where}: width", self.width, 1),
                *too_low(f"{where}: quantity", self.quantity, 1),
                *_more_than_all(self),
            ]
        )


class StockKind(StrEnum):
    """Where a sheet comes from."""

    SHEET = "sheet"
    REMNANT = "remnant"
    """Left over from earlier work: it costs nothing more, so it is used where it saves a sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A size of sheet: its price for one sheet, and the sheets on hand (None: no limit).

    Every sheet of the stock has the same `defects`; a sheet with faults of its own is a stock with
    one on hand.

    Raises:
        InvalidInstance: a blank id, a length or width below 1, a negative price or number on hand,
            a defect outside the sheet.
    """

    id: str
    length: int
    width: int
    price: float
    on_hand: int | None
    kind: "StockKind" = StockKind.SHEET
    defects: tuple["Defect", ...] = ()

    @property
    def price_to_pay(self) -> float:
        """Return what cutting one more sheet costs: nothing for a remnant, which is paid for."""
        return 0.0 if self.kind is StockKind.REMNANT else self.price

    def __post_init__(self) -> None:
        """Refuse impossible sizes, naming all faults."""
        where = f"stock {self.id}"
        faults = [
            *blank("stock id", self.id),
            *too_low(f"{where}: length", self.length, 1),
            *too_low(f"{where}: width", self.width, 1),
        ]
        if not isfinite(self.price) or self.price < 0:
            faults.append(
                Fault(where=f"{where}: price", found=str(self.price), allowed="0 or more")
            )
        if self.on_hand is not None:
            faults += too_low(f"{where}: on hand", self.on_hand, 0)
        faults += [fault for defect in self.defects for fault in _outside(where, self, defect)]
        raise_if_any(faults)


@dataclass(frozen=True, slots=True, kw_only=True)
class Defect:
    """A rectangle of a sheet that no part may touch: corner and size in the sheet's frame.

    Raises:
        InvalidInstance: a negative corner, or a side below 1.
    """

    x: int
    y: int
    length: int
    width: int

    def __post_init__(self) -> None:
        """Refuse impossible rectangles, naming all faults."""
        raise_if_any(
            [
                *too_low("defect: x", self.x, 0),
                *too_low("defect: y", self.y, 0),
                *too_low("defect: length", self.length, 1),
                *too_low("defect: width", self.width, 1),
            ]
        )


def _more_than_all(piece: Piece) -> Iterable[Fault]:
    if piece.cut_area is not None and not 0 < piece.cut_area <= piece.length * piece.width:
        yield Fault(
            where=f"piece {piece.id}: cut area",
            found=f"{piece.cut_area} square ticks",
            allowed="above 0, at most the whole rectangle",
        )


def _repeated(what: str, ids: Iterable[str]) -> Iterable[Fault]:
    for name, times in Counter(ids).items():
        if times > 1:
            yield Fault(where=f"{what} {name}", found=f"{times} of that id", allowed="1")


def _outside(where: str, stock: Stock, defect: "Defect") -> Iterable[Fault]:
    if defect.x + defect.length > stock.length or defect.y + defect.width > stock.width:
        yield Fault(
            where=f"{where}: defect",
            found=f"{defect.length} x {defect.width} ticks at ({defect.x}, {defect.y})",
            allowed=f"inside the sheet of {stock.length} x {stock.width}",
        )
