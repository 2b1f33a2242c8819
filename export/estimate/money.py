"""Money: decimals, rounded to the hundredth of the job's currency, halves away from zero."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")
NONE = Decimal("0.00")


def as_written(value: float, decimals: int | None = None) -> Decimal:
    """Return a number as it is written, or rounded to so many decimals.

    >>> as_written(0.1), as_written(2.0 / 3, 3)
    (Decimal('0.1'), Decimal('0.667'))
    """
    exact = Decimal(repr(value))
    return exact if decimals is None else rounded(exact, decimals)


def rounded(value: Decimal, decimals: int) -> Decimal:
    """Return a number rounded to so many decimals, halves away from zero."""
    return value.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)


def cents(value: Decimal) -> Decimal:
    """Return an amount to the hundredth.

    >>> cents(Decimal("1.005"))
    Decimal('1.01')
    """
    return value.quantize(CENT, ROUND_HALF_UP)


def money(amount: Decimal) -> str:
    """Return an amount for reading.

    >>> money(Decimal("1234.5"))
    '1,234.50'
    """
    return f"{amount:,.2f}"


def shown_price(price: Decimal) -> str:
    """Return a price with all its decimals, two at least.

    >>> shown_price(Decimal("1204")), shown_price(Decimal("0.0125"))
    ('1,204.00', '0.0125')
    """
    return f"{price:,.2f}" if price == cents(price) else f"{price:,f}"


def total(amounts: Iterable[Decimal]) -> Decimal:
    """Return the sum of amounts, exactly; of none nothing."""
    return sum(amounts, NONE)
