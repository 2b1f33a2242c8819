"""Values as YAML text, written as their neighbours are."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from casewright.intake.source_nodes import Style
from parametric.stock.lengths import Units, write_length


@dataclass(frozen=True, slots=True)
class Length:
    """A length in millimetres, to be written as people write lengths.

    >>> Length(25.4)
    Length(mm=25.4)
    """

    mm: float


Value = Length | str | int | float | bool | None | Mapping[str, "Value"] | Sequence["Value"]
"""What a file can hold; a map or list holds such values."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Writing:
    """How values are written: bare lengths in `units`, texts and keys quoted where they need it, or
    as in `style`.
    """

    units: Units
    style: Style = Style.PLAIN

    def value(self, value: Value, like: str = "") -> str:
        """Return the value on one line; a length is written like the one that stood there.

        Raises:
            ValueError: a number is not finite.
            LengthError: a length is out of all bounds.
        """
        match value:
            case Length():
                return self._length(write_length(value.mm, self.units, like), like)
            case str():
                return self.text(value)
            case int() | float() | None:
                return _plain_value(value)
            case Mapping():
                pairs = (f"{self.text(key)}: {self.value(each)}" for key, each in value.items())
                return f"{{{', '.join(pairs)}}}"
            case _:
                return f"[{', '.join(map(self.value, value))}]"

    def lines(self, key: str, value: Value, indent: int) -> Iterator[str]:
        """Yield a key with its value, maps in lines of their own; the first line is not indented.

        Raises:
            ValueError: a number is not finite.
            LengthError: a length is out of all bounds.
        """
        if not isinstance(value, Mapping) or not value:
            yield f"{self.text(key)}: {self.value(value)}"
            return
        yield f"{self.text(key)}:"
        for inner, each in value.items():
            for line in self.lines(inner, each, indent):
                yield " " * indent + line

    def text(self, text: str) -> str:
        """Return a text that reads as itself and as nothing else."""
        return text if self.style is Style.PLAIN and _is_plain(text) else self._quoted(text)

    def _length(self, text: str, like: str) -> str:
        bare = self.style is Style.PLAIN or (not like and _is_number(text))
        return text if bare else self._quoted(text)

    def _quoted(self, text: str) -> str:
        if self.style is Style.DOUBLE or not text.isprintable():
            return '"' + "".join(map(_escaped, text)) + '"'
        doubled = text.replace("'", "''")
        return f"'{doubled}'"


def yaml_text(values: Mapping[str, Value]) -> str:
    """Return a file of these values; a `Length` is written in the units that they say, if any.

    Raises:
        ValueError: a number is not finite.
        TypeError: something is none of the values that a file can hold.
    """
    said = values.get("units")
    writing = Writing(units=next((each for each in Units if each == said), Units.MM))
    lines = (line for key, each in values.items() for line in writing.lines(key, each, 2))
    return "".join(f"{line}\n" for line in lines)


_OTHER_MEANING = {"true", "false", "yes", "no", "on", "off", "y", "n", "null"}
_LONGEST_NUMBER = 20  # longer ones get an exponent
_PLAIN_SIGNS = " _-./"


def _is_plain(text: str) -> bool:
    """Return whether a text needs no quotes anywhere; of those that do not, a few get some."""
    return (
        text[:1].isalpha()
        and text[-1] != " "
        and all(sign.isalnum() or sign in _PLAIN_SIGNS for sign in text)
        and text.casefold() not in _OTHER_MEANING
    )


def _is_number(text: str) -> bool:
    return text.removeprefix("-").replace(".", "", 1).isdigit()


def _plain_value(value: float | None) -> str:
    """Return a number, true, false or nothing."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if not math.isfinite(value):
        raise ValueError("a number that is not finite")
    if isinstance(value, int):
        return str(value)
    digits = f"{Decimal(repr(value)):f}"
    return digits if len(digits) <= _LONGEST_NUMBER else repr(value)


def _escaped(sign: str) -> str:
    if sign in '"\\':
        return "\\" + sign
    if sign.isprintable():
        return sign
    code = ord(sign)
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"
