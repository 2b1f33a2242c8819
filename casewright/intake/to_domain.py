"""From checked entries to the domain's own types; lengths are millimetres on both sides.

A field of the domain takes what the entry says under the same name, or under that without its
unit: `leg_mm` takes `leg`. So each thing is spelled in its schema and its type, and copied nowhere.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, fields
from typing import Any, TypeVar

from casewright.intake.catalogue_schema import MaterialEntry, StrengthEntry
from casewright.intake.entry import Entry
from casewright.intake.tolerance_schema import ToleranceEntry, tolerance
from parametric.stock.materials import (
    BoardStrength,
    PulledHead,
    PulledScrew,
    SheetMaterial,
    StockSheet,
)
from parametric.stock.origin import Origin

T = TypeVar("T")

_UNITS = ("_mm", "_deg", "_minutes")


def in_domain(kind: type[T], entry: Entry, **told: Any) -> T:
    """Return an entry as a dataclass of the domain; `told` are fields that the entry does not say,
    or says in another form.

    Raises:
        TypeError: the type has a field without default that neither says.
    """
    for field in fields(kind):  # type: ignore[arg-type]  # a dataclass, which no type says
        if field.name in told:
            continue
        name = _said(entry, field.name)
        if name is not None:
            value = getattr(entry, name)
            told[field.name] = tolerance(value) if isinstance(value, ToleranceEntry) else value
        elif field.default is MISSING:
            raise TypeError(f"{type(entry).__name__} says no {field.name} of {kind.__name__}")
    return kind(**told)


def _said(entry: Entry, field: str) -> str | None:
    """Return under which name the entry says a field; None if it does not."""
    bare = next((field.removesuffix(unit) for unit in _UNITS if field.endswith(unit)), field)
    names = type(entry).model_fields
    return next((name for name in (field, bare) if name in names), None)


def sheet_material(key: str, entry: MaterialEntry, origin: Callable[..., Origin]) -> SheetMaterial:
    """Return a board material with its stock; `origin` tells by keys where the entry says what."""
    return in_domain(
        SheetMaterial,
        entry,
        key=key,
        stock=tuple(
            in_domain(
                StockSheet,
                sheet,
                key=name,
                origin=origin("stock", name, *(() if sheet.on_hand is None else ("on_hand",))),
            )
            for name, sheet in entry.stock.items()
        ),
        strength=None if entry.strength is None else _board_strength(entry.strength),
        stock_origin=origin("stock"),
    )


def _board_strength(entry: StrengthEntry) -> BoardStrength:
    screw, head = entry.screw_face, entry.head_pull
    return in_domain(
        BoardStrength,
        entry,
        screw=None if screw is None else in_domain(PulledScrew, screw),
        head=None if head is None else in_domain(PulledHead, head, diameter_mm=head.head),
    )
