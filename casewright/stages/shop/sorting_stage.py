"""From sheets as they are cut to the carts that their parts go on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from casewright.job import CartFor, CutInOrderOf, Job
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.allotment_stage import (
    CutSheet,
    cut_sheets,
    needs_of_rooms,
    places_of,
    runs_of,
)
from casewright.stages.shop.sheet_stage import nest_folder
from export.file_paths import safe_names, sheet_name
from export.shop.sorting import Scattered, SortedPart, SortedSheet, SortingPlan
from nesting.after.run_order import rooms_open
from parametric.lists.allotment import Place
from parametric.lists.piece_catalogue import PieceCatalogue

SPARE = "spare"
STOCK = "panels of a list"


def sorting_plan(
    job: Job, sets: SetsOfJob, pieces: PieceCatalogue, nests: tuple[Nest, ...]
) -> SortingPlan:
    """Return which part goes on which cart; `pieces` are those of the sets."""
    wanted = places_of(job.rooms, sets, pieces)
    sheets = cut_sheets(nests, job.machine, wanted, job.cut_in_order_of)
    names = safe_names(nest.group.material.key for nest in nests)
    floors = {room.number: room.floor for room in job.rooms}
    carts = job.sorting or (CartFor.FLOOR if any(floors.values()) else CartFor.ROOM)
    return SortingPlan(
        job=job.name,
        by=carts.value,
        cart_holds_kg=job.cart_holds_kg,
        sheets=tuple(_sheet(sheet, names, floors, carts) for sheet in sheets),
        scattered=tuple(_scattered(job, nests, names, needs_of_rooms(wanted))),
        masses_kg={part.number: part.mass_kg for part in sets.cut_list.parts},
    )


def _scattered(
    job: Job, nests: Iterable[Nest], names: dict[str, str], needs: Sequence[Counter[str]]
) -> Iterator[Scattered]:
    """Yield how scattered the rooms of each nest are in either order of cutting."""
    for nest in nests:
        layouts = nest.solution.layouts
        rooms = sum(1 for room in needs if any(room[piece.id] for piece in nest.instance.pieces))
        for order in CutInOrderOf:
            places = [at for at, _ in runs_of(layouts, needs, order)]
            one_by_one = [replace(layouts[at], runs=1) for at in places]
            yield Scattered(
                material=nest_folder(nest, names),
                sheets=len(places),
                rooms=rooms,
                order=order.value,
                used=order is job.cut_in_order_of,
                begun=rooms_open(one_by_one, needs)[0],
                loaded=sum(1 for _ in groupby(places)),
            )


def _sheet(
    sheet: CutSheet, names: dict[str, str], floors: dict[str, str], carts: CartFor
) -> SortedSheet:
    return SortedSheet(
        sheet=sheet_name(nest_folder(sheet.nest, names), sheet.number),
        run=sheet.run,
        parts=tuple(_parts(sheet, floors, carts)),
    )


def _parts(sheet: CutSheet, floors: dict[str, str], carts: CartFor) -> Iterator[SortedPart]:
    for placement, place in sheet.parts:
        yield SortedPart(
            number=placement.piece,
            cart=_cart(place, floors, carts),
            room="" if place is None else place.room,
            unit="" if place is None else place.part.unit,
            name="" if place is None else place.part.called,
            piece="" if place is None else place.part.piece,
        )


def _cart(place: Place | None, floors: dict[str, str], carts: CartFor) -> str:
    if place is None:
        return SPARE
    if not place.room:
        return STOCK
    match carts:
        case CartFor.ROOM:
            return f"room {place.room}"
        case CartFor.FLOOR:
            return f"floor {floors[place.room] or 'not named'}"
        case CartFor.UNIT:
            return place.part.unit
