"""Prices as whole numbers: of the largest amount that all prices of a question are multiples of.

A price is the decimal number that was typed. What 49.90 is in binary is no multiple of anything,
and sums of it come out differently in another order.
"""

from collections.abc import Iterable
from fractions import Fraction
from functools import reduce
from math import gcd, lcm


def exact_price(price: float) -> Fraction:
    """Return the price as it is written in decimals."""
    return Fraction(str(price))


def unit_price(prices: Iterable[Fraction]) -> Fraction:
    """Return the largest amount that all prices are multiples of; 1 where nothing costs anything.

    Cents, or what packs of them all prices share: 1/10 for 49.90 and 35.00.
    """
    return reduce(common_divisor, prices, Fraction(0)) or Fraction(1)


def common_divisor(one: Fraction, other: Fraction) -> Fraction:
    """Return the largest number of which both are whole multiples; 0 for two zeros."""
    shared = lcm(one.denominator, other.denominator)
    return Fraction(gcd(int(one * shared), int(other * shared)), shared)
