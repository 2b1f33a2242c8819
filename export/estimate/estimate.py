"""What a job costs: lines with quantity, rate and amount, each with the paper it comes from.

Quantities are rounded first (hours to a thousandth), then each amount to the cent, halves away from
zero; everything above is sums of these, so that whoever adds up the lines finds the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from export.estimate.money import NONE, as_written, cents, rounded, total
from export.estimate.purchase import Kind, PurchaseLine
from export.estimate.rates import RateName, Rates
from export.estimate.sheet_use import SheetUse, stock_name
from export.estimate.stock_choice import StockChoice
from export.tables.yield_table import YieldRow

SHARE_DECIMALS = 6
"""Shares of sets are told to the millionth."""

NEVER_COUNTED = "never counted: tax, travel, drawing"
"""What no job's figures hold."""


class Section(StrEnum):
    """What costs are for."""

    BOARDS = "boards"
    BANDS = "edge bands"
    BARS = "bars and steel"
    HARDWARE = "hardware and consumables"
    MACHINE = "machine time"
    BENCH = "bench"
    INSTALL = "installation"


HOURS = {
    Section.MACHINE: RateName.MACHINE_HOUR,
    Section.BENCH: RateName.BENCH_HOUR,
    Section.INSTALL: RateName.INSTALL_HOUR,
}
_BOUGHT = {
    Kind.BANDS: Section.BANDS,
    Kind.BARS: Section.BARS,
    Kind.HARDWARE: Section.HARDWARE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One cost: so many of a unit at a rate; None: nobody has said, and it counts nothing. `paper`
    is the file that the quantity can be found in, `note` how it was reckoned.
    """

    section: Section
    what: str
    quantity: Decimal
    unit: str
    rate: Decimal | None
    paper: str
    note: str = ""

    @property
    def amount(self) -> Decimal:
        """Quantity times rate, to the cent."""
        return NONE if self.rate is None else cents(self.quantity * self.rate)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetShare:
    """One set in one hand: its rooms, and its share of each section's cost."""

    name: str
    rooms: int
    shares: dict[Section, Decimal]


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """Lines of costs, and what is added to them, for so many rooms."""

    rooms: int
    rates: Rates
    lines: tuple[Line, ...]

    def of(self, section: Section) -> Decimal:
        """What the lines of a section come to."""
        return total(line.amount for line in self.lines if line.section is section)

    @property
    def costs(self) -> Decimal:
        """What all lines come to."""
        return total(line.amount for line in self.lines)

    @property
    def overhead(self) -> Decimal:
        """What is added to the costs."""
        return _percent(self.costs, self.rates.overhead_percent)

    @property
    def markup(self) -> Decimal:
        """What is added to costs and overhead."""
        return _percent(self.costs + self.overhead, self.rates.markup_percent)

    @property
    def price(self) -> Decimal:
        """What the rooms come to, without tax."""
        return self.costs + self.overhead + self.markup


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomCount(Priced):
    """What it costs with so many rooms. `mix` are the rooms of each set and hand, `sheets` all that
    are cut, `could_save` is what any other nest could save of the costs at most, `beyond` the
    materials of which it takes more sheets than are on hand. Of the job's `own` count the lines
    are those of the estimate.
    """

    own: bool
    mix: tuple[tuple[str, int], ...]
    sheets: int
    could_save: Decimal
    beyond: tuple[str, ...] = ()

    @property
    def mix_words(self) -> str:
        """The rooms of each set and hand."""
        return "; ".join(f"{rooms} {name}" for name, rooms in self.mix)

    @property
    def room_price(self) -> Decimal:
        """The price of one room, all rooms alike."""
        return cents(self.price / self.rooms)

    @property
    def least_room_price(self) -> Decimal:
        """What no other nest brings the price of a room below."""
        if not self.costs:
            return NONE
        return cents(self.price * (self.costs - self.could_save) / self.costs / self.rooms)


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate(Priced):
    """All costs of a job, in its currency; `missing` names in words what is not in them. `counts`
    are the same rooms in other numbers, `choices` other ways to take the stock.
    """

    job: str
    currency: str
    uses: tuple[SheetUse, ...]
    sets: tuple[SetShare, ...]
    missing: tuple[str, ...]
    counts: tuple[RoomCount, ...] = ()
    choices: tuple[StockChoice, ...] = ()

    def of_set(self, share: SetShare, section: Section) -> Decimal:
        """What a set in one hand costs in a section, all its rooms."""
        return cents(self.of(section) * share.shares.get(section, NONE))

    def set_costs(self, share: SetShare) -> Decimal:
        """What a set in one hand costs, all its rooms."""
        return total(self.of_set(share, section) for section in Section)

    def room_price(self, share: SetShare) -> Decimal:
        """The price of one room of a set, with its part of overhead and markup."""
        if not self.costs or not share.rooms:
            return NONE
        return cents(self.set_costs(share) * self.price / self.costs / share.rooms)


def _percent(of: Decimal, percent: float | None) -> Decimal:
    return NONE if percent is None else cents(of * as_written(percent) / 100)


def board_lines(rows: Iterable[YieldRow]) -> Iterator[Line]:
    """Yield the sheets that are cut, those on hand too."""
    for row in rows:
        yield Line(
            section=Section.BOARDS,
            what=stock_name(row),
            quantity=Decimal(row.sheets),
            unit="sheet",
            rate=as_written(row.stock.price),
            paper="shop/yield.csv",
        )


def bought_lines(purchases: Sequence[PurchaseLine]) -> Iterator[Line]:
    """Yield what is bought beside sheets, in whole packs."""
    for line in purchases:
        if line.kind in _BOUGHT and not line.missed:
            yield Line(
                section=_BOUGHT[line.kind],
                what=line.description,
                quantity=Decimal(line.packs),
                unit=line.pack_unit,
                rate=line.price,
                paper="shop/purchase.csv",
            )


def hour_line(
    section: Section, what: str, hours: float, rates: Rates, paper: str, note: str = ""
) -> Line:
    """Return a line of so many hours, at the rate of its section."""
    rate: float | None = getattr(rates, HOURS[section])
    return Line(
        section=section,
        what=what,
        quantity=as_written(hours, 3),
        unit="hour",
        rate=None if rate is None else as_written(rate),
        paper=paper,
        note=note,
    )


def missing_words(
    lines: Sequence[Line], purchases: Sequence[PurchaseLine], rates: Rates
) -> Iterator[str]:
    """Yield what is not in the costs, in words."""
    for name in RateName:
        if getattr(rates, name) is None:
            yield f"no rate: {name.replace('_', ' ')}"
    for line in lines:
        if line.rate is None and line.section not in HOURS:
            yield f"no price: {line.what} ({line.quantity:f} x {line.unit})"
    for bought in purchases:
        if bought.missed:
            yield f"not counted: {bought.article}, {bought.description}: {bought.missed}"


def share(part: float, whole: float) -> Decimal:
    """Return a share, to the millionth; of nothing none."""
    if not whole:
        return Decimal(0)
    return rounded(as_written(part) / as_written(whole), SHARE_DECIMALS)
