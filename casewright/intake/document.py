"""A YAML file as plain values, with the place of every key, so that faults can be located.

Glossary: a *key path* leads from the top of a file to a value, by keys of maps and indices of
lists. The *place* of a value is where its key stands, or where it starts itself in a list.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple, cast

from casewright.errors import Fault
from parametric.stock.origin import Origin

MOST_FAULTS = 1000  # told of one file; who has more has another file than was meant

KeyPath = tuple[str | int, ...]
Blame = Callable[[str, str], Fault]  # (found, allowed) -> the fault, where it belongs


class Place(NamedTuple):
    """A position in a text file, counted from 1."""

    line: int
    column: int | None


class Absent:
    """What stands at a key path that leads nowhere (None is what an empty value reads as)."""


@dataclass(frozen=True, slots=True)
class Document:
    """One file: `data` is its top map, `places` has every key path in it.

    `refused` are the paths of values that could not be read; they stand as None, their faults have
    been told.
    """

    path: Path
    data: Mapping[str, object]
    places: Mapping[KeyPath, Place]
    refused: frozenset[KeyPath]

    def at(self, key_path: KeyPath) -> object:
        """Return the value at `key_path`, `Absent` if there is none."""
        value: object = self.data
        for part in key_path:
            inside = isinstance(value, dict) and part in value
            if isinstance(value, list) and isinstance(part, int):
                inside = part < len(value)
            if not inside:
                return Absent
            value = cast("Any", value)[part]
        return value

    def map_at(self, key_path: KeyPath) -> Mapping[str, object]:
        """Return the map at `key_path`, an empty one if there is something else or nothing."""
        value = self.at(key_path)
        return value if isinstance(value, dict) else {}

    def fault(self, key_path: KeyPath, *, found: str, allowed: str) -> Fault:
        """Return a fault placed at `key_path`, or at the nearest key above that the file has."""
        return placed_fault(
            self.path, self._place(key_path), key_path, found=found, allowed=allowed
        )

    def origin(self, key_path: KeyPath) -> Origin:
        """Return where `key_path` stands, or the nearest key above that the file has."""
        return Origin(
            file=self.path.as_posix(),
            line=self._place(key_path).line,
            key_path=_in_words(key_path),
        )

    def _place(self, key_path: KeyPath) -> Place:
        known = key_path
        while known and known not in self.places:
            known = known[:-1]
        return self.places.get(known, Place(1, None))

    def blame(self, key_path: KeyPath) -> Blame:
        """Return a maker of faults placed at `key_path`, quoting its value."""
        value = shown(self.at(key_path))
        return lambda found, allowed: self.fault(
            key_path, found=f"{value}, {found}", allowed=allowed
        )


def placed_fault(
    path: Path, place: Place, key_path: KeyPath = (), *, found: str, allowed: str
) -> Fault:
    """Return a fault at a known place, where no document is at hand to look it up."""
    return Fault(
        file=path.as_posix(),
        line=place.line,
        column=place.column,
        key_path=_in_words(key_path),
        found=found,
        allowed=allowed,
    )


def shown(value: object) -> str:
    """Return a value as it is quoted in a fault, on one line and not too long."""
    if value is None or value is Absent:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a map" if value else "an empty map"
    if isinstance(value, list):
        return "a list"
    text = repr(value)
    return text if len(text) <= _LONGEST_QUOTE else f"{text[:_LONGEST_QUOTE]}..."


_LONGEST_QUOTE = 60


def _in_words(key_path: KeyPath) -> str:
    return ".".join(_printable(part) for part in key_path)


def _printable(part: str | int) -> str:
    text = str(part)
    text = text if text.isprintable() and text else repr(text)
    return text if len(text) <= _LONGEST_QUOTE else f"{text[:_LONGEST_QUOTE]}..."
