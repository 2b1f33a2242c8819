"""What a family says of each of its sizes: the range that a job may ask for, and what it is.

Ranges only keep slips of the hand out; whether sizes go together is left to a family's limits, and
whether they hold to the findings. What is `..._mm` in the family is without it in a job file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Any, get_args, get_type_hints

MM_SUFFIX = "_mm"


@dataclass(frozen=True, slots=True)
class Length:
    """A length in millimetres, from the least to the most."""

    least_mm: float
    most_mm: float
    meaning: str


@dataclass(frozen=True, slots=True)
class Count:
    """A whole number, from the least to the most."""

    least: int
    most: int
    meaning: str


@dataclass(frozen=True, slots=True)
class Choice:
    """One of some words, those of the size's own type."""

    meaning: str


@dataclass(frozen=True, slots=True)
class Size:
    """A size of a family: its name there, what may be said of it, whether it may be left out."""

    name: str
    asked: Length | Count | Choice
    words: type[StrEnum] | None
    optional: bool

    @property
    def key(self) -> str:
        """What a job file calls it."""
        return self.name.removesuffix(MM_SUFFIX)


@cache
def sizes_of(owner: type) -> tuple[Size, ...]:
    """Return the sizes of a dataclass whose fields are annotated with them, in order."""
    hints = get_type_hints(owner, include_extras=True)
    # What annotates a type is met twice on the way through it.
    return tuple(dict.fromkeys(size for name, hint in hints.items() for size in _sizes(name, hint)))


def _sizes(name: str, hint: Any) -> Iterator[Size]:
    parts = list(_parts(hint))
    words = next((p for p in parts if isinstance(p, type) and issubclass(p, StrEnum)), None)
    for part in parts:
        if isinstance(part, Length | Count | Choice):
            yield Size(name, part, words, type(None) in parts)


def _parts(hint: Any) -> Iterator[Any]:
    yield hint
    for inner in (*get_args(hint), *getattr(hint, "__metadata__", ())):
        if inner is not hint:
            yield from _parts(inner)
