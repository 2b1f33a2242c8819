"""From the pieces of sets and the schedule to what is packed for rooms, and delivered in trips."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby
from math import fsum

from casewright.job import Job, Room
from casewright.stages.models.piece_stage import part_numbers
from casewright.stages.sets.set_stage import ModelledSet, SetsOfJob
from casewright.stages.site.site_content import piece_name
from casewright.stages.store.hardware_mass import hardware_mass
from export.store.content import Delivery, PackedKind, PackedLine, Packing, SetPacking, Truck
from parametric.geometry.space import Axis
from parametric.joints.delivered import Delivered, delivered
from parametric.kit.steel import article_of, lies_loose
from parametric.lists.piece_catalogue import PieceCatalogue, SetKey
from parametric.sets.standing_plan import stands_in_plan
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg, Member, WallPlate
from parametric.stock.lengths import Units

BOX = PackedLine(
    kind=PackedKind.BOX,
    number="",
    names=("box with the kit, see the pick list",),
    count=1,
    mass_kg=0.0,
    sides_mm=(0.0, 0.0, 0.0),
)


def packing_of(job: Job, sets: SetsOfJob, pieces: PieceCatalogue) -> Packing:
    """Return what the store packs and delivers; `pieces` are those of the sets."""
    packed = {
        (each.used.sizes.name, each.used.hand): _set_packing(job, sets, each, pieces)
        for each in sets.sets
    }
    return Packing(
        job=job.name,
        sets=tuple(packed.values()),
        deliveries=tuple(_deliveries(job.rooms, packed, job.truck)),
        truck=job.truck,
    )


def _set_packing(
    job: Job, sets: SetsOfJob, each: ModelledSet, pieces: PieceCatalogue
) -> SetPacking:
    key = each.used.sizes.name, each.used.hand
    numbers, marks = part_numbers(sets, each.model), pieces.marks(key)
    lines: dict[tuple[PackedKind, str], PackedLine] = {}
    for piece in delivered(each.model.room_set.assembly):
        if not _lies_by_itself(piece.main, job):
            continue
        mark = marks[piece.main.name] if len(piece.parts) > 1 else numbers[piece.main.name]
        line = _line(piece, mark, job.units)
        known = lines.get((line.kind, mark))
        lines[line.kind, mark] = line if known is None else _as_one((known, line))
    order = list(PackedKind)
    hardware = hardware_mass(job, each.model.room_set.assembly)
    box = replace(BOX, mass_kg=hardware.box_kg)
    return SetPacking(
        set_name=key[0],
        hand=key[1],
        rooms=tuple(r.number for r in job.rooms if (r.set_name, r.hand) == key),
        lines=(*sorted(lines.values(), key=lambda line: order.index(line.kind)), box),
        fitted_kg=hardware.fitted_kg,
        unweighed=hardware.unweighed,
        stands=stands_in_plan(each.model.room_set),
    )


def _lies_by_itself(part: Board | Member, job: Job) -> bool:
    """Return whether a piece of this main part is carried by itself: steel that is small enough is
    in the box, and what somebody else brings is not packed.
    """
    if isinstance(part, Board | Cleat):
        return True
    return lies_loose(part) and article_of(part, job.units)[0] not in job.supplies.not_supplied


def _line(piece: Delivered, mark: str, units: Units) -> PackedLine:
    main = piece.main
    if isinstance(main, Board):
        kind, name = PackedKind.BOARDS, piece_name(piece)
    elif isinstance(main, Cleat):
        kind, name = PackedKind.CLEATS, main.description
    else:
        kind, (key, name) = PackedKind.STEEL, article_of(main, units)
        mark = key if isinstance(main, Leg | WallPlate) else mark
    longest, middle, shortest = sorted(map(piece.box.size, Axis), reverse=True)
    return PackedLine(
        kind=kind,
        number=mark,
        names=(name,),
        count=1,
        mass_kg=piece.mass_kg,
        bought=isinstance(main, Leg | WallPlate),
        sides_mm=(longest, middle, shortest),
    )


def _deliveries(
    rooms: Sequence[Room], packed: Mapping[SetKey, SetPacking], truck: Truck
) -> Iterator[Delivery]:
    """Yield the trips, floor by floor as the schedule has them; a floor that is too much for one
    trip takes several, each with as many of its rooms as it holds.
    """
    floors = dict.fromkeys(room.floor for room in rooms)
    for floor in floors:
        listed = [room for room in rooms if room.floor == floor]
        trips = list(_trips(listed, packed, truck))
        for number, trip in enumerate(trips, start=1):
            sets = [packed[room.set_name, room.hand] for room in trip]
            mass_kg, volume_m3 = _load(sets)
            yield Delivery(
                floor=floor,
                trip=number,
                trips=len(trips),
                rooms=tuple(room.number for room in trip),
                lines=_together(sets),
                mass_kg=mass_kg,
                volume_m3=volume_m3,
                too_much=_too_much(sets, truck),
            )


def _trips(
    rooms: Iterable[Room], packed: Mapping[SetKey, SetPacking], truck: Truck
) -> Iterator[list[Room]]:
    trip: list[Room] = []
    for room in rooms:
        more = [packed[each.set_name, each.hand] for each in (*trip, room)]
        if trip and _too_much(more, truck):
            yield trip
            trip = []
        trip.append(room)
    if trip:
        yield trip


def _load(sets: Sequence[SetPacking]) -> tuple[float, float]:
    return fsum(each.mass_kg for each in sets), fsum(each.volume_m3 for each in sets)


def _too_much(sets: Sequence[SetPacking], truck: Truck) -> bool:
    mass_kg, volume_m3 = _load(sets)
    heavy = truck.payload_kg is not None and mass_kg > truck.payload_kg
    return heavy or (truck.volume_m3 is not None and volume_m3 > truck.volume_m3)


def _together(sets: Iterable[SetPacking]) -> tuple[PackedLine, ...]:
    """Return the lines of several rooms as one list, by kind and number."""
    order = list(PackedKind)
    lines = sorted(
        (line for each in sets for line in each.lines),
        key=lambda line: (order.index(line.kind), line.number),
    )
    grouped = groupby(lines, key=lambda line: (line.kind, line.number))
    return tuple(_as_one(tuple(group)) for _, group in grouped)


def _as_one(same: Sequence[PackedLine]) -> PackedLine:
    """Return lines of one number as one, with all their names, each once."""
    first = same[0]
    boxes_differ = first.kind is PackedKind.BOX and len({line.mass_kg for line in same}) > 1
    return replace(
        first,
        names=tuple(dict.fromkeys(name for line in same for name in line.names)),
        count=sum(line.count for line in same),
        mass_kg=0.0 if boxes_differ else first.mass_kg,
    )
