"""The sorting plan: which part goes from the router to which cart, and how many rooms are begun."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from export.papers.blocks import Block, Head, Page, Paragraph, Row, Share, Table
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.tables.csv_text import csv_text
from parametric.stock.amounts import in_words, mass
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper

SORTING_COLUMNS = ("sheet", "run", "order", "part", "cart", "room", "unit", "name", "piece")


@dataclass(frozen=True, slots=True, kw_only=True)
class SortedPart:
    """One part as it comes off the router, and where it goes; a spare one has no room."""

    number: str
    cart: str
    room: str
    unit: str
    name: str
    piece: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SortedSheet:
    """One sheet: its layout, the run of it, and its parts in the order of cutting."""

    sheet: str
    run: int
    parts: tuple[SortedPart, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scattered:
    """How scattered the rooms of a material are when its sheets are cut in the order of something:
    how many of them are `begun` at once, at most, and how often a file is `loaded`.
    """

    material: str
    sheets: int
    rooms: int
    order: str
    used: bool
    begun: int
    loaded: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SortingPlan:
    """All sheets in the order of cutting; `masses_kg` are of a part by its number. `by` says what a
    cart is for, `cart_holds_kg` what one holds, None where nobody said so.
    """

    job: str
    by: str
    sheets: tuple[SortedSheet, ...]
    scattered: tuple[Scattered, ...]
    masses_kg: dict[str, float]
    cart_holds_kg: float | None = None


def sorting_csv(plan: SortingPlan) -> str:
    """Return a row for each part in the order of cutting."""
    return csv_text(
        SORTING_COLUMNS,
        (
            (s.sheet, s.run, order, p.number, p.cart, p.room, p.unit, p.name, p.piece)
            for s in plan.sheets
            for order, p in enumerate(s.parts, start=1)
        ),
    )


def sorting_source(plan: SortingPlan, units: Units, paper: Paper) -> Source:
    """Return what each cart gets, and for each sheet which of its parts goes on which cart."""
    blocks: tuple[Block, ...] = (
        Head(title="Sorting plan", below=f"a cart for each {plan.by}"),
        Paragraph(
            "Sheets are cut in this order; all parts of a number are alike, and the first one cut"
            " goes to the first room of the schedule that needs it. The job says whether all runs"
            " of a layout follow each other or sheets are cut room by room: a table below has both."
        ),
        Table(
            heads=("cart", "rooms", "parts", "mass", "first sheet", "last sheet"),
            widths=(Share(), 16.0, 16.0, 24.0, Share(1.3), Share(1.3)),
            rows=tuple(_cart_rows(plan, units)),
            right=(1, 2, 3),
        ),
        *_too_much(plan, units),
        Table(
            heads=(
                "material",
                "sheets",
                "rooms",
                "cut in order of",
                "begun at once",
                "files loaded",
            ),
            widths=(Share(), 16.0, 16.0, 44.0, 28.0, 24.0),
            rows=tuple(map(_scattered, plan.scattered)),
            title="Rooms begun and not yet whole, at most, counted for each material by itself",
            right=(1, 2, 4, 5),
        ),
        Table(
            heads=("sheet", "run", "onto which cart, in the order of cutting"),
            widths=(46.0, 12.0, Share()),
            rows=tuple((s.sheet, str(s.run), _onto(s.parts)) for s in plan.sheets),
            title="Sheet by sheet",
            right=(1,),
        ),
    )
    return document(page_format(paper), plan.job, (Page(blocks=blocks),))


def _scattered(each: Scattered) -> Row:
    order = f"{each.order}, as here" if each.used else f"{each.order}, if so asked"
    counts = (each.sheets, each.rooms, each.begun)
    sheets, rooms, begun = map(str, counts)
    return each.material, sheets, rooms, order, begun, str(each.loaded)


def _by_cart(plan: SortingPlan) -> dict[str, list[tuple[SortedSheet, SortedPart]]]:
    """Return what goes on each cart, in the order of cutting."""
    listed: dict[str, list[tuple[SortedSheet, SortedPart]]] = {}
    for sheet in plan.sheets:
        for part in sheet.parts:
            listed.setdefault(part.cart, []).append((sheet, part))
    return dict(sorted(listed.items()))


def _mass_kg(plan: SortingPlan, parts: Sequence[tuple[SortedSheet, SortedPart]]) -> float:
    return math.fsum(plan.masses_kg[part.number] for _, part in parts)


def _too_much(plan: SortingPlan, units: Units) -> Iterator[Paragraph]:
    """Yield which of these are more than one cart holds, and how many they take at least."""
    most_kg = plan.cart_holds_kg
    if most_kg is None:
        return
    masses = {cart: _mass_kg(plan, parts) for cart, parts in _by_cart(plan).items()}
    heavy = [
        f"{cart} ({math.ceil(kilograms / most_kg)} carts)"
        for cart, kilograms in masses.items()
        if kilograms > most_kg
    ]
    if heavy:
        yield Paragraph(
            f"A cart holds {in_words(mass(most_kg), units)}. More than that is for"
            f" {', '.join(heavy)}, counted by mass alone."
        )


def _cart_rows(plan: SortingPlan, units: Units) -> Iterator[Row]:
    for cart, parts in _by_cart(plan).items():
        rooms = {part.room for _, part in parts if part.room}
        ends = (parts[0][0], parts[-1][0])
        yield (
            cart,
            str(len(rooms)),
            str(len(parts)),
            in_words(mass(_mass_kg(plan, parts)), units),
            *(f"{sheet.sheet}, run {sheet.run}" for sheet in ends),
        )


def _onto(parts: Sequence[SortedPart]) -> str:
    """Return the parts of a sheet in words, those that follow each other onto one cart together."""
    told: list[tuple[str, list[str]]] = []
    for part in parts:
        if not told or told[-1][0] != part.cart:
            told.append((part.cart, []))
        told[-1][1].append(part.number)
    return "; ".join(f"{cart}: {', '.join(numbers)}" for cart, numbers in told)
