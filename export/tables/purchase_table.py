"""The purchase list as a table: one line for each article."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from export.estimate.money import shown_price
from export.estimate.purchase import PurchaseLine
from export.tables.csv_cell import Figure
from export.tables.csv_text import csv_text

COLUMNS = (
    "kind",
    "article",
    "description",
    "unit",
    "needed",
    "spare",
    "on_hand",
    "pack",
    "buy",
    "buy_in",
    "price",
    "cost",
    "needed_from",
    "note",
)


def purchase_csv(lines: Iterable[PurchaseLine]) -> str:
    """Return the purchase list as CSV. `needed`, `spare`, `on_hand` and `pack` count the unit,
    `buy` whole packs; `price` is for one of them. What has no price has blanks there.
    """
    return csv_text(COLUMNS, map(_cells, lines))


def _cells(line: PurchaseLine) -> tuple[object, ...]:
    cost = line.cost if not line.missed else None
    return (
        line.kind,
        line.article,
        line.description,
        line.unit,
        _figure(line.needed),
        _figure(line.spare),
        line.on_hand,
        _figure(line.pack),
        line.packs,
        line.pack_unit,
        "" if line.price is None else Figure(shown_price(line.price).replace(",", "")),
        "" if cost is None else Figure(f"{cost:.2f}"),
        line.paper,
        line.missed or line.note,
    )


def _figure(value: Decimal) -> Figure:
    """Return a quantity as it is, without an exponent or zeros at its end.

    >>> _figure(Decimal("100")), _figure(Decimal("1.50"))
    ('100', '1.5')
    """
    text = f"{value:f}"
    return Figure(text.rstrip("0").rstrip(".") if "." in text else text)
