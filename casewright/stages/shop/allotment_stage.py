"""Which physical part goes to which room: sheets in the order they are cut, parts as on the router.

The order is that of the cut files: the nests of the job, the layouts of a nest, the runs of a
layout, or sheet by sheet so that rooms get whole one after the other; on each sheet it is the order
in which its DXF has the parts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from casewright.job import CutInOrderOf, Machine, Room
from casewright.stages.models.piece_stage import part_numbers
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.sets.set_stage import ModelledSet, SetsOfJob
from casewright.stages.shop.sheet_stage import hold_limits
from nesting.after.cut_order import cut_order
from nesting.after.run_order import runs_in_order_of_rooms
from nesting.answer.solution import Layout, Placement
from parametric.joints.delivered import delivered
from parametric.lists.allotment import Place, RoomOrder, SetKey, SetPart, allotted, places
from parametric.lists.piece_catalogue import PieceCatalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheet:
    """One physical sheet: `run` of its layout, from 1, and its parts in the order of cutting, each
    with where it goes, None for one to spare. `layout` is at place `number`, from 1, of the nest.
    """

    nest: Nest
    number: int
    layout: Layout
    run: int
    parts: tuple[tuple[Placement, Place | None], ...]


def cut_sheets(
    nests: Sequence[Nest],
    machine: Machine,
    wanted: Sequence[Place],
    in_order_of: CutInOrderOf = CutInOrderOf.LAYOUTS,
) -> tuple[CutSheet, ...]:
    """Return all sheets of the nests in the order in which they are cut."""
    limits = hold_limits(machine)
    needs = needs_of_rooms(wanted) if in_order_of is CutInOrderOf.ROOMS else ()
    ordered = [
        (nest, at, run, orders[at])
        for nest in nests
        for orders in ([cut_order(nest.instance, each, limits) for each in nest.solution.layouts],)
        for at, run in runs_of(nest.solution.layouts, needs, in_order_of)
    ]
    dealt = iter(
        allotted((placed.piece for *_, parts in ordered for placed in parts), wanted),
    )
    return tuple(
        CutSheet(
            nest=nest,
            number=at + 1,
            layout=nest.solution.layouts[at],
            run=run,
            parts=tuple((placement, next(dealt)) for placement in parts),
        )
        for nest, at, run, parts in ordered
    )


def runs_of(
    layouts: Sequence[Layout], needs: Sequence[Counter[str]], in_order_of: CutInOrderOf
) -> Iterable[tuple[int, int]]:
    """Return each sheet by the place of its layout, from 0, and the run of it, from 1."""
    match in_order_of:
        case CutInOrderOf.LAYOUTS:
            return ((at, run) for at, each in enumerate(layouts) for run in range(1, each.runs + 1))
        case CutInOrderOf.ROOMS:
            return runs_in_order_of_rooms(layouts, needs)


def needs_of_rooms(wanted: Iterable[Place]) -> tuple[Counter[str], ...]:
    """Return how often each room needs each part, in the order of the places."""
    found: dict[str, Counter[str]] = {}
    for place in wanted:
        if place.room:
            found.setdefault(place.room, Counter())[place.part.number] += 1
    return tuple(found.values())


def places_of(rooms: Iterable[Room], sets: SetsOfJob, pieces: PieceCatalogue) -> tuple[Place, ...]:
    """Return where the parts of a job are wanted, those of sheets and of bars: room by room in the
    order of the schedule, then the panels that other programs drew, under their names.
    """
    orders = (RoomOrder(room.number, (room.set_name, room.hand)) for room in rooms)
    listed = (
        (
            SetPart(name=source.name, number=source.part, unit=source.name, called=source.name),
            source.quantity,
        )
        for source in sets.drawn
    )
    return tuple(places(orders, set_parts(sets, pieces), listed))


def set_parts(sets: SetsOfJob, pieces: PieceCatalogue) -> dict[SetKey, tuple[SetPart, ...]]:
    """Return the parts of each set in use, by its name and hand, bought things left out."""
    return {
        (each.used.sizes.name, each.used.hand): tuple(_parts(sets, pieces, each))
        for each in sets.sets
    }


def _parts(sets: SetsOfJob, pieces: PieceCatalogue, each: ModelledSet) -> Iterator[SetPart]:
    key = each.used.sizes.name, each.used.hand
    joined_to, numbers = pieces.joined_to(key), part_numbers(sets, each.model)
    made = {use.board for use in sets.cut_list.uses if (use.set_name, use.hand) == key}
    made |= {name for *of, name in sets.bar_numbers if tuple(of) == key}
    for piece in delivered(each.model.room_set.assembly):
        for part in piece.parts:
            if part.name in made:
                yield SetPart(
                    name=part.name,
                    number=numbers[part.name],
                    unit=part.unit,
                    called=part.description.removeprefix(f"{part.unit} "),
                    piece=joined_to.get(part.name, ""),
                )
