"""The answer: layouts with their run counts. All lengths are ticks in the sheet's frame."""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from itertools import chain
from math import ceil
from operator import attrgetter
from typing import TypeAlias

from nesting.question.instance import Instance, Stock
from nesting.question.prices import exact_price


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Layouts in canonical order, with what is known about better answers.

    `lower_bound` is the least number of sheets that any answer needs, and `price_bound` the least
    price; both are proven, `bound_kind` and `price_bound_kind` tell on what they rest.
    """

    layouts: tuple["Layout", ...]
    lower_bound: int
    bound_kind: "BoundKind"
    price: float
    price_bound: float
    price_bound_kind: "BoundKind"
    stop: "StopReason"
    seed: int
    choices: tuple["Choice", ...] = ()
    """The other ways that were found to trade price for fewer layouts, and this one."""

    @property
    def sheets(self) -> int:
        """Return how many sheets are cut."""
        return sum(layout.runs for layout in self.layouts)

    @property
    def distinct(self) -> int:
        """Return how many different layouts there are."""
        return len(self.layouts)

    @property
    def excess(self) -> int:
        """Return the sheets above the bound; 0 proves that no answer has fewer."""
        return self.sheets - self.lower_bound

    @property
    def gap(self) -> float:
        """Return the share (0 to 1) of the price that a better answer could save at most."""
        return (self.price - self.price_bound) / self.price if self.price > 0 else 0.0

    @property
    def could_save(self) -> float:
        """Return what a better answer could save of the price at most."""
        return float(exact_price(self.price) - exact_price(self.price_bound))

    @property
    def mix_bound(self) -> int:
        """Return the least sheets of any answer with the stocks in the same proportion as here.

        Where several are cut, `lower_bound` may be that of all sheets being of the largest.
        """
        if not self.price:
            return self.lower_bound
        share = exact_price(self.price_bound) / exact_price(self.price)
        return max(self.lower_bound, ceil(share * self.sheets))

    def sheets_of(self, stock: str) -> int:
        """Return how many sheets of one stock are cut."""
        return sum(layout.runs for layout in self.layouts if layout.stock == stock)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A point on the curve of price against layouts."""

    layouts: int
    sheets: int
    price: float


class StopReason(StrEnum):
    """Why a nest stopped where it did."""

    PROVEN = "no answer is cheaper"
    WORK = "the work allowed was done"
    TIME = "the time allowed was up"
    CANCELLED = "it was stopped"


class BoundKind(StrEnum):
    """What a lower bound rests on."""

    NOTHING = "nothing to cut"
    AREA = "area"
    LARGE_PIECES = "pieces that share no sheet"
    DUAL_FEASIBLE = "area and shape of the pieces"
    BARS = "bars along and across the sheet"
    PATTERNS = "the best mix of layouts, relaxed"
    WHOLE_SHEETS = "whole sheets of each size"


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One arrangement of pieces on a sheet of `stock`, cut `runs` times."""

    stock: str
    placements: tuple["Placement", ...]
    runs: int

    def counts(self) -> Counter[str]:
        """Return how often each piece appears on one sheet."""
        return Counter(placement.piece for placement in self.placements)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One piece on a sheet: its lower-left corner, and whether it is turned by a quarter."""

    piece: str
    x: int
    y: int
    turned: bool


def canonical(layouts: Iterable[Layout]) -> tuple[Layout, ...]:
    """Return the layouts with identical ones merged, in an order that only their content decides.

    Placements run by x, then y. Layouts run by stock, then by falling run count.
    """
    runs: Counter[tuple[str, _Content]] = Counter()
    placements: dict[tuple[str, _Content], tuple[Placement, ...]] = {}
    for layout in layouts:
        in_order = tuple(sorted(layout.placements, key=_place_key))
        content = layout.stock, tuple(chain.from_iterable(map(_place_key, in_order)))
        runs[content] += layout.runs
        placements[content] = in_order
    return tuple(
        Layout(stock=content[0], placements=placements[content], runs=runs[content])
        for content in sorted(runs, key=lambda content: (content[0], -runs[content], content[1]))
    )


def price_of(stocks: Iterable[Stock], layouts: Iterable[Layout]) -> float:
    """Return the price of all sheets cut; remnants cost nothing more.

    It is summed in decimals, and only then a float.

    Raises:
        KeyError: a layout names a stock that is not among them.
    """
    prices = {stock.id: exact_price(stock.price_to_pay) for stock in stocks}
    return float(sum(prices[layout.stock] * layout.runs for layout in layouts))


def layout_yield(instance: Instance, layout: Layout) -> float:
    """Return the share (0 to 1) of the full sheet that becomes pieces, notches and openings not.

    Raises:
        KeyError: the layout names a piece or a stock that the question does not have.
    """
    return _piece_area(instance, layout) / _sheet_area(instance, layout)


def solution_yield(instance: Instance, solution: Solution) -> float:
    """Return the same share of all full sheets cut; 1 when none is cut.

    Raises:
        KeyError: the answer names a piece or a stock that the question does not have.
    """
    pieces = sum(_piece_area(instance, layout) * layout.runs for layout in solution.layouts)
    sheets = sum(_sheet_area(instance, layout) * layout.runs for layout in solution.layouts)
    return pieces / sheets if sheets else 1.0


def _piece_area(instance: Instance, layout: Layout) -> int:
    pieces = (instance.piece_of[placement.piece] for placement in layout.placements)
    return sum(piece.net_area for piece in pieces)


def _sheet_area(instance: Instance, layout: Layout) -> int:
    stock = instance.stock_of[layout.stock]
    return stock.length * stock.width


_Content: TypeAlias = tuple[int | str | bool, ...]
"""The keys of all placements, one after the other: fewer objects than a key each."""

_place_key: Callable[[Placement], _Content] = attrgetter("x", "y", "piece", "turned")
