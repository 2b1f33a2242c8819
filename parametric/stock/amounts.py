"""Amounts in sentences: kept as numbers, told in the units of a job.

Findings are made once and read in millimetres or in inches. So what is said holds its amounts as
they were measured, and becomes text where it is told. Nothing is told more finely than a person can
use: newtons and stresses to three digits, counts whole, lengths as `show_fine_length` does. Minus
zero is never told.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from math import isinf
from typing import TypeAlias, Union

from parametric.stock.lengths import MM_PER_INCH, Units, show_fine_length

MM, NEWTONS, KILOGRAMS, DIAMETERS = "mm", "N", "kg", "D"
N_MM2, N_M2, N_MM, KG_M3, MM3 = "N/mm2", "N/m2", "N/mm", "kg/m3", "mm3"

DIGITS = 3
"""Digits that count of what is no length and no number of things."""

_NOISE_DIGITS = 12  # what differs after so many is the noise of floats

_SAME = 1.5e-6  # amounts nearer to each other than this are one

_MM_PER_INCH = float(MM_PER_INCH)
_KG_PER_LB = 0.45359237  # exact since 1959, by agreement
_N_PER_LBF = _KG_PER_LB * 9.80665
_FEET_PER_M = 1000 / (12 * _MM_PER_INCH)


@dataclass(frozen=True, slots=True)
class _Scale:
    """A unit as people read it, how many of it one of ours is, and its most decimals."""

    words: str
    times: float
    decimals: int


_SCALES = {
    Units.MM: {
        NEWTONS: _Scale("N", 1, 1),
        KILOGRAMS: _Scale("kg", 1, 1),
        N_MM2: _Scale("N/mm2", 1, 2),
        N_M2: _Scale("N/m2", 1, 0),
        N_MM: _Scale("N/mm", 1, 0),
        KG_M3: _Scale("kg/m3", 1, 0),
        MM3: _Scale("mm3", 1, 0),
    },
    Units.INCH: {
        NEWTONS: _Scale("lbf", 1 / _N_PER_LBF, 1),
        KILOGRAMS: _Scale("lb", 1 / _KG_PER_LB, 1),
        N_MM2: _Scale("psi", _MM_PER_INCH**2 / _N_PER_LBF, 1),
        N_M2: _Scale("lbf/ft2", 1 / _N_PER_LBF / _FEET_PER_M**2, 1),
        N_MM: _Scale("lbf/in", _MM_PER_INCH / _N_PER_LBF, 0),
        KG_M3: _Scale("lb/ft3", 1 / _KG_PER_LB / _FEET_PER_M**3, 1),
        MM3: _Scale("in3", 1 / _MM_PER_INCH**3, 4),
    },
}
_OF_SCREWS = _Scale("diameters", 1, 1)


@dataclass(frozen=True, slots=True)
class Amount:
    """So much of a unit: one of those named here, else the plural of what is counted.

    It is told as just over or just under `beside`, its limit, where both would read alike and are
    not the same.
    """

    value: float
    unit: str
    beside: float | None = None

    def shown(self, units: Units) -> str:
        """Return the amount in the units of a job."""
        text = _shown(self.value, self.unit, units)
        if self.beside is None or abs(self.value - self.beside) <= _SAME:
            return text
        if text != _shown(self.beside, self.unit, units):
            return text
        return f"just {'over' if self.value > self.beside else 'under'} {text}"


Words: TypeAlias = Union[str, Amount, "tuple[Words, ...]"]
"""What is said, piece by piece: texts, amounts, and more of both."""


def in_words(words: Words, units: Units) -> str:
    """Return what is said in the units of a job."""
    match words:
        case str():
            return words
        case Amount():
            return words.shown(units)
        case _:
            return "".join(in_words(each, units) for each in words)


def joined(separator: str, listed: Iterable[Words]) -> Words:
    """Return all that is said one after the other."""
    pieces: list[Words] = []
    for each in listed:
        pieces += [separator, each] if pieces else [each]
    return tuple(pieces)


def length(mm: float) -> Amount:
    """Return a length."""
    return Amount(mm, MM)


def force(newtons: float) -> Amount:
    """Return a force."""
    return Amount(newtons, NEWTONS)


def stress(n_mm2: float) -> Amount:
    """Return a stress or a strength."""
    return Amount(n_mm2, N_MM2)


def spread(n_m2: float) -> Amount:
    """Return a load spread over an area."""
    return Amount(n_m2, N_M2)


def mass(kilograms: float) -> Amount:
    """Return a mass."""
    return Amount(kilograms, KILOGRAMS)


def few_digits(value: float, decimals: int, digits: int = DIGITS) -> str:
    """Return a number with so many digits that count and decimals at most, halves rounded up in
    size; never in powers of ten, never minus zero.

    >>> few_digits(1237.4, 1), few_digits(0.5, 1), few_digits(-0.01, 1), few_digits(28.0, 1)
    ('1240', '0.5', '0', '28')
    """
    number = Decimal(f"{value:.{_NOISE_DIGITS}g}")
    least = max(-decimals, number.adjusted() - digits + 1) if number else 0
    text = f"{number.quantize(Decimal(1).scaleb(least), ROUND_HALF_UP):f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@lru_cache(maxsize=10_000)  # limits, and what is the same in both hands, come again and again
def _shown(value: float, unit: str, units: Units) -> str:
    if isinf(value):
        return "no end"
    if unit == MM:
        return show_fine_length(value, units)
    scale = _OF_SCREWS if unit == DIAMETERS else _SCALES[units].get(unit)
    if scale is not None:
        return f"{few_digits(value * scale.times, scale.decimals)} {scale.words}"
    number = round(value)
    return f"{number} {unit.removesuffix('s') if number == 1 else unit}"
