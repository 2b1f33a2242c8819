"""The answer: layouts with their run counts. All lengths are ticks in the sheet's frame."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from math import fsum

from nesting.instance import Instance


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Layouts in canonical order, with the least number of sheets that any answer needs."""

    layouts: tuple["Layout", ...]
    lower_bound: int
    bound_kind: str

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

    def sheets_of(self, stock: str) -> int:
        """Return how many sheets of one stock are cut."""
        return sum(layout.runs for layout in self.layouts if layout.stock == stock)


class BoundKind(StrEnum):
    """What a lower bound rests on."""

    NOTHING = "nothing to cut"
    AREA = "area"
    LARGE_PIECES = "pieces that share no sheet"


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
    runs: Counter[tuple[str, tuple[Placement, ...]]] = Counter()
    for layout in layouts:
        runs[layout.stock, tuple(sorted(layout.placements, key=_place_key))] += layout.runs
    merged = [
        Layout(stock=stock, placements=placements, runs=count)
        for (stock, placements), count in runs.items()
    ]
    return tuple(sorted(merged, key=_layout_key))


def cost(instance: Instance, solution: Solution) -> float:
    """Return the price of all sheets cut.

    Raises:
        KeyError: the answer names a stock that the question does not have.
    """
    prices = {stock.id: stock.price for stock in instance.stocks}
    return fsum(prices[layout.stock] * layout.runs for layout in solution.layouts)


def layout_yield(instance: Instance, layout: Layout) -> float:
    """Return the share (0 to 1) of the full sheet that becomes pieces.

    Raises:
        KeyError: the layout names a piece or a stock that the question does not have.
    """
    return _piece_area(instance, layout) / _sheet_area(instance, layout)


def solution_yield(instance: Instance, solution: Solution) -> float:
    """Return the share (0 to 1) of all full sheets cut that becomes pieces; 1 when none is cut.

    Raises:
        KeyError: the answer names a piece or a stock that the question does not have.
    """
    pieces = sum(_piece_area(instance, layout) * layout.runs for layout in solution.layouts)
    sheets = sum(_sheet_area(instance, layout) * layout.runs for layout in solution.layouts)
    return pieces / sheets if sheets else 1.0


def _piece_area(instance: Instance, layout: Layout) -> int:
    areas = {piece.id: piece.length * piece.width for piece in instance.pieces}
    return sum(areas[placement.piece] for placement in layout.placements)


def _sheet_area(instance: Instance, layout: Layout) -> int:
    areas = {stock.id: stock.length * stock.width for stock in instance.stocks}
    return areas[layout.stock]


def _place_key(placement: Placement) -> tuple[int, int, str, bool]:
    return placement.x, placement.y, placement.piece, placement.turned


def _layout_key(layout: Layout) -> tuple[str, int, list[tuple[int, int, str, bool]]]:
    return layout.stock, -layout.runs, [_place_key(placement) for placement in layout.placements]
