"""One output of a job as it was issued: what its files say, read back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from export.drawing.primitives import Drawing
from export.layer_table import Layer
from parametric.shapes.panel import Edge, FlatPanel
from parametric.stock.lengths import Units

Row = Mapping[str, str]
"""A row of a table by the names of its columns."""

SetKey = tuple[str, str]
"""Name and hand of a set."""

PlaceKey = tuple[str, str, str, str]
"""Set, hand, unit and name of a part."""


class NotIssued(Exception):
    """Files that are no output of a job, or lack one that an output has; the text says which."""


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedPart:
    """A part: its line of the cut list, its panel as its files have it, bands by edge."""

    number: str
    row: Row
    panel: FlatPanel
    bands: Mapping[Edge, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedLayout:
    """A layout: its file, the stock it is cut from, how often, and what its file holds."""

    file: str
    material: str
    face_up: str
    stock: str
    runs: int
    drawing: Drawing


@dataclass(frozen=True, kw_only=True)
class Issue:
    """An output. Parts and bars are by number, rooms and their rows by room, kits by set and hand;
    `files` are digests by path, `roles` what they are for. `sheets` and `prices` are by material.
    """

    job: str
    units: Units
    revision: str
    layers: Mapping[str, Layer]
    parts: Mapping[str, IssuedPart]
    bars: Mapping[str, Row]
    places: Mapping[PlaceKey, str]
    layouts: tuple[IssuedLayout, ...]
    rooms: Mapping[str, Row]
    kits: Mapping[SetKey, Mapping[str, Row]]
    findings: tuple[Row, ...]
    sheets: Mapping[str, int]
    prices: Mapping[str, float]
    files: Mapping[str, str] = field(repr=False)
    roles: Mapping[str, str] = field(repr=False)

    @cached_property
    def places_of(self) -> Mapping[str, tuple[PlaceKey, ...]]:
        """Where each part and bar goes, by number."""
        found: dict[str, list[PlaceKey]] = {}
        for place, number in self.places.items():
            found.setdefault(number, []).append(place)
        return {number: tuple(places) for number, places in found.items()}
