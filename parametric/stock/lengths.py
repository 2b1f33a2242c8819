"""Lengths as people write them: read into millimetres, shown in the units of a job."""

from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache


class Units(StrEnum):
    """What a bare number means, and how lengths are shown."""

    INCH = "inch"
    MM = "mm"


class Sign(StrEnum):
    """Whether a length may lie below zero, as a height above or below a level may."""

    NOT_NEGATIVE = "not negative"
    ANY = "any"


class Rounding(StrEnum):
    """Which way a length goes to the next step of a rule."""

    DOWN = "down"
    NEAREST = "nearest"
    UP = "up"


MM_PER_INCH = Fraction(254, 10)  # exact since 1959, by agreement

# Shown inches are rounded to this; a steel rule is read no finer.
SHOWN_INCH = Fraction(1, 32)
FINE_INCH = Fraction(1, 64)
"""To which lengths below 1/8 in are shown where those count, as clearances."""

SITE_STEP_MM = {Units.INCH: MM_PER_INCH / 16, Units.MM: Fraction(1)}
"""To which papers for the site round what is marked on walls: 1/16 in, 1 mm."""

_NOISE_DECIMALS = 9  # of a millimetre

_NOTHING_MM = 0.005  # what is less is told as nothing
_FINE_BELOW_MM, _FINE_BELOW_INCH = 0.095, 0.125

_WRITTEN_MM = Fraction(1, 2_000_000)  # half of what may be between places that are the same

_NO_LENGTH_REACHES = 1_000_000  # in either unit; six digits in a text

LENGTH_EXAMPLES = '13 1/4 in, 13-1/4", 13.25 in, 336.5 mm'

# Plain groups, no flags: the same text serves as a pattern in a JSON Schema.
_FRACTION = r'(-?)(?:([0-9]{1,6})(?: +|-))?([0-9]{1,4})/([0-9]{1,4}) *(inches|inch|in|")?'
_DECIMAL = r'(-?)([0-9]{1,6}(?:\.[0-9]{1,12})?|\.[0-9]{1,12}) *(inches|inch|in|"|mm)?'
_UNIT_AT_END = re.compile(r'( *)(inches|inch|in|"|mm)$')
_BETWEEN = re.compile(r"[0-9]( +|-)[0-9]+/")  # whole inches and their fraction
LENGTH_PATTERN = f"^(?:{_FRACTION}|{_DECIMAL})$"


class LengthError(ValueError):
    """A text or number that is no length: what was found, and what is allowed."""

    def __init__(self, *, found: str, allowed: str) -> None:
        """Keep both."""
        super().__init__(found, allowed)
        self.found = found
        self.allowed = allowed

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        return f"found {self.found}; allowed: {self.allowed}"


def parse_length(text: str | float | int, units: Units, sign: Sign = Sign.NOT_NEGATIVE) -> float:
    """Return the length of `exact_length` as a float.

    Raises:
        LengthError: `text` is no length, or is negative where `sign` does not allow it.
    """
    return float(exact_length(text, units, sign))


def exact_length(text: str | float | int, units: Units, sign: Sign = Sign.NOT_NEGATIVE) -> Fraction:
    """Return the length in millimetres as it was typed; a number without a unit counts in `units`.

    Fractions are read as inches only: a bare `1/2` among millimetres is more likely an inch that
    somebody forgot to mark.

    Raises:
        LengthError: `text` is no length, or is negative where `sign` does not allow it.
    """
    exact_mm = _exact_mm(text, units)
    if exact_mm < 0 and sign is Sign.NOT_NEGATIVE:
        raise LengthError(found=_shown(text), allowed="a length that is not negative")
    return exact_mm


@lru_cache(maxsize=4096)  # papers tell the same lengths again and again
def show_length(mm: float, units: Units) -> str:
    """Return the length for reading: inches in fractions to 1/32, millimetres to 0.1.

    The noise of floats is dropped first, so that one length is never shown as two.
    """
    mm = round(mm, _NOISE_DECIMALS)
    if units is Units.MM:
        tenths = Decimal(repr(mm)).quantize(Decimal("0.1"), ROUND_HALF_UP)
        text = f"{abs(tenths):f}".removesuffix(".0")
        return f"-{text} mm" if tenths < 0 else f"{text} mm"
    steps = _rounded_half_up(abs(Fraction(repr(mm))) / MM_PER_INCH / SHOWN_INCH)
    whole, part = divmod(steps * SHOWN_INCH, 1)
    words = [str(whole)] if whole or not part else []
    words += [f"{part.numerator}/{part.denominator}"] if part else []
    minus = "-" if mm < 0 and steps else ""
    return f'{minus}{" ".join(words)}"'


def show_fine_length(mm: float, units: Units) -> str:
    """Return the length as `show_length` does, but for small ones, which that would tell as nothing
    or as something else: below 0.1 mm hundredths of a millimetre; below 1/8 in 1/64 in, below 1/32
    in thousandths of an inch.

    >>> show_fine_length(0.05, Units.MM), show_fine_length(0.05, Units.INCH)
    ('0.05 mm', '0.002"')
    """
    size = abs(mm)
    if size < _NOTHING_MM:
        return show_length(0.0, units)
    minus = "-" if mm < 0 else ""
    if units is Units.MM:
        return f"{minus}{size:.2f} mm" if size < _FINE_BELOW_MM else show_length(mm, units)
    inches = size / float(MM_PER_INCH)
    if inches >= _FINE_BELOW_INCH:
        return show_length(mm, units)
    if inches < float(SHOWN_INCH):
        return f'{minus}{inches:.3f}"'
    fraction = Fraction(_rounded_half_up(Fraction(inches) / FINE_INCH)) * FINE_INCH
    return f'{minus}{fraction}"'


def show_cut_length(mm: float, units: Units) -> str:
    """Return a size of a part as it is cut, alike on all papers: millimetres to 0.1; inches as
    fractions to 1/64 where the size is one, else in thousandths, which a rule does not show but a
    calliper does.

    >>> show_cut_length(9.525, Units.INCH), show_cut_length(404.4, Units.INCH)
    ('3/8"', '15.921"')
    """
    if units is Units.MM:
        return show_length(mm, units)
    return _in_fine_inches(mm) or f'{mm / float(MM_PER_INCH):.3f}"'


def show_diameter(mm: float, units: Units) -> str:
    """Return the diameter of a bit or drill: inches in 64ths if it is one, as drills are sold, else
    millimetres, to two decimals.

    >>> show_diameter(4.365625, Units.INCH), show_diameter(5.0, Units.INCH)
    ('11/64"', '5 mm')
    """
    fraction = "" if units is Units.MM else _in_fine_inches(mm)
    return fraction or f"{round(mm, 2):g} mm"


def show_closely(mm: float, units: Units) -> str:
    """Return a length as a control or a calliper shows it: to 0.001 in, or 0.01 mm.

    >>> show_closely(12.7, Units.INCH), show_closely(9.921875, Units.MM)
    ('0.500"', '9.92 mm')
    """
    return f'{mm / float(MM_PER_INCH):.3f}"' if units is Units.INCH else f"{round(mm, 2):g} mm"


def show_way(mm: float, units: Units) -> str:
    """Return a long way: metres or feet, to a tenth.

    >>> show_way(12_340.0, Units.MM), show_way(12_340.0, Units.INCH)
    ('12.3 m', '40.5 ft')
    """
    if units is Units.MM:
        return f"{mm / 1000:.1f} m"
    return f"{mm / float(12 * MM_PER_INCH):.1f} ft"


def show_feed(mm: float, units: Units) -> str:
    """Return how far a bit goes in a minute.

    >>> show_feed(6096.0, Units.INCH), show_feed(1500.0, Units.MM)
    ('240 in/min', '1.5 m/min')
    """
    if units is Units.MM:
        return f"{round(mm / 1000, 2):g} m/min"
    return f"{mm / float(MM_PER_INCH):.0f} in/min"


def site_length_mm(mm: float, units: Units, rounding: Rounding) -> float:
    """Return a length in whole steps of what is marked on walls: 1/16 in, 1 mm. What is on a step
    but for the noise of floats stays on it.

    >>> site_length_mm(59.1, Units.MM, Rounding.DOWN), site_length_mm(59.1, Units.MM, Rounding.UP)
    (59.0, 60.0)
    """
    step = SITE_STEP_MM[units]
    steps = Fraction(repr(round(mm / float(step), _NOISE_DECIMALS - 3)))
    match rounding:
        case Rounding.DOWN:
            whole = math.floor(steps)
        case Rounding.UP:
            whole = math.ceil(steps)
        case Rounding.NEAREST:
            whole = math.floor(steps + Fraction(1, 2))
    return float(whole * step)


def show_on_tape(mm: float, units: Units, rounding: Rounding = Rounding.NEAREST) -> str:
    """Return a length as it is read from a tape or marked on a wall: whole millimetres, or 1/16 in.

    >>> show_on_tape(930.4, Units.MM), show_on_tape(930.4, Units.INCH)
    ('930 mm', '36 5/8"')
    """
    return show_length(site_length_mm(mm, units, rounding), units)


def write_length(mm: float, units: Units, like: str = "") -> str:
    """Return the length as a person writes it who wrote `like`: its unit, its blanks, fractions or
    decimals; `units` are those of bare numbers. Without `like` whole inches and millimetres are
    bare numbers, other inches fractions.

    Read back it is the length to half of a millionth of a millimetre. Fractions go to 1/32 in; a
    length that is none has as many decimals as that takes.

    Raises:
        LengthError: the length is out of all bounds.
    """
    exact_mm = _number(mm)
    tail = _UNIT_AT_END.search(like)
    inches = tail[2] != "mm" if tail else units is Units.INCH
    size_mm = MM_PER_INCH if inches else Fraction(1)
    text, minus = "", "-" if exact_mm < 0 else ""
    if inches and _in_fractions(like, marked=tail is not None):
        text = _as_fraction(abs(exact_mm) / MM_PER_INCH, like)
    end = tail[0] if tail else (" in" if "/" in text and not like else "")
    text = text or _as_decimal(abs(exact_mm) / size_mm, size_mm)
    if abs(exact_mm) >= _NO_LENGTH_REACHES * size_mm:
        raise LengthError(
            found="a number out of all bounds", allowed=f"a length such as {LENGTH_EXAMPLES}"
        )
    return f"{minus}{text}{end}"


def _in_fine_inches(mm: float) -> str:
    """Return inches as a fraction to 1/64, nothing where the length is none."""
    inches = Fraction(repr(round(mm, _NOISE_DECIMALS))) / MM_PER_INCH
    steps = Fraction(_rounded_half_up(inches / FINE_INCH)) * FINE_INCH
    if abs(float((steps - inches) * MM_PER_INCH)) > _NOTHING_MM:
        return ""
    whole, part = divmod(steps, 1)
    return f'{" ".join(str(each) for each in (whole, part) if each) or "0"}"'


def _in_fractions(like: str, *, marked: bool) -> bool:
    """Return whether inches are written in fractions: not where decimals are, or a bare number."""
    return not like or "/" in like or (marked and "." not in like)


def _as_fraction(inches: Fraction, like: str) -> str:
    """Return whole inches and a fraction, or nothing if it is none of those that are written."""
    steps = _rounded_half_up(inches / SHOWN_INCH)
    if abs(steps * SHOWN_INCH - inches) * MM_PER_INCH > _WRITTEN_MM:
        return ""
    whole, part = divmod(steps * SHOWN_INCH, 1)
    between = _BETWEEN.search(like)
    fraction = f"{part.numerator}/{part.denominator}" if part else ""
    return (between[1] if between else " ").join(filter(None, (str(whole or ""), fraction))) or "0"


def _as_decimal(size: Fraction, size_mm: Fraction) -> str:
    """Return the size with as few decimals as keep it; `size_mm` is the millimetres of one."""
    places = 0
    while abs(round(size, places) - size) * size_mm > _WRITTEN_MM:
        places += 1
    return f"{Decimal(round(size * 10**places)).scaleb(-places):f}"


def _exact_mm(text: str | float | int, units: Units) -> Fraction:
    if not isinstance(text, str):
        return _number(text) * (MM_PER_INCH if units is Units.INCH else 1)
    stripped = text.strip()
    if match := re.fullmatch(_FRACTION, stripped):
        return _inch_fraction(match, text, units)
    if match := re.fullmatch(_DECIMAL, stripped):
        minus, digits, unit = match.groups()
        inches = unit != "mm" if unit else units is Units.INCH
        size = Fraction(digits) * (MM_PER_INCH if inches else 1)
        return -size if minus else size
    raise _no_length(text)


def _inch_fraction(match: re.Match[str], text: str, units: Units) -> Fraction:
    minus, whole, above, below, unit = match.groups()
    if unit is None and units is Units.MM:
        raise LengthError(found=_shown(text), allowed=f"inches marked as such: {text.strip()} in")
    if int(below) == 0 or (whole and int(above) >= int(below)):
        raise _no_length(text)
    size = (int(whole or 0) + Fraction(int(above), int(below))) * MM_PER_INCH
    return -size if minus else size


def _number(value: float) -> Fraction:
    """Return the number as it was written: 0.1 is one tenth, not its binary neighbour."""
    if isinstance(value, bool):
        raise _no_length(value)
    if not -_NO_LENGTH_REACHES < value < _NO_LENGTH_REACHES:
        raise LengthError(
            found="a number out of all bounds", allowed=f"a length such as {LENGTH_EXAMPLES}"
        )
    return Fraction(repr(value))


def _no_length(value: object) -> LengthError:
    return LengthError(found=_shown(value), allowed=f"a length such as {LENGTH_EXAMPLES}")


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:60]}..."


def _rounded_half_up(value: Fraction) -> int:
    return int(value + Fraction(1, 2))
