"""The ranges of the schema within which sizes of a set may lie."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args, get_type_hints

from casewright.intake.entry import Entry, LengthIn
from casewright.intake.set_schema import SetEntry


def size_ranges_mm() -> dict[tuple[str, ...], tuple[float, float]]:
    """Return the least and the most of each length of a set by its keys, unit and size."""
    return dict(_ranges((), SetEntry))


def _ranges(
    keys: tuple[str, ...], entry: type[Entry]
) -> Iterator[tuple[tuple[str, ...], tuple[float, float]]]:
    for name, hint in get_type_hints(entry, include_extras=True).items():
        for part in _parts(hint):
            if isinstance(part, LengthIn):
                yield (*keys, name), (part.least_mm, part.most_mm)
            elif isinstance(part, type) and issubclass(part, Entry):
                yield from _ranges((*keys, name), part)


def _parts(hint: Any) -> Iterator[Any]:
    yield hint
    for inner in (*get_args(hint), *getattr(hint, "__metadata__", ())):
        yield from _parts(inner)
