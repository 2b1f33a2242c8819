"""What stands in the operator's pack, apart from how it is set."""

from __future__ import annotations

from dataclasses import dataclass

from export.papers.blocks import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPage:
    """One layout: its map, and how often it is run. Rows: facts (what, value), bits (number,
    diameter, cuts, path, minutes), offcuts (rack label, size).
    """

    title: str
    below: str
    map_svg: str
    runs: int
    facts: tuple[Row, ...]
    bits: tuple[Row, ...]
    offcuts: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondOperation:
    """A part that is turned over, drawn as it then lies. Facts: what, value."""

    title: str
    picture_svg: str
    facts: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OperatorPack:
    """All of one material on one side of its sheets. Rows: stock (sheet, size, how it lies, count),
    facts (what, value), bits (number, bit, diameter, layers with depths, feed, plunge, depth at
    once), measures (part, length, width, each diagonal with tolerance, blank), sheets (number,
    stock, runs, parts, path, time of one, of all), sums (what, time), risks (part, why, sheets),
    edge bores (part, count, edge, place along it, height, hole).
    """

    job: str
    title: str
    below: str
    stock: tuple[Row, ...]
    facts: tuple[Row, ...]
    bits: tuple[Row, ...]
    not_counted: tuple[str, ...]
    order: tuple[str, ...]
    held: str
    risks: tuple[Row, ...]
    measures: tuple[Row, ...]
    measuring: str
    sheets: tuple[Row, ...]
    sums: tuple[Row, ...]
    pages: tuple[SheetPage, ...]
    turning: tuple[str, ...]
    second: tuple[SecondOperation, ...]
    edge_bores: tuple[Row, ...]
