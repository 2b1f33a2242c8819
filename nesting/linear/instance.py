"""The question: pieces to be cut from bars, and the rules of the saw. All lengths are ticks.

A bar is any stock of which only the length counts: a bar, a steel angle, a roll of edge band.

The rules, exactly: `end_trim` is lost at each end of a bar, its own cut included. Pieces are cut
one after another from the trimmed start with one `kerf` between neighbours. After the last piece
there is one more cut, unless the bar ends there; what it leaves, untrimmed end and all, is the
remnant. A rest thinner than the blade is sawdust. So n pieces need the sum of their lengths and
n - 1 kerfs between the trims.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

from nesting.question.errors import Fault, blank, raise_if_any, too_low


@dataclass(frozen=True, slots=True, kw_only=True)
class BarInstance:
    """Which pieces, from which bars, under which rules.

    Raises:
        InvalidInstance: an identity is used twice, there is no bar for the pieces, or the trim
            leaves nothing of a bar.
    """

    pieces: tuple["BarPiece", ...]
    bars: tuple["Bar", ...]
    rules: "SawRules"

    def __post_init__(self) -> None:
        """Refuse a contradictory question, naming all faults."""
        faults = [
            *_repeated("piece", (piece.id for piece in self.pieces)),
            *_repeated("bar", (bar.id for bar in self.bars)),
            *(fault for bar in self.bars for fault in _trimmed_away(bar, self.rules)),
        ]
        if self.pieces and not self.bars:
            faults.append(Fault(where="bars", found="none", allowed="at least one"))
        raise_if_any(faults)


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPiece:
    """A length to be cut `quantity` times.

    Raises:
        InvalidInstance: a blank id, or a length or quantity that is not a whole number of at
            least 1.
    """

    id: str
    length: int
    quantity: int

    def __post_init__(self) -> None:
        """Refuse impossible sizes, naming all faults."""
        where = f"piece {self.id}"
        raise_if_any(
            [
                *blank("piece id", self.id),
                *too_low(f"{where}: length", self.length, 1),
                *too_low(f"{where}: quantity", self.quantity, 1),
            ]
        )


class BarKind(StrEnum):
    """Where a bar comes from."""

    BAR = "bar"
    """Bought, or on the rack as it was bought."""
    REMNANT = "remnant"
    """Left over from earlier work: it cannot be bought."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A length of stock: the price of one, and how many are on hand (None: no limit).

    Raises:
        InvalidInstance: a blank id, a length below 1, a negative price or number on hand, or a
            remnant without a number on hand.
    """

    id: str
    length: int
    price: float
    on_hand: int | None
    kind: BarKind = BarKind.BAR

    def __post_init__(self) -> None:
        """Refuse impossible stock, naming all faults."""
        where = f"bar {self.id}"
        faults = [*blank("bar id", self.id), *too_low(f"{where}: length", self.length, 1)]
        if not isfinite(self.price) or self.price < 0:
            faults.append(
                Fault(where=f"{where}: price", found=str(self.price), allowed="0 or more")
            )
        if self.on_hand is not None:
            faults += too_low(f"{where}: on hand", self.on_hand, 0)
        elif self.kind is BarKind.REMNANT:
            faults.append(Fault(where=f"{where}: on hand", found="no limit", allowed="a number"))
        raise_if_any(faults)


class RemnantUse(StrEnum):
    """What a remnant counts when answers are compared."""

    FIRST = "first"
    """Nothing, whatever its price says: it is cut wherever that saves buying."""
    BY_PRICE = "by price"
    """Its own price, like any other bar."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SawRules:
    """Rules of every bar: blade width, what is lost at each end, and what is worth keeping.

    A rest of at least `reusable` ticks counts as a remnant for later work. How the trim and the
    last cut are counted is told at the head of this module.

    Raises:
        InvalidInstance: a number that is negative or not whole; a reusable length of 0.
    """

    kerf: int
    end_trim: int
    reusable: int
    remnants: RemnantUse = RemnantUse.FIRST

    def __post_init__(self) -> None:
        """Refuse negative rules, naming all faults."""
        raise_if_any(
            [
                *too_low("rules: kerf", self.kerf, 0),
                *too_low("rules: end trim", self.end_trim, 0),
                *too_low("rules: reusable length", self.reusable, 1),
            ]
        )


def price_to_pay(bar: Bar, rules: SawRules) -> float:
    """Return what cutting one more of the bar counts."""
    if bar.kind is BarKind.REMNANT and rules.remnants is RemnantUse.FIRST:
        return 0.0
    return bar.price


def _repeated(what: str, ids: Iterable[str]) -> Iterator[Fault]:
    for name, times in Counter(ids).items():
        if times > 1:
            yield Fault(where=f"{what} {name}", found=f"{times} of that id", allowed="1")


def _trimmed_away(bar: Bar, rules: SawRules) -> Iterator[Fault]:
    if 2 * rules.end_trim >= bar.length:
        yield Fault(
            where=f"bar {bar.id}: trim",
            found=f"{rules.end_trim} ticks at each end of a bar of {bar.length}",
            allowed="less than half of it",
        )
